/** What is exported: one exercise for one player, or for several who play it together. */
import type { Score } from '../engrave/bar.js';
import type { Line } from '../player/line.js';

export type NotatedStaff = {
  readonly line: Line;
  /** Its bars, with the breath marks that are to be shown. */
  readonly score: Score;
  /** As the part is called where it is one of several; the instrument's own names when left out. */
  readonly part?: { readonly name: string; readonly short: string };
};

/** Neighbouring staves [from, to) of a score that belong together. */
export type StaffGroup = {
  readonly from: number;
  readonly to: number;
  readonly name: string;
  /** A section, through which the barlines run; or players of one group within it. */
  readonly kind: 'section' | 'group';
};

export type NotatedExercise = {
  readonly title: string;
  /** One for each staff, top first; all have the same bars. */
  readonly lines: readonly NotatedStaff[];
  /** Bars that begin a system, as laid out; the reader's own breaks when left out. */
  readonly systems?: readonly number[];
  /** Those of them that begin a page. */
  readonly pages?: readonly number[];
};
