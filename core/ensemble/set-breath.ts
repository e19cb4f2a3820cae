/** The breaths of a set in one exercise: together or by turns, a list of marks for every copy. */
import type { BreathMark } from '../breath/ladder.js';
import { type LungTime, lungTime } from '../breath/lung-time.js';
import type { Beats } from '../breath/tempo.js';
import type { Exercise } from '../exercise/exercise.js';
import { good, type Issue, type Result } from '../issue.js';
import type { Line } from '../player/line.js';
import { tempoBeat } from '../theory/metre.js';
import type { Ensemble } from './ensemble.js';
import type { Breathing } from './runner.js';
import type { Copy } from './set.js';
import { partLine } from './set-lines.js';
import type { SetPlan } from './set-plan.js';
import { breatheTogether, commonLung } from './together.js';
import { breatheByTurns } from './turns.js';

export type CopyBreathing = { readonly marks: readonly BreathMark[]; readonly lung: LungTime; readonly tempo: Beats };

/** Tempo at which the set's breaths are planned; undefined where neither ensemble nor exercise names one. */
export function breathTempo(exercise: Exercise, { breathing }: Ensemble): Beats | undefined {
  const beat = exercise.tempo?.beat ?? tempoBeat(exercise.metre);
  const bpm = breathing.tempo ?? exercise.tempo?.from;
  return bpm === undefined ? undefined : { beat, bpm };
}

function lungOf(ensemble: Ensemble, chair: number, exercise: Exercise): LungTime | undefined {
  const { breather, player } = ensemble.chairs[chair] as Ensemble['chairs'][number];
  const { dynamic } = exercise;
  const found = lungTime(breather, player.instrument, dynamic ? { dynamic } : {});
  return found.ok ? found.value : undefined;
}

/** The line whose notes end where the notes of all parts end: whatever any part holds is held. */
function commonLine(exercise: Exercise, ensemble: Ensemble, plan: SetPlan, breathing: readonly number[]): Line | undefined {
  const held = [...new Set(breathing.flatMap((chair) => plan.parts[chair]?.held ?? []))];
  const reader = breathing.find((chair) => held.every((id) => plan.parts[chair]?.held.includes(id))) ?? breathing[0];
  if (reader === undefined) return undefined;
  const part = plan.parts[reader] as SetPlan['parts'][number];
  const line = partLine(exercise, (ensemble.chairs[reader] as Ensemble['chairs'][number]).player, plan, { ...part, held });
  return line.ok ? line.value : undefined;
}

const asWarnings = (issues: readonly Issue[]): Issue[] => issues.map((issue) => ({ ...issue, severity: 'warning' }));

/**
 * By copy; undefined for those who play without breath, and for all where nothing could be planned: then a warning says
 * why. `lines` are those of the chairs.
 */
export function breatheSet(
  exercise: Exercise,
  ensemble: Ensemble,
  plan: SetPlan,
  lines: readonly Line[],
  copies: readonly Copy[],
): Result<readonly (CopyBreathing | undefined)[]> {
  const nothing = copies.map(() => undefined);
  const tempo = breathTempo(exercise, ensemble);
  if (ensemble.breathing.plan === 'none' || !tempo) return good(nothing);
  const players = copies.map(({ chair }): Breathing | undefined => {
    const lung = lungOf(ensemble, chair, exercise);
    return lung && { line: lines[chair] as Line, lung };
  });
  const breathing = copies.flatMap((_, i) => (players[i] ? [i] : []));
  if (breathing.length === 0) return good(nothing);
  const out: (CopyBreathing | undefined)[] = [...nothing];
  if (ensemble.breathing.plan === 'together') {
    const all = breathing.map((i) => players[i] as Breathing);
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
  const issues: Issue[] = [];
  const groups = new Map<string, number[]>();
  for (const i of breathing) {
    const { group } = ensemble.chairs[(copies[i] as Copy).chair] as Ensemble['chairs'][number];
    groups.set(group, [...(groups.get(group) ?? []), i]);
  }
  for (const [group, members] of groups) {
    const found = breatheByTurns(
      members.map((i) => players[i] as Breathing),
      tempo,
      `the group "${group}"`,
    );
    issues.push(...asWarnings(found.issues));
    if (!found.ok) continue;
    members.forEach((i, k) => {
      out[i] = { marks: found.value.marks[k] as readonly BreathMark[], lung: (players[i] as Breathing).lung, tempo };
    });
  }
  return good(out, issues);
}
