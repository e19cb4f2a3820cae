/**
 * Mean air flow while playing, by instrument. Little of this was ever measured in public: each row says how far to trust
 * it, and everything computed from it is called an estimate.
 *
 * Found in print: the whole span of 15 instruments is under 0.05 to over 1.6 L/s (Bouhuys, J Appl Physiol 1964;19:967);
 * trumpet 0.18 to 0.63 L/s (Fréour, Caussé, Cossette, CFA 2010, hal-00541405); trumpet 0.17 high to 0.5 low and tuba
 * 0.12 to 2 L/s (tests reported by A. Jacobs); flute from mouth pressures of 6 to 11 cmH2O (Cossette et al., Respir Physiol
 * 2000;121:33). The rest is ordered by the size of reed or mouthpiece.
 */

import { assert } from '../base/issue.js';
import type { Dynamic } from '../exercise/exercise.js';
import type { Instrument } from '../player/player.js';

/** A: bracketed by measurements found. B: partly derived from them. C: an ordering from memory, little better than a guess. */
export type Confidence = 'A' | 'B' | 'C';

/** Litres a second: `mean` at mf in the middle register, `low` to `high` the plausible span from p to f. */
export type Flow = { readonly mean: number; readonly low: number; readonly high: number; readonly confidence: Confidence };

export type Register = 'low' | 'middle' | 'high';

const flow = (mean: number, low: number, high: number, confidence: Confidence): Flow => ({ mean, low, high, confidence });

const FLOWS: Readonly<Record<string, Flow>> = {
  piccolo: flow(0.18, 0.1, 0.35, 'C'),
  flute: flow(0.28, 0.15, 0.5, 'B'),
  'alto-flute': flow(0.32, 0.17, 0.55, 'C'),
  oboe: flow(0.1, 0.05, 0.2, 'B'),
  'english-horn': flow(0.13, 0.06, 0.25, 'C'),
  bassoon: flow(0.2, 0.08, 0.45, 'C'),
  'clarinet-in-eb': flow(0.16, 0.07, 0.32, 'C'),
  'clarinet-in-bb': flow(0.18, 0.08, 0.35, 'C'),
  'clarinet-in-a': flow(0.18, 0.08, 0.35, 'C'),
  'bass-clarinet': flow(0.25, 0.12, 0.5, 'C'),
  'soprano-saxophone': flow(0.18, 0.08, 0.35, 'C'),
  'alto-saxophone': flow(0.25, 0.1, 0.5, 'C'),
  'tenor-saxophone': flow(0.3, 0.12, 0.6, 'C'),
  'baritone-saxophone': flow(0.4, 0.15, 0.8, 'C'),
  'horn-in-f': flow(0.28, 0.12, 0.65, 'C'),
  'trumpet-in-bb': flow(0.28, 0.17, 0.63, 'A'),
  'trumpet-in-c': flow(0.28, 0.17, 0.63, 'A'),
  'cornet-in-bb': flow(0.28, 0.17, 0.63, 'A'),
  'flugelhorn-in-bb': flow(0.3, 0.17, 0.65, 'C'),
  trombone: flow(0.33, 0.15, 0.8, 'C'),
  'bass-trombone': flow(0.45, 0.2, 1.2, 'C'),
  'euphonium-bass-clef': flow(0.4, 0.15, 1, 'C'),
  'euphonium-treble-clef': flow(0.4, 0.15, 1, 'C'),
  tuba: flow(0.5, 0.12, 2, 'A'),
  'soprano-recorder': flow(0.11, 0.06, 0.22, 'C'),
  'alto-recorder': flow(0.15, 0.08, 0.3, 'C'),
  'tenor-recorder': flow(0.2, 0.1, 0.4, 'C'),
  'bass-recorder': flow(0.25, 0.1, 0.4, 'C'),
};

/** Weak: derived from the whole trumpet span around its mean, not measured step by step. */
const DYNAMIC: Readonly<Record<Dynamic, number>> = { pp: 0.55, p: 0.7, mp: 0.85, mf: 1, f: 1.4, ff: 1.9 };

/** Weak: from the reported low to high ratio of one trumpet player, 2.5 to 3. Brass only: no number was found for others. */
const BRASS_REGISTER: Readonly<Record<Register, number>> = { low: 1.4, middle: 1, high: 0.6 };

/** Players of these breathe out before they breathe in: they stop for stale air, not for want of air (Bouhuys 1964). */
const OUT_THEN_IN: ReadonlySet<string> = new Set(['oboe', 'english-horn']);

/** Flow of an instrument; undefined where it is played without breath. */
export function flowOf(instrument: Instrument): Flow | undefined {
  if (!instrument.breath) return undefined;
  const found = FLOWS[instrument.id];
  assert(found, `the flow table has a row for ${instrument.id}`);
  return found;
}

/** Flow at this dynamic and register over the flow at mf in the middle register. */
export function flowFactor(instrument: Instrument, dynamic: Dynamic = 'mf', register: Register = 'middle'): number {
  return DYNAMIC[dynamic] * (instrument.family === 'brass' ? BRASS_REGISTER[register] : 1);
}

export const breathesOutFirst = (instrument: Instrument): boolean => OUT_THEN_IN.has(instrument.id);
