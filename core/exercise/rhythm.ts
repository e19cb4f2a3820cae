import type { Fraction } from '../theory/fraction.js';

export type Tuplet = {
  /** 3 in the time of 2: actual 3, normal 2. */
  readonly actual: number;
  readonly normal: number;
  /** Sum of the durations of the whole tuplet group, in whole notes (sounding time). */
  readonly total: Fraction;
};

export type RhythmValue = {
  /** Written value without dots: 1/4 is a quarter. */
  readonly base: Fraction;
  readonly dots: number;
  readonly tuplet?: Tuplet;
  /** Time it takes: base, dots and tuplet together. */
  readonly duration: Fraction;
};

/** Values in turn over the figure's tones, repeated as often as needed. */
export type Rhythm = { readonly text: string; readonly values: readonly RhythmValue[] };
