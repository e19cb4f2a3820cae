/** The music of the benchmark: a book with as many pages of about 192 notes as asked for, of the kinds that a technique book holds. */
import type { Book } from '../core/book/book.js';
import { readBook } from '../core/book/read.js';

/** Notes of a full page: two exercises of 96 notes. */
export const PAGE_NOTES = 192;

/** Figure, rhythm, metre and articulation take turns with coprime periods, so that pages differ. All have four tones or eight. */
const FIGURES = ['1 2 3 5', '1 3 5 3', '5 4 3 1', '1 b3 5 8', '1 2 3 4', '3 1 2 1', '1 5 3 5'];
const RHYTHMS = ['eighths', 'eighths', 'sixteenths', 'dotted eighth and sixteenth', 'eighth and two sixteenths'];
const ARTICULATIONS = ['slur 2, tongue 2', 'all slurred', 'tongue 1, slur 3', 'all tongued, staccato'];
const ORDERS = ['fourths', 'chromatic-up', 'fifths', 'minor-thirds'];
const CHAPTER = 40;

const turn = <T>(all: readonly T[], i: number): T => all[i % all.length] as T;

function exercise(i: number): Record<string, unknown> {
  return {
    title: `Study on ${turn(FIGURES, i)}`,
    instruction: 'Even fingers, one sound from the lowest note to the highest.',
    figure: turn(FIGURES, i),
    rhythm: turn(RHYTHMS, i),
    articulation: turn(ARTICULATIONS, i),
    order: turn(ORDERS, i),
    directions: 'alternate-from-up',
    passes: 2,
    padding: 'flow',
  };
}

/** The text of a book file of `pages` pages of music (two exercises each) for the alto saxophone. */
export function benchSource(pages: number): string {
  const exercises = Array.from({ length: pages * 2 }, (_, i) => exercise(i));
  const chapters = [];
  for (let at = 0; at < exercises.length; at += CHAPTER)
    chapters.push({ title: `Part ${chapters.length + 1}`, exercises: exercises.slice(at, at + CHAPTER) });
  return JSON.stringify({
    format: 'twelvefold',
    version: 1,
    title: 'Measured Pages',
    author: 'The Stopwatch Bench',
    date: '2026-03-01',
    house: { page: 'a4', staff: 7, chaptersOnRight: false },
    extras: { compassChart: false, keyChart: false, figureIndex: false },
    editions: [{ instrument: 'alto-saxophone', level: 'advanced' }],
    defaults: { metre: '4/4', tempo: { from: 60, to: 120 }, misfit: 'leave-out' },
    chapters,
  });
}

export function benchBook(pages: number): Book {
  const book = readBook(benchSource(pages));
  if (!book.ok) throw new Error(book.issues.map((issue) => issue.message).join('\n'));
  return book.value;
}
