/**
 * One exercise for a whole ensemble: the same keys in the same order for all, each key playable by all or dealt with for all.
 * The plan is plain data, small enough to be sent from one thread to another; lines are made from it part by part.
 */

import { bad, error, good, type Issue, note, type Result } from '../base/issue.js';
import type { Exercise, Level } from '../exercise/exercise.js';
import { keyId, planRoute, type Route } from '../exercise/route.js';
import { distanceWords, fitKey, type KeyFit, listText, printedKey, type Sung, spanOf, sungTones, turnings } from '../player/fit.js';
import type { Player } from '../player/player.js';
import { firstChroma } from '../player/realise.js';
import { placements } from '../player/register-plan.js';
import type { ConcertKey } from '../theory/key.js';
import { keysAtChroma, keyText } from '../theory/key.js';
import { chroma, midi, type PitchClass } from '../theory/pitch.js';
import type { Bond, Chair, Remedy } from './ensemble.js';
import { holdIssue } from './held-root.js';
import { planRegisters } from './part-registers.js';

/** What one part does in the plan. */
export type PartPlan = {
  /** MIDI key number of the written root of each statement. */
  readonly roots: readonly number[];
  /** Ids of the keys in which the part holds the root instead of playing the figure. */
  readonly held: readonly string[];
  /** Level whose compass the part takes for this exercise, where the exercise's remedy is another level. */
  readonly level: Level | undefined;
};

export type ExercisePlan = {
  /** Chroma above concert C of the first key. */
  readonly from: number;
  /** Ids of the keys that nobody plays. */
  readonly leftOut: readonly string[];
  /** The figure as all play it in keys where it turns at a limit, by key id. */
  readonly turned: Readonly<Record<string, readonly Sung[]>>;
  /** By chair, in the order of the chairs. */
  readonly parts: readonly PartPlan[];
  /** Sentences for every part and the score: what was left out or turned for all, and why. */
  readonly notes: readonly string[];
};

export type EnsembleChoices = { readonly remedy: Remedy; readonly start: PitchClass | undefined; readonly bonds: readonly Bond[] };

/** Concert name of a key: fewest signs, flats before sharps. */
export function concertKeyText(exercise: Exercise, key: ConcertKey): string {
  const printed = printedKey(exercise, key);
  const [name] = keysAtChroma(printed.chroma, printed.mode);
  return name ? keyText(name) : '';
}

/** The route of the ensemble in concert pitch, without the keys that are left out. */
export const commonRoute = (exercise: Exercise, plan: Pick<ExercisePlan, 'from' | 'leftOut'>): Route =>
  planRoute(exercise, plan.from, new Set(plan.leftOut));

/** The player as the plan has him: with the compass of another level if that is the exercise's remedy. */
export const plannedPlayer = (player: Player, { level }: Pick<PartPlan, 'level'>): Player =>
  level ? { ...player, compass: player.instrument.compass[level] } : player;

type Fits = { readonly chair: Chair; readonly player: Player; readonly level: Level | undefined; readonly byKey: Map<string, KeyFit> };

function fitsOf(exercise: Exercise, chair: Chair, keys: readonly ConcertKey[]): Fits {
  const fitAll = (player: Player) => new Map(keys.map((key) => [keyId(key), fitKey(exercise, key, player)]));
  const byKey = fitAll(chair.player);
  const { misfit } = exercise;
  if (misfit.kind !== 'level' || [...byKey.values()].every((fit) => fit.options.length > 0))
    return { chair, player: chair.player, level: undefined, byKey };
  const player = plannedPlayer(chair.player, misfit);
  return { chair, player, level: misfit.level, byKey: fitAll(player) };
}

const lacks = (fits: Fits, key: ConcertKey): boolean => fits.byKey.get(keyId(key))?.options.length === 0;

/** `Tuba cannot play it in E and A`, for each chair that has a misfit. */
function whoLacks(exercise: Exercise, all: readonly Fits[], keys: readonly ConcertKey[]): string {
  const words = all.flatMap((fits) => {
    const own = keys.filter((key) => lacks(fits, key));
    return own.length > 0 ? [`${fits.chair.name} in ${listText(own.map((key) => concertKeyText(exercise, key)))}`] : [];
  });
  return listText(words);
}

function tooWide(exercise: Exercise, all: readonly Fits[], keys: readonly ConcertKey[], remedy: string): Issue {
  const span = spanOf(sungTones(exercise, keys[0]?.mode ?? 'major'));
  return error(
    'set-does-not-fit',
    ['figure'],
    `The exercise "${exercise.title || exercise.id}" needs ${distanceWords(span.high - span.low)} and does not fit, in concert keys: ${whoLacks(exercise, all, keys)}. ${remedy}`,
  );
}

const ASK = 'Set the ensemble’s "misfit" to "leave-out", "turn" or "hold-root", or give these chairs a wider compass.';

/** A turned form of the figure that every chair can place, with the fewest changed notes; undefined if there is none. */
function commonTurn(exercise: Exercise, key: ConcertKey, all: readonly Fits[]): readonly Sung[] | undefined {
  const found = all
    .filter((fits) => lacks(fits, key))
    .flatMap(({ byKey, player }) => turnings(exercise, byKey.get(keyId(key)) as KeyFit, player));
  found.sort((a, b) => a.changed - b.changed);
  return found.find(({ option }) =>
    all.every(({ byKey, player }) => placed(option.tones, byKey.get(keyId(key)) as KeyFit, player).length > 0),
  )?.option.tones;
}

const placed = (tones: readonly Sung[], fit: KeyFit, player: Player) =>
  placements(
    fit.writtenKey.tonic,
    tones.flatMap((tone) => (tone ? [tone.interval] : [])),
    player.compass,
  );

