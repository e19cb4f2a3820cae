/** The breaths of an ensemble in one exercise: together or by turns, a list of marks for every copy. */

import { good, type Issue, type Result, warning } from '../base/issue.js';
import { at } from '../base/list.js';
import type { BreathMark } from '../breath/ladder.js';
import type { LungTime } from '../breath/lung-time.js';
import { airFor, inTimeFor } from '../breath/policy.js';
import type { Exercise } from '../exercise/exercise.js';
import { type Beats, namedTempo, tempoText } from '../exercise/tempo.js';
import { listText } from '../player/fit.js';
import type { Line } from '../player/line.js';
import type { BreathingPlayer } from './air-timeline.js';
import { breatheByTurns, type TurnsFault } from './breathe-by-turns.js';
import { breatheTogether, commonLung } from './breathe-together.js';
import type { Chair, Ensemble } from './ensemble.js';
import type { Copy } from './ensemble-book.js';
import type { ExercisePlan } from './exercise-plan.js';
import { partLine } from './part-lines.js';

export type CopyBreathing = { readonly marks: readonly BreathMark[]; readonly lung: LungTime; readonly tempo: Beats };

/** Tempo at which the ensemble's breaths are planned; undefined where neither ensemble nor exercise names one. */
export function breathTempo(exercise: Exercise, { breathing }: Ensemble): Beats | undefined {
  return namedTempo(exercise, breathing.tempo ?? exercise.tempo?.from);
}

function airOfChair(chair: Chair, line: Line): LungTime | undefined {
  const air = airFor(line, inTimeFor(chair.breather));
  return air.ok ? air.value : undefined;
}

/** The line whose notes end where the notes of all parts end: whatever any part holds is held. */
function commonLine(exercise: Exercise, ensemble: Ensemble, plan: ExercisePlan, breathing: readonly number[]): Line | undefined {
  const held = [...new Set(breathing.flatMap((chair) => plan.parts[chair]?.held ?? []))];
  const reader = breathing.find((chair) => held.every((id) => plan.parts[chair]?.held.includes(id))) ?? breathing[0];
  if (reader === undefined) return undefined;
  const part = plan.parts[reader] as ExercisePlan['parts'][number];
  const line = partLine(exercise, (ensemble.chairs[reader] as Ensemble['chairs'][number]).player, plan, { ...part, held });
  return line.ok ? line.value : undefined;
}

type Trouble = TurnsFault | 'places-shared';

/** A group as a sentence names it: chairs that name none are called after their instrument. */
function groupName({ chairs }: Ensemble, group: string): string {
  const chair = chairs.find((one) => one.group === group);
  return chair && chair.player.instrument.id === group ? chair.player.instrument.name : group;
}

/** One sentence for all groups that have the same trouble. */
function troubleWords(kind: Trouble, groups: readonly string[], exercise: Exercise, tempo: Beats): string {
  const where = `In "${exercise.title || exercise.id}" at ${tempoText(tempo)}`;
  const names = listText(groups);
  switch (kind) {
    case 'air-runs-out':
      return `${where} the air of some players runs out wherever they breathe, so these groups have no marks: ${names}. Choose a faster tempo, or state longer lungs under "breath".`;
    case 'too-few-places':
      return `${where} there are too few places to breathe by turns, so these groups have no marks: ${names}. Choose a faster tempo, smaller groups, or "together".`;
    case 'places-shared':
      return `${where} there are too few places for all, so some players of these groups breathe together, never all at once: ${names}. Choose a faster tempo, or smaller groups.`;
  }
}

const asWarnings = (issues: readonly Issue[]): Issue[] => issues.map((issue) => ({ ...issue, severity: 'warning' }));

/**
 * By copy; undefined for those who play without breath, and for all where nothing could be planned: then a warning says
 * why. `lines` are those of the chairs.
 */
export function breatheParts(
  exercise: Exercise,
  ensemble: Ensemble,
  plan: ExercisePlan,
  lines: readonly Line[],
  copies: readonly Copy[],
): Result<readonly (CopyBreathing | undefined)[]> {
  const nothing = copies.map(() => undefined);
  const tempo = breathTempo(exercise, ensemble);
  if (ensemble.breathing.plan === 'none' || !tempo) return good(nothing);
  const players = copies.map(({ chair }): BreathingPlayer | undefined => {
    const line = at(lines, chair);
    const lung = airOfChair(at(ensemble.chairs, chair), line);
    return lung && { line, lung };
  });
  const breathing = copies.flatMap((_, i) => (players[i] ? [i] : []));
  if (breathing.length === 0) return good(nothing);
  const out: (CopyBreathing | undefined)[] = [...nothing];
  if (ensemble.breathing.plan === 'together') {
    const all = breathing.map((i) => players[i] as BreathingPlayer);
    const chairs = [...new Set(breathing.map((i) => (copies[i] as Copy).chair))];
    const common = commonLine(exercise, ensemble, plan, chairs);
    const found = common && breatheTogether(all, common, tempo);
    if (!found?.ok) return good(nothing, asWarnings(found?.issues ?? []));
    const lung = commonLung(all.map((one) => one.lung));
    breathing.forEach((i, k) => {
      out[i] = { marks: found.value[k] as readonly BreathMark[], lung, tempo };
    });
    return good(out, found.issues);
  }
  const groups = new Map<string, number[]>();
  for (const i of breathing) {
    const { group } = ensemble.chairs[(copies[i] as Copy).chair] as Ensemble['chairs'][number];
    groups.set(group, [...(groups.get(group) ?? []), i]);
  }
  const troubles = new Map<Trouble, string[]>();
  const trouble = (kind: Trouble, group: string) => troubles.set(kind, [...(troubles.get(kind) ?? []), groupName(ensemble, group)]);
  for (const [group, members] of groups) {
    const found = breatheByTurns(
      members.map((i) => players[i] as BreathingPlayer),
      tempo,
    );
    if (typeof found === 'string') {
      trouble(found, group);
      continue;
    }
    if (found.sharing > 1) trouble('places-shared', group);
    members.forEach((i, k) => {
      out[i] = { marks: found.marks[k] as readonly BreathMark[], lung: (players[i] as BreathingPlayer).lung, tempo };
    });
  }
  const issues = [...troubles].map(([kind, names]) => warning(kind, [], troubleWords(kind, names, exercise, tempo)));
  return good(out, issues);
}
