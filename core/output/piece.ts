/** What is exported: one exercise for one player, or for several who play it together. */
import type { Score } from '../engrave/bar.js';
import type { Line } from '../player/line.js';

export type PieceLine = {
  readonly line: Line;
  /** Its bars, with the breath marks that are to be shown. */
  readonly score: Score;
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
