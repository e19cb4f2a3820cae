/** Keys of an exercise that some chair cannot play, and what is done about them for all chairs. */

import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import { mustGet } from '../base/list.js';
import type { Exercise, Level } from '../exercise/exercise.js';
import { keyId } from '../exercise/route.js';
import { distanceWords, fitKey, type KeyFit, listText, printedKey, type Sung, spanOf, sungTones, turnings } from '../player/fit.js';
import type { Player } from '../player/player.js';
import { placements } from '../player/register-plan.js';
import type { ConcertKey } from '../theory/key.js';
import { keysAtChroma, keyText } from '../theory/key.js';
import type { Pitch } from '../theory/pitch.js';
import type { Chair, Remedy } from './ensemble.js';
import { holdIssue } from './held-root.js';
import { plannedPlayer } from './part-plan.js';

/** How a chair fits each key of an exercise. */
export type ChairFit = {
  readonly chair: Chair;
  /** With the compass of another level where the exercise's remedy is that. */
  readonly player: Player;
  readonly level: Level | undefined;
  /** By key id. */
  readonly byKey: ReadonlyMap<string, KeyFit>;
};

/** An exercise in its concert keys, for all chairs. */
export type ExerciseFit = {
  readonly exercise: Exercise;
  readonly keys: readonly ConcertKey[];
  readonly chairs: readonly ChairFit[];
};

/** What was done for all, and who holds the root in which keys. */
export type Remedied = {
  /** Ids of keys. */
  readonly leftOut: readonly string[];
  readonly turned: Readonly<Record<string, readonly Sung[]>>;
  /** By the chair's id. */
  readonly held: ReadonlyMap<string, readonly string[]>;
  readonly notes: readonly string[];
};

const NOTHING: Remedied = { leftOut: [], turned: {}, held: new Map(), notes: [] };

/** Concert name of a key: fewest signs, flats before sharps. */
function concertKeyText(exercise: Exercise, key: ConcertKey): string {
  const printed = printedKey(exercise, key);
  const [name] = keysAtChroma(printed.chroma, printed.mode);
  return name ? keyText(name) : '';
}

const keyTexts = (exercise: Exercise, keys: readonly ConcertKey[]): string => listText(keys.map((key) => concertKeyText(exercise, key)));

function fitChair(exercise: Exercise, chair: Chair, keys: readonly ConcertKey[]): ChairFit {
  const fitAll = (player: Player) => new Map(keys.map((key) => [keyId(key), fitKey(exercise, key, player)]));
  const byKey = fitAll(chair.player);
  const { misfit } = exercise;
  if (misfit.kind !== 'level' || [...byKey.values()].every((fit) => fit.options.length > 0))
    return { chair, player: chair.player, level: undefined, byKey };
  const player = plannedPlayer(chair.player, misfit);
  return { chair, player, level: misfit.level, byKey: fitAll(player) };
}

export const fitChairs = (exercise: Exercise, keys: readonly ConcertKey[], chairs: readonly Chair[]): ExerciseFit => ({
  exercise,
  keys,
  chairs: chairs.map((chair) => fitChair(exercise, chair, keys)),
});

const fitIn = ({ byKey }: ChairFit, key: ConcertKey): KeyFit => mustGet(byKey, keyId(key));

const lacks = (fit: ChairFit, key: ConcertKey): boolean => fitIn(fit, key).options.length === 0;

/** Written roots on which the chair can play these tones in a key. */
export const placesOf = (tones: readonly Sung[], fit: ChairFit, key: ConcertKey): Pitch[] =>
  placements(
    fitIn(fit, key).writtenKey.tonic,
    tones.flatMap((tone) => (tone ? [tone.interval] : [])),
    fit.player.compass,
  );

/** `Tuba cannot play it in E and A`, for each chair that has a misfit. */
function whoLacks({ exercise, chairs }: ExerciseFit, keys: readonly ConcertKey[]): string {
  const words = chairs.flatMap((fit) => {
    const own = keys.filter((key) => lacks(fit, key));
    return own.length > 0 ? [`${fit.chair.name} in ${keyTexts(exercise, own)}`] : [];
  });
  return listText(words);
}

function tooWide(all: ExerciseFit, keys: readonly ConcertKey[], remedy: string): Issue {
  const { exercise } = all;
  const span = spanOf(sungTones(exercise, keys[0]?.mode ?? 'major'));
  return error(
    'set-does-not-fit',
    ['figure'],
    `The exercise "${exercise.title || exercise.id}" needs ${distanceWords(span.high - span.low)} and does not fit, in concert keys: ${whoLacks(all, keys)}. ${remedy}`,
  );
}

