/** Degree numbers stand clear of stems, also of those that pass beside them: a number and a stem must not read as one sign. */
import { expect, it } from 'vitest';
import { buildEdition } from '../../core/build/edition.js';
import type { Mark } from '../../core/engrave/drawing.js';
import { demoBook } from '../ensemble/band.js';
import { testFonts } from '../fonts.js';
import { value } from '../player/fixture.js';

/** In spaces; a little less than is kept, since the outline that is asked has columns of a quarter space. */
const LEAST = 0.25;

/** Numbers with a stem beside them, within a number's own height. */
function crowded(marks: readonly Mark[]): string[] {
  const stems = marks.filter(({ role }) => role === 'stem').map(({ box }) => box);
  return marks
    .filter(({ role }) => role === 'degree')
    .filter(({ box }) => stems.some((stem) => stem.x0 < box.x1 + LEAST && stem.x1 > box.x0 - LEAST && stem.y0 < box.y1 && stem.y1 > box.y0))
    .map((mark) => (mark.kind === 'text' ? mark.text : mark.kind));
}

const drawn = (name: string): (readonly Mark[])[] => {
  const book = demoBook(name);
  return book.editions.flatMap((spec) => {
    const { document } = value(buildEdition(book, spec, testFonts()));
    return document.pages.flatMap(({ items }) =>
      items.flatMap((item) => (item.kind === 'drawing' && item.exercise !== undefined ? [item.draw().marks] : [])),
    );
  });
};

it('in every edition of the small demo book', () => {
  const systems = drawn('small-wheels');
  expect(systems.flat().filter(({ role }) => role === 'degree').length).toBeGreaterThan(100);
  expect(systems.flatMap(crowded)).toEqual([]);
});

it('a number drawn up to its staff again is crowded', () => {
  const up = (mark: Mark): Mark =>
    mark.role === 'degree' ? { ...mark, box: { ...mark.box, y0: mark.box.y0 - 2, y1: mark.box.y1 - 2 } } : mark;
  expect(drawn('small-wheels').some((marks) => crowded(marks.map(up)).length > 0)).toBe(true);
});
