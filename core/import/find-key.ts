/**
 * The key of a phrase by the Krumhansl–Schmuckler algorithm: how much each of the twelve tones sounds is correlated with the
 * profile of each key. Profiles: Krumhansl & Kessler, Psychological Review 89 (1982), 334–368; algorithm: Krumhansl, Cognitive
 * Foundations of Musical Pitch (1990), chapter 4. (Numbers from memory.)
 */
import { at, first } from '../base/list.js';
import { type Fraction, toNumber } from '../theory/fraction.js';
import { type Key, keyAtFifths, keysAtChroma, type Mode } from '../theory/key.js';
import { chroma, type PitchClass, sameClass } from '../theory/pitch.js';
import type { Phrase } from './phrase.js';

const PROFILES: Readonly<Record<Mode, readonly number[]>> = {
  major: [6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88],
  minor: [6.33, 2.68, 3.52, 5.38, 2.6, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17],
};

/** Pearson's correlation; 0 where one of the two does not vary. */
export function correlation(a: readonly number[], b: readonly number[]): number {
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [ma, mb] = [mean(a), mean(b)];
  let [both, aa, bb] = [0, 0, 0];
  a.forEach((value, i) => {
    const [da, db] = [value - ma, at(b, i) - mb];
    both += da * db;
    aa += da * da;
    bb += db * db;
  });
  return aa > 0 && bb > 0 ? both / Math.sqrt(aa * bb) : 0;
}

/** Short phrases say much with their first and last note: a tonic there counts this much in the correlation. (House choice.) */
const FRAME = 0.08;

/** How sharply the correlations are told apart in the confidence. (House choice.) */
const SHARPNESS = 12;

export type KeyGuess = {
  readonly key: Key;
  /** 0 to 1: the share of this key when every key that comes into question counts by its correlation. */
  readonly confidence: number;
};

/** How long each of the twelve tones sounds. */
function weights(events: Phrase['events']): number[] {
  const sums = Array.from({ length: 12 }, () => 0);
  for (const { kind, key, duration } of events) if (kind === 'note') sums[key % 12] = at(sums, key % 12) + toNumber(duration as Fraction);
  return sums;
}

/** The tonic as the phrase spells it, else with the fewest signs. */
function spelled(at: number, mode: Mode, events: Phrase['events']): Key {
  const keys = keysAtChroma(at, mode);
  const heard = events.flatMap(({ pitch }): PitchClass[] => (pitch ? [pitch] : []));
  return keys.find((key) => heard.some((pitch) => sameClass(pitch, key.tonic))) ?? first(keys);
}

/**
 * Keys that come into question, the likeliest first: all twenty-four, or those of the signature when the file has one with
 * sharps or flats (no signs may only mean that none were written).
 */
export function guessKeys({ events, signature }: Phrase): readonly KeyGuess[] {
  const notes = events.filter((event) => event.kind === 'note');
  const [first, last] = [notes[0], notes.at(-1)];
  const heard = weights(events);
  const modes: readonly Mode[] = signature?.mode ? [signature.mode] : ['major', 'minor'];
  const keys =
    signature && (signature.fifths !== 0 || signature.mode)
      ? modes.map((mode) => keyAtFifths(signature.fifths, mode))
      : Array.from({ length: 12 }, (_, at) => (['major', 'minor'] as const).map((mode) => spelled(at, mode, events))).flat();
  const scored = keys.map((key) => {
    const tonic = chroma(key.tonic);
    const profile = Array.from({ length: 12 }, (_, i) => PROFILES[key.mode][(i - tonic + 12) % 12] as number);
    const framed = [first, last].filter((note) => note && note.key % 12 === tonic).length;
    return { key, score: correlation(heard, profile) + FRAME * framed };
  });
  const shares = scored.map(({ score }) => Math.exp(SHARPNESS * score));
  const all = shares.reduce((sum, share) => sum + share, 0);
  return scored.map(({ key }, i) => ({ key, confidence: (shares[i] as number) / all })).sort((a, b) => b.confidence - a.confidence);
}
