import type { ConcertKey } from './exercise.js';

export type KeyOrderName =
  | 'fourths'
  | 'fifths'
  | 'chromatic-up'
  | 'chromatic-down'
  | 'whole-tones'
  | 'minor-thirds'
  | 'major-thirds'
  | 'tritones'
  | 'semitone-pairs'
  | 'signatures'
  | 'relative-pairs'
  | 'parallel-pairs'
  | 'wedge'
  | 'custom'
  | 'shuffle';

export type KeyOrder = {
  readonly name: KeyOrderName;
  /** Keys in order, each as semitones above the first key of the route, with its mode. `custom` and `shuffle` too. */
  readonly keys: readonly ConcertKey[];
  /** How many keys a set holds (12 when the order is one circle). */
  readonly setSize: number;
};
