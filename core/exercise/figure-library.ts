/** The library of ready figures. */
import { assert, bad, error, good, type Result } from '../base/issue.js';
import { didYouMean } from '../base/nearest.js';
import type { ScaleName } from '../theory/scale.js';
import { type Figure, figureSpan, parseFigure } from './figure.js';
import { FIGURE_GROUPS, FIGURE_ROWS, type FigureGroup } from './figure-library-data.js';

export { FIGURE_GROUPS, type FigureGroup };

export type LibraryFigure = {
  readonly number: number;
  /** Kebab-case, stable. */
  readonly id: string;
  readonly title: string;
  readonly group: FigureGroup;
  /** Degrees as an author writes them. */
  readonly text: string;
  /** The scale or chord it draws on, in words. */
  readonly draws: string;
  /** The scale to read it in; the signs in its text are already relative to the major scale. */
  readonly scale: ScaleName;
  readonly figure: Figure;
  /** Semitones above the tonic. */
  readonly span: { readonly low: number; readonly high: number };
};

/** All figures, in the order of their numbers. */
export const FIGURE_LIBRARY: readonly LibraryFigure[] = FIGURE_ROWS.map(([number, id, title, group, text, draws, scale]) => {
  const read = parseFigure(text);
  assert(read.ok, `the library figure ${id} can be read`);
  return { number, id, title, group, text, draws, scale, figure: read.value, span: figureSpan(read.value, scale) };
});

const byId = new Map(FIGURE_LIBRARY.map((entry) => [entry.id, entry]));

/** Looks up a figure by its id; Issue `unknown-figure` at path [], with the nearest id when one is near. */
export function figureById(id: string): Result<LibraryFigure> {
  const found = byId.get(id);
  if (found) return good(found);
  const remedy = didYouMean(id, [...byId.keys()]) || ': choose an id from the list of figures, such as "cell-1-2-3-5".';
  return bad(error('unknown-figure', [], `The library has no figure "${id}"${remedy}`));
}

/** The figures of one group, in the order of their numbers. */
export const figuresIn = (group: FigureGroup): readonly LibraryFigure[] => FIGURE_LIBRARY.filter((entry) => entry.group === group);