const leftOutNote = (all: ExerciseFit, keys: readonly ConcertKey[]): string =>
  `Left out by all: concert ${keyTexts(all.exercise, keys)} (the figure does not fit: ${whoLacks(all, keys)}).`;

function leaveOut(all: ExerciseFit, misfits: readonly ConcertKey[]): Result<Remedied> {
  const words = 'No key is left that all chairs can play: choose another "misfit", or give these chairs a wider compass.';
  if (misfits.length === all.keys.length) return bad(tooWide(all, misfits, words));
  return good({ ...NOTHING, leftOut: misfits.map(keyId), notes: [leftOutNote(all, misfits)] });
}

/** A turned form of the figure that every chair can place, with the fewest changed notes; undefined if there is none. */
function commonTurn({ exercise, chairs }: ExerciseFit, key: ConcertKey): readonly Sung[] | undefined {
  const found = chairs.filter((fit) => lacks(fit, key)).flatMap((fit) => turnings(exercise, fitIn(fit, key), fit.player));
  found.sort((a, b) => a.changed - b.changed);
  return found.find(({ option }) => chairs.every((fit) => placesOf(option.tones, fit, key).length > 0))?.option.tones;
}

function turn(all: ExerciseFit, misfits: readonly ConcertKey[]): Result<Remedied> {
  const turned: Record<string, readonly Sung[]> = {};
  const still: ConcertKey[] = [];
  for (const key of misfits) {
    const tones = commonTurn(all, key);
    if (tones) turned[keyId(key)] = tones;
    else still.push(key);
  }
  const words = 'No turned form of the figure fits all chairs: choose "leave-out" or "hold-root" as the ensemble’s "misfit".';
  if (still.length > 0) return bad(tooWide(all, still, words));
  const note = `In concert ${keyTexts(all.exercise, misfits)} the figure turns back for all (its limit: ${whoLacks(all, misfits)}).`;
  return good({ ...NOTHING, turned, notes: [note] });
}

/** Chairs that cannot play a key hold its root; a key that nobody can play is left out. */
function holdRoots(all: ExerciseFit, misfits: readonly ConcertKey[]): Result<Remedied> {
  const { exercise, keys, chairs } = all;
  const nobody = misfits.filter((key) => chairs.every((fit) => lacks(fit, key)));
  if (nobody.length === keys.length) return bad(tooWide(all, misfits, 'No chair can play it in any key: give the chairs a wider compass.'));
  const held = new Map<string, readonly string[]>();
  const holders = new Map<string, string[]>();
  for (const fit of chairs) {
    const own = misfits.filter((key) => !nobody.includes(key) && lacks(fit, key));
    if (own.length === 0) continue;
    const { id, name } = fit.chair;
    const issue = holdIssue(
      exercise,
      name,
      own.map((key) => fitIn(fit, key)),
      fit.player,
    );
    if (issue) return bad(issue);
    held.set(id, own.map(keyId));
    const where = keyTexts(exercise, own);
    holders.set(where, [...(holders.get(where) ?? []), name]);
  }
  // One sentence for all that hold in the same keys, and one note: a large band would fill its pages with them.
  const words = [...holders].map(([where, who]) => `${listText(who)} ${who.length === 1 ? 'holds' : 'hold'} the root in concert ${where}.`);
  const notes = [...(nobody.length > 0 ? [leftOutNote(all, nobody)] : []), ...(words.length > 0 ? [words.join(' ')] : [])];
  return good({ ...NOTHING, leftOut: nobody.map(keyId), held, notes });
}

/** Applies the remedy to the keys that some chair cannot play. Issues `set-does-not-fit` and `root-cannot-be-held` at ['figure']. */
export function remedied(all: ExerciseFit, remedy: Remedy): Result<Remedied> {
  const misfits = all.keys.filter((key) => all.chairs.some((fit) => lacks(fit, key)));
  if (misfits.length === 0) return good(NOTHING);
  switch (remedy === 'as-written' ? all.exercise.misfit.kind : remedy) {
    case 'leave-out':
      return leaveOut(all, misfits);
    case 'turn':
      return turn(all, misfits);
    case 'hold-root':
      return holdRoots(all, misfits);
    default: {
      const words = 'Set the ensemble’s "misfit" to "leave-out", "turn" or "hold-root", or give these chairs a wider compass.';
      return bad(tooWide(all, misfits, words));
    }
  }
}
