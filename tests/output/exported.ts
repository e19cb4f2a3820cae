/** Lines for the tests of exports: one of every kind of writing, and every exercise of the demo books. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { readBook } from '../../core/book/read.js';
import { barsOf } from '../../core/engrave/bars.js';
import type { NotatedExercise } from '../../core/output/notated-exercise.js';
import { playerOf } from '../../core/player/compass.js';
import type { Line } from '../../core/player/line.js';
import { realise } from '../../core/player/realise.js';
import { frac } from '../../core/theory/fraction.js';
import { player, realised, value, type Words } from '../player/fixture.js';

export const pieceOf = (line: Line, more: Partial<NotatedExercise> = {}): NotatedExercise => ({
  title: line.exercise.title,
  lines: [{ line, score: barsOf(line) }],
  ...more,
});

const QUARTER = { beat: frac(1, 4), from: 60, to: 96 };

/** Instrument and exercise: together they use every sign that is exported. */
export const KINDS: readonly (readonly [instrument: string, words: Words])[] = [
  [
    'flute',
    { figure: '1 2 3 5', tempo: QUARTER, dynamic: 'mf', articulation: { groups: [2, 1, 1], mark: 'staccato' }, degreeNumbers: true },
  ],
  ['baritone-saxophone', { figure: '1 3 5 8 5 3 r', rhythm: 'eighth triplets', passes: 2, padding: { to: 'bar', by: 'long-note' } }],
  [
    'trombone',
    { figure: '1 3 5 8 5 3 1', rhythm: 'eighth triplets', signs: 'signature', padding: { to: 'bar', by: 'rests' }, ending: 'long-root' },
  ],
  [
    'viola',
    { figure: '1 b3 4 b5 5 b7 8', rhythm: 'dotted eighth and sixteenth', metre: '3/4', articulation: { groups: [], mark: 'accent' } },
  ],
  ['tuba', { figure: '1 2 3', metre: '6/8', tempo: { beat: frac(3, 8), from: 40, to: 40 }, articulation: { groups: 'all' } }],
  [
    'clarinet-in-bb',
    {
      figure: '1 3 5 7',
      rhythm: '1/4. 1/8 1/4 1/4',
      order: { name: 'relative-pairs' },
      signs: 'signature',
      articulation: { groups: [1], mark: 'tenuto' },
    },
  ],
  [
    'double-bass',
    {
      figure: '1 2 r 3',
      rhythm: '5:4(1/16 1/16 1/16 1/16 1/16)',
      metre: '5/8',
      padding: { to: 'bar', by: 'rests' },
      directions: 'alternate-from-down',
      passes: 2,
    },
  ],
  ['piccolo', { figure: '1 bb7 ##4 #2', rhythm: 'halves', metre: '7/8' }],
  ['glockenspiel', { figure: '1 2 3 4 5', rhythm: '1/4.. 1/16', metre: '2/2', padding: { to: 'beat', by: 'rests' } }],
];

export const kindLines = (): Line[] => KINDS.map(([instrument, words]) => realised(words, player(instrument)));

const FOLDER = 'assets/books';

/** Every exercise of every demo book, for the editions at these places in its list. */
export function demoLines(editions: readonly number[]): Line[] {
  const files = existsSync(FOLDER) ? readdirSync(FOLDER).filter((name) => name.endsWith('.twelvefold')) : [];
  return files.sort().flatMap((name) => {
    const book = value(readBook(readFileSync(`${FOLDER}/${name}`, 'utf8')));
    return editions.flatMap((place) => {
      const edition = book.editions[place];
      if (!edition) return [];
      const who = value(playerOf(edition));
      return book.chapters.flatMap((chapter) =>
        chapter.exercises.flatMap((exercise) => {
          const line = realise(exercise, who);
          return line.ok ? [line.value] : [];
        }),
      );
    });
  });
}
