import type { ConcertKey, Direction } from './exercise.js';

/** The figure once, in one key, in one direction. */
export type Statement = {
  readonly index: number;
  readonly pass: 1 | 2;
  readonly key: ConcertKey;
  readonly direction: Direction;
  /** Number of the key in the key order, from 0; the same in both passes. */
  readonly keyIndex: number;
  /** Number of the set that the key belongs to, from 0. */
  readonly set: number;
};

export type Route = {
  readonly statements: readonly Statement[];
  /** Index of the first statement of the second pass; undefined with one pass. */
  readonly turnaround: number | undefined;
  /** Key of the closing note, when there is one. */
  readonly endingKey: ConcertKey | undefined;
};
