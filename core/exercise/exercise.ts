/** An exercise as the author states it: a figure, the keys it goes through, and how it is to be played and printed. */
import type { Fraction } from '../theory/fraction.js';
import type { Metre } from '../theory/metre.js';
import type { PitchClass } from '../theory/pitch.js';
import type { ScaleName } from '../theory/scale.js';
import type { Figure } from './figure.js';
import type { KeyOrder } from './key-order.js';
import type { Rhythm } from './rhythm.js';

export type Direction = 'up' | 'down';

/** How directions follow one another: one way only, or turn and turn about. */
export type Directions = 'up' | 'down' | 'alternate-from-up' | 'alternate-from-down';

/** How the second pass begins. */
export type Turnaround = 'restart' | 'repeat-last-key';

/** Where the route begins. */
export type Start =
  | { readonly kind: 'concert'; readonly key: PitchClass }
  | { readonly kind: 'written'; readonly key: PitchClass }
  /** The lowest root from which the player can play the figure. */
  | { readonly kind: 'lowest' };

export type Ending = 'none' | 'long-root' | 'back-to-first-root';

/** What a statement does when it ends inside a bar. `flow` goes on at once across beats and barlines. */
export type Padding = { readonly to: 'flow' } | { readonly to: 'beat' | 'bar'; readonly by: 'long-note' | 'rests' };

export type Contour = 'nearest' | 'sweep' | 'low' | 'high';

/** What to do with a key in which the figure does not fit the compass. `report` makes it an error. */
export type Misfit =
  | { readonly kind: 'report' }
  | { readonly kind: 'leave-out' }
  | { readonly kind: 'turn' }
  | { readonly kind: 'level'; readonly level: Level };

export type Level = 'beginner' | 'intermediate' | 'advanced' | 'professional';

/** Slurs and tonguing over the notes of a statement. */
export type Articulation = {
  /** Sizes of the groups in turn, repeated to the end of the statement: 1 is tongued, n is a slur over n notes. `'all'`: the whole statement under one slur. Empty: nothing marked. */
  readonly groups: 'all' | readonly number[];
  /** Set on tongued notes (or on every note when nothing is slurred). */
  readonly mark?: 'staccato' | 'accent' | 'tenuto';
};

export type Dynamic = 'pp' | 'p' | 'mp' | 'mf' | 'f' | 'ff';

export type Tempo = { readonly beat: Fraction; readonly from: number; readonly to: number };

/** Key signatures at each change of key, or no signature and accidentals in each bar. */
export type Signs = 'signature' | 'accidentals';

export type Exercise = {
  readonly id: string;
  readonly title: string;
  readonly instruction: string;
  readonly figure: Figure;
  /** Plain degrees are read in this scale; alterations stay relative to the major scale. */
  readonly scale: ScaleName;
  readonly rhythm: Rhythm;
  readonly metre: Metre;
  readonly padding: Padding;
  readonly order: KeyOrder;
  readonly directions: Directions;
  readonly passes: 1 | 2;
  readonly turnaround: Turnaround;
  readonly start: Start;
  readonly ending: Ending;
  readonly contour: Contour;
  readonly misfit: Misfit;
  readonly articulation: Articulation;
  /** Further ways of playing it, shown by small incipits above the music. */
  readonly variants: readonly Articulation[];
  readonly dynamic?: Dynamic;
  readonly tempo?: Tempo;
  readonly signs: Signs;
  /** Double accidentals written as their simple neighbours (a reading aid; breaks the figure's letters). */
  readonly simpleSpelling: boolean;
  /** Key names printed over the statements. */
  readonly keyNames: boolean;
  /** Degree numbers printed under the first statement. */
  readonly degreeNumbers: boolean;
};
