/** Files of the benchmark for many outputs: a band of so many chairs, a class of so many students, and the large demo book for all instruments. */
import { readFileSync } from 'node:fs';
import { INSTRUMENTS } from '../core/player/catalogue.js';
import { benchSource } from './book.js';

/** Exercises of 96 notes in the book of the band and of the class, in one chapter. */
export const EXERCISES = 40;

export const setSource = (): string => benchSource(EXERCISES / 2);

/** Chairs take these instruments in turn, as a band of thirty has them. */
const SEATS = [
  'piccolo flute flute oboe bassoon clarinet-in-eb clarinet-in-bb clarinet-in-bb clarinet-in-bb bass-clarinet',
  'alto-saxophone alto-saxophone tenor-saxophone baritone-saxophone cornet-in-bb trumpet-in-bb trumpet-in-bb trumpet-in-bb horn-in-f horn-in-f',
  'trombone trombone trombone euphonium-bass-clef tuba flute oboe clarinet-in-bb alto-saxophone tuba',
]
  .join(' ')
  .split(' ');

/** From the deepest to the highest, so that a small band has the parts of a large one. */
export function bandSource(chairs: number): string {
  return JSON.stringify({
    format: 'twelvefold-ensemble',
    version: 1,
    name: `Band of ${chairs}`,
    level: 'advanced',
    misfit: 'hold-root',
    breathing: { plan: 'together', tempo: 84 },
    score: { order: 'band', pitch: 'concert' },
    chairs: Array.from({ length: chairs }, (_, i) => ({
      id: `chair-${i + 1}`,
      instrument: SEATS[i % SEATS.length],
      name: `Chair ${i + 1}`,
      short: `${i + 1}`,
      breath: { longTone: 14 },
    })),
  });
}

/** Exercises of the book of `setSource` in a booklet. */
const ASSIGNED = 8;

export function classSource(students: number): string {
  return JSON.stringify({
    format: 'twelvefold-roster',
    version: 1,
    title: `Class of ${students}`,
    students: Array.from({ length: students }, (_, i) => ({
      name: `Student ${i + 1}`,
      instrument: SEATS[i % SEATS.length],
      level: 'advanced',
      breath: { longTone: 10 + (i % 7) },
      assignments: [{ exercises: Array.from({ length: ASSIGNED }, (_, e) => `1.${1 + ((i * 3 + e * 5) % EXERCISES)}`) }],
    })),
  });
}

/** The large demo book with an edition for every instrument of the catalogue. */
export function allEditions(): string {
  const book = JSON.parse(readFileSync(new URL('../../assets/books/keywrights-daybook.twelvefold', import.meta.url), 'utf8'));
  const own = new Map((book.editions as { instrument: string }[]).map((edition) => [edition.instrument, edition]));
  return JSON.stringify({ ...book, editions: INSTRUMENTS.map(({ id }) => own.get(id) ?? { instrument: id, level: 'advanced' }) });
}
