/** What is exported: one exercise for one player, or for several who play it together. */
import type { Score } from '../engrave/bar.js';
import type { Line } from '../player/line.js';

export type PieceLine = {
  readonly line: Line;
  readonly score: Score;
  /** Breaths to be shown, each after an event of the line. */
  readonly breaths?: readonly { readonly afterEvent: number }[];
};

export type Piece = {
  readonly title: string;
  /** One for each staff, top first; all have the same bars. */
  readonly lines: readonly PieceLine[];
  /** Bars that begin a system, as laid out; the reader's own breaks when left out. */
  readonly systems?: readonly number[];
  /** Those of them that begin a page. */
  readonly pages?: readonly number[];
};
