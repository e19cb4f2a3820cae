/** The books that come with the program. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { isError } from '../../core/base/issue.js';
import type { Book } from '../../core/book/book.js';
import { readBook, readBookSource } from '../../core/book/read.js';
import { writeBook } from '../../core/book/write.js';
import { checkLines } from '../../core/build/check.js';
import { metreText } from '../../core/theory/metre.js';

const text = (name: string) => readFileSync(new URL(`../../assets/books/${name}.twelvefold`, import.meta.url), 'utf8');

function load(name: string): Book {
  const book = readBook(text(name));
  expect(book.issues).toEqual([]);
  if (!book.ok) throw new Error('not read');
  return book.value;
}

const exercisesOf = (book: Book) => book.chapters.flatMap((chapter) => chapter.exercises);
const different = (values: readonly unknown[]) => new Set(values.map((value) => JSON.stringify(value))).size;

describe('the method book', () => {
  const book = load('keywrights-daybook');
  const all = exercisesOf(book);

  it('is as wide as it says', () => {
    const source = readBookSource(text('keywrights-daybook'));
    const figures = source.ok ? source.value.chapters.flatMap((chapter) => chapter.exercises.map((exercise) => exercise.figure)) : [];
    expect(book.chapters).toHaveLength(8);
    expect(all).toHaveLength(56);
    expect(different(figures.filter((figure) => typeof figure === 'object'))).toBe(52);
    expect(different(all.map((exercise) => exercise.order.name))).toBe(15);
    expect(different(all.map((exercise) => exercise.rhythm.values))).toBe(10);
    expect(new Set(all.map((exercise) => metreText(exercise.metre)))).toEqual(
      new Set(['4/4', '2/4', '3/4', '5/4', '6/8', '7/8', '9/8', '12/8']),
    );
    expect(different(all.map((exercise) => exercise.articulation))).toBeGreaterThan(12);
    expect(new Set(all.map((exercise) => exercise.contour))).toEqual(new Set(['nearest', 'low', 'high', 'sweep']));
    expect(new Set(all.map((exercise) => exercise.ending))).toEqual(new Set(['none', 'long-root', 'back-to-first-root']));
    expect(new Set(all.filter((exercise) => exercise.passes === 2).map((exercise) => exercise.turnaround)).size).toBe(2);
    expect(book.editions.map((edition) => edition.instrument)).toEqual(
      expect.arrayContaining([
        'flute',
        'oboe',
        'clarinet-in-bb',
        'alto-saxophone',
        'tenor-saxophone',
        'horn-in-f',
        'trumpet-in-bb',
        'trombone',
      ]),
    );
    expect(book.editions.length).toBeGreaterThanOrEqual(11);
  });

  it('has a tempo, a title and one to three lines of advice for each exercise', () => {
    for (const { id, tempo, title, instruction } of all) {
      expect(tempo && tempo.from < tempo.to, id).toBe(true);
      expect(title.length, id).toBeGreaterThan(3);
      expect(instruction.length, id).toBeGreaterThan(20);
      expect(instruction.length, id).toBeLessThan(200);
    }
    for (const chapter of book.chapters) expect(chapter.text.length).toBeGreaterThan(200);
  });

  it('can be played by all its players', () => {
    expect(checkLines(book).filter(isError)).toEqual([]);
  });
});

describe('the first-year book', () => {
  const book = load('small-wheels');

  it('stays small', () => {
    const all = exercisesOf(book);
    expect(all.length).toBeGreaterThanOrEqual(8);
    expect(all.length).toBeLessThanOrEqual(12);
    expect(book.house).toMatchObject({ page: 'letter', staff: 9 });
    for (const exercise of all) {
      const degrees = exercise.figure.tones.flatMap((tone) => (tone.kind === 'note' ? [tone.degree] : []));
      expect(Math.min(...degrees)).toBeGreaterThanOrEqual(1);
      expect(Math.max(...degrees)).toBeLessThanOrEqual(5);
      expect(exercise.order.keys.length).toBeLessThanOrEqual(5);
    }
  });

  it('gives every player every key, so that a band can play it together', () => {
    expect(checkLines(book)).toEqual([]);
  });
});

it.each(['keywrights-daybook', 'small-wheels'])('%s is written as the program writes it', (name) => {
  const source = readBookSource(text(name));
  expect(source.ok && writeBook(source.value)).toBe(text(name));
});
