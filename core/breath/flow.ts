/**
 * How air flow changes with loudness and register. The flow of each instrument stands in its row (core/player/instruments/);
 * what was found in print about it stands in row.ts there. Everything computed from it is called an estimate.
 */

import type { Dynamic } from '../exercise/exercise.js';
import type { Instrument } from '../player/player.js';

export type Register = 'low' | 'middle' | 'high';

/** Weak: derived from the whole trumpet span around its mean, not measured step by step. */
const DYNAMIC: Readonly<Record<Dynamic, number>> = { pp: 0.55, p: 0.7, mp: 0.85, mf: 1, f: 1.4, ff: 1.9 };

/** Weak: from the reported low to high ratio of one trumpet player, 2.5 to 3. Brass only: no number was found for others. */
const BRASS_REGISTER: Readonly<Record<Register, number>> = { low: 1.4, middle: 1, high: 0.6 };

/** Flow at this dynamic and register over the flow at mf in the middle register. */
export function flowFactor(instrument: Instrument, dynamic: Dynamic = 'mf', register: Register = 'middle'): number {
  return DYNAMIC[dynamic] * (instrument.family === 'brass' ? BRASS_REGISTER[register] : 1);
}

/** Players of oboes breathe out before they breathe in: they stop for stale air, not for want of air (Bouhuys 1964). */
export const breathesOutFirst = (instrument: Instrument): boolean => instrument.kind === 'oboe';