type Dealt = {
  readonly leftOut: string[];
  readonly turned: Record<string, readonly Sung[]>;
  readonly held: Map<Fits, string[]>;
  readonly notes: string[];
};

/** Applies the remedy to the keys that some chair cannot play. */
function deal(
  exercise: Exercise,
  all: readonly Fits[],
  misfits: readonly ConcertKey[],
  keys: readonly ConcertKey[],
  remedy: Remedy,
): Result<Dealt> {
  const dealt: Dealt = { leftOut: [], turned: {}, held: new Map(), notes: [] };
  if (misfits.length === 0) return good(dealt);
  const names = (some: readonly ConcertKey[]) => listText(some.map((key) => concertKeyText(exercise, key)));
  const { kind } = exercise.misfit;
  const wanted = remedy !== 'as-written' ? remedy : kind === 'leave-out' || kind === 'turn' ? kind : undefined;
  const fail = (words: string, some = misfits) => bad<Dealt>(tooWide(exercise, all, some, words));
  if (!wanted) return fail(ASK);

  function leaveOut(some: readonly ConcertKey[]): void {
    dealt.leftOut.push(...some.map(keyId));
    dealt.notes.push(`Left out by all: concert ${names(some)} (the figure does not fit: ${whoLacks(exercise, all, some)}).`);
  }
  if (wanted === 'leave-out') {
    if (misfits.length === keys.length)
      return fail('No key is left that all chairs can play: choose another "misfit", or give these chairs a wider compass.');
    leaveOut(misfits);
    return good(dealt);
  }
  if (wanted === 'turn') {
    const still: ConcertKey[] = [];
    for (const key of misfits) {
      const tones = commonTurn(exercise, key, all);
      if (tones) dealt.turned[keyId(key)] = tones;
      else still.push(key);
    }
    if (still.length > 0)
      return fail('No turned form of the figure fits all chairs: choose "leave-out" or "hold-root" as the ensemble’s "misfit".', still);
    dealt.notes.push(`In concert ${names(misfits)} the figure turns back for all (its limit: ${whoLacks(exercise, all, misfits)}).`);
    return good(dealt);
  }
  const holding = new Map<string, string[]>();
  const nobody = misfits.filter((key) => all.every((fits) => lacks(fits, key)));
  if (nobody.length === keys.length) return fail('No chair can play it in any key: give the chairs a wider compass.');
  if (nobody.length > 0) leaveOut(nobody);
  for (const fits of all) {
    const own = misfits.filter((key) => !nobody.includes(key) && lacks(fits, key));
    if (own.length === 0) continue;
    const issue = holdIssue(
      exercise,
      fits.chair.name,
      own.map((key) => fits.byKey.get(keyId(key)) as KeyFit),
      fits.player,
    );
    if (issue) return bad(issue);
    dealt.held.set(fits, own.map(keyId));
    const where = names(own);
    holding.set(where, [...(holding.get(where) ?? []), fits.chair.name]);
  }
  // One sentence for all that hold in the same keys, and one note: a large band would fill its pages with them.
  const held = [...holding].map(([where, who]) => `${listText(who)} ${who.length === 1 ? 'holds' : 'hold'} the root in concert ${where}.`);
  if (held.length > 0) dealt.notes.push(held.join(' '));
  return good(dealt);
}

/** Chroma above concert C that the ensemble begins on. */
function startOf(exercise: Exercise, chairs: readonly Chair[], start: PitchClass | undefined): number {
  if (exercise.start.kind !== 'concert' && start) return chroma(start);
  return firstChroma(exercise, (chairs[0] as Chair).player);
}

/**
 * Plans an exercise for the chairs. Issues: `set-does-not-fit` or `root-cannot-be-held` at ['figure'] when the remedy does
 * not help; note `set-changed` when it changed the exercise; warning `bond-broken` where chairs cannot stay together.
 */
export function planExercise(exercise: Exercise, chairs: readonly Chair[], options: EnsembleChoices): Result<ExercisePlan> {
  const from = startOf(exercise, chairs, options.start);
  const keys = [...new Map(planRoute(exercise, from).statements.map(({ key }) => [keyId(key), key])).values()];
  const all = chairs.map((chair) => fitsOf(exercise, chair, keys));
  const misfits = keys.filter((key) => all.some((fits) => lacks(fits, key)));
  const dealt = deal(exercise, all, misfits, keys, options.remedy);
  if (!dealt.ok) return dealt;
  const { leftOut, turned, held, notes } = dealt.value;
  const route = commonRoute(exercise, { from, leftOut });
  const parts = all.map((fits) => {
    const holds = held.get(fits) ?? [];
    const stops = route.statements.map((statement) => {
      const id = keyId(statement.key);
      const fit = fits.byKey.get(id) as KeyFit;
      const tones = holds.includes(id) ? ROOT : (turned[id] ?? sungTones(exercise, statement.key.mode));
      return { statement, options: placed(tones, fit, fits.player).map((root) => ({ root, tones })) };
    });
    return { chair: fits.chair, player: fits.player, stops, holds, level: fits.level };
  });
  const registers = planRegisters(exercise, parts, options.bonds);
  const told: Issue[] = notes.map((words) => note('set-changed', [], `"${exercise.title || exercise.id}": ${words}`));
  const plan: ExercisePlan = {
    from,
    leftOut,
    turned,
    notes,
    parts: parts.map(({ holds, level }, c) => ({ roots: (registers.roots[c] ?? []).map(midi), held: holds, level })),
  };
  return good(plan, [...told, ...registers.issues]);
}

const ROOT: readonly Sung[] = [{ interval: { steps: 0, semitones: 0 }, degree: '1' }];
