/** The breaths of an ensemble in one exercise: together or by turns, a list of marks for every copy. */

import { good, type Issue, type Result, warning } from '../base/issue.js';
import { zip } from '../base/list.js';
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
import { type Copy, copiesOfChair } from './ensemble-book.js';
import { type PlayedPart, partLine } from './part-lines.js';

export type CopyBreathing = { readonly marks: readonly BreathMark[]; readonly lung: LungTime; readonly tempo: Beats };

/** `breathing` is undefined for a player without breath, and where nothing could be planned. */
export type BreathedCopy = { readonly copy: Copy; readonly breathing: CopyBreathing | undefined };

/** A part with its copies. */
export type BreathedPart = PlayedPart & { readonly copies: readonly BreathedCopy[] };

/** Tempo at which the ensemble's breaths are planned; undefined where neither ensemble nor exercise names one. */
export function breathTempo(exercise: Exercise, { breathing }: Ensemble): Beats | undefined {
  return namedTempo(exercise, breathing.tempo ?? exercise.tempo?.from);
}

function airOfChair({ breather }: Chair, line: Line): LungTime | undefined {
  const air = airFor(line, inTimeFor(breather));
  return air.ok ? air.value : undefined;
}

/** Somebody who breathes: the reader of one copy. */
type Breathes = BreathingPlayer & { readonly copy: Copy; readonly part: PlayedPart };

/** Breaths by the copy's id; no entry for copies without any. */
type Breaths = ReadonlyMap<string, CopyBreathing>;

/** The line whose notes end where the notes of all parts end: whatever any part holds is held. */
function commonLine(exercise: Exercise, parts: readonly PlayedPart[]): Line | undefined {
  const held = [...new Set(parts.flatMap(({ plan }) => plan.held))];
  const reader = parts.find(({ plan }) => held.every((id) => plan.held.includes(id))) ?? parts[0];
  const line = reader && partLine(exercise, { chair: reader.chair, plan: { ...reader.plan, held } });
  return line?.ok ? line.value : undefined;
}

const asWarnings = (issues: readonly Issue[]): Issue[] => issues.map((issue) => ({ ...issue, severity: 'warning' }));

function together(exercise: Exercise, players: readonly Breathes[], tempo: Beats): Result<Breaths> {
  const common = commonLine(exercise, [...new Set(players.map(({ part }) => part))]);
  const found = common && breatheTogether(players, common, tempo);
  if (!found?.ok) return good(new Map(), asWarnings(found?.issues ?? []));
  const lung = commonLung(players.map((player) => player.lung));
  return good(new Map(zip(players, found.value).map(([{ copy }, marks]) => [copy.id, { marks, lung, tempo }])), found.issues);
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

/** Lists of what has the same key, in the order in which the keys are met. */
function grouped<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return groups;
}

function byTurns(exercise: Exercise, ensemble: Ensemble, players: readonly Breathes[], tempo: Beats): Result<Breaths> {
  const breaths = new Map<string, CopyBreathing>();
  const troubles: { readonly kind: Trouble; readonly group: string }[] = [];
  for (const [group, members] of grouped(players, ({ part }) => part.chair.group)) {
    const found = breatheByTurns(members, tempo);
    if (typeof found === 'string') {
      troubles.push({ kind: found, group });
      continue;
    }
    if (found.sharing > 1) troubles.push({ kind: 'places-shared', group });
    for (const [{ copy, lung }, marks] of zip(members, found.marks)) breaths.set(copy.id, { marks, lung, tempo });
  }
  const issues = [...new Set(troubles.map(({ kind }) => kind))].map((kind) => {
    const names = troubles.filter((one) => one.kind === kind).map(({ group }) => groupName(ensemble, group));
    return warning(kind, [], troubleWords(kind, names, exercise, tempo));
  });
  return good(breaths, issues);
}

/** The parts with their copies. Where breaths cannot be planned there are none, and a warning says why. */
export function breatheParts(exercise: Exercise, ensemble: Ensemble, parts: readonly PlayedPart[]): Result<readonly BreathedPart[]> {
  const tempo = breathTempo(exercise, ensemble);
  const players = parts.flatMap((part): Breathes[] => {
    const lung = airOfChair(part.chair, part.line);
    return lung ? copiesOfChair(part.chair, ensemble).map((copy) => ({ line: part.line, lung, copy, part })) : [];
  });
  const { plan } = ensemble.breathing;
  let found: Result<Breaths> = good(new Map());
  if (tempo && players.length > 0 && plan === 'together') found = together(exercise, players, tempo);
  if (tempo && players.length > 0 && plan === 'staggered') found = byTurns(exercise, ensemble, players, tempo);
  if (!found.ok) return found;
  const breaths = found.value;
  const breathed = parts.map((part): BreathedPart => {
    const copies = copiesOfChair(part.chair, ensemble);
    return { ...part, copies: copies.map((copy) => ({ copy, breathing: breaths.get(copy.id) })) };
  });
  return good(breathed, found.issues);
}
