/** One set of edits for every list of a book, a roster and an ensemble. */
import { describe, expect, it } from 'vitest';
import type { BookSource } from '../../core/book/schema.js';
import type { EnsembleSource } from '../../core/ensemble/schema.js';
import type { RosterSource, StudentSource } from '../../core/people/schema.js';
import { CHAPTERS, EDITIONS, exercisesIn } from '../../renderer/edits/book.js';
import { BONDS, CHAIRS } from '../../renderer/edits/ensemble.js';
import { listIn, withFields } from '../../renderer/edits/list.js';
import { ASSIGNMENTS, PROGRESS, STUDENTS } from '../../renderer/edits/roster.js';

type Letters = { readonly letters?: readonly string[] };
const LETTERS = listIn<Letters, string>(
  (source) => source.letters ?? [],
  (source, letters) => withFields(source, { letters }),
);
const abc: Letters = { letters: ['a', 'b', 'c'] };

describe('the edits of a list', () => {
  it.each([
    ['adds at the end', LETTERS.add(abc, 'x'), 'abcx'],
    ['adds at a place', LETTERS.add(abc, 'x', 1), 'axbc'],
    ['adds to a list that is not there', LETTERS.add({}, 'x'), 'x'],
    ['removes', LETTERS.remove(abc, 1), 'ac'],
    ['removes nothing where nothing is', LETTERS.remove(abc, 3), 'abc'],
    ['moves down', LETTERS.move(abc, 0, 2), 'bca'],
    ['moves up', LETTERS.move(abc, 2, 0), 'cab'],
    ['moves nothing from nowhere', LETTERS.move(abc, 3, 0), 'abc'],
    ['duplicates', LETTERS.duplicate(abc, 1, (it) => it.toUpperCase()), 'abBc'],
    ['changes', LETTERS.change(abc, 2, (it) => `${it}!`), 'abc!'],
  ])('%s', (_what, made, wanted) => {
    expect(made.letters?.join('')).toBe(wanted);
    expect(abc.letters).toEqual(['a', 'b', 'c']);
  });

  it('a list that may be left out leaves no trace when it is empty', () => {
    expect(LETTERS.remove({ letters: ['a'] }, 0)).toEqual({});
  });
});

describe('fields', () => {
  const item: { name: string; level?: string; keys?: string[]; paper?: { staff?: number | undefined } } = { name: 'a', level: 'b' };
  it.each([
    [{ level: 'c' }, { name: 'a', level: 'c' }],
    [{ level: undefined }, { name: 'a' }],
    [{ level: '' }, { name: 'a' }],
    [{ keys: [] }, { name: 'a', level: 'b' }],
    [{ paper: { staff: undefined } }, { name: 'a', level: 'b' }],
    [{ paper: { staff: 0 } }, { name: 'a', level: 'b', paper: { staff: 0 } }],
    [{ name: '' }, { name: '', level: 'b' }],
  ])('%j', (part, wanted) => {
    const made = withFields(item, part, ['name']);
    expect(made).toEqual(wanted);
    expect(Object.keys(made)).toEqual(Object.keys(wanted));
  });
});

describe('the lists of the files', () => {
  const book: BookSource = {
    format: 'twelvefold',
    version: 1,
    title: 'T',
    date: '2026-03-01',
    editions: ['flute', 'oboe'],
    chapters: [{ title: 'One', exercises: [{ figure: '1' }, { figure: '2' }] }],
  };
  const roster: RosterSource = { format: 'twelvefold-roster', version: 1, students: [{ name: 'A. B.', instrument: 'flute' }] };
  const ensemble: EnsembleSource = {
    format: 'twelvefold-ensemble',
    version: 1,
    name: 'E',
    chairs: [{ instrument: 'flute' }, { instrument: 'oboe' }],
  };
  const student: StudentSource = { name: 'A. B.', instrument: 'flute' };

  it.each([
    ['a chapter keeps its empty title', CHAPTERS.set(book, 0, { title: '' }).chapters[0]?.title, ''],
    [
      'an exercise keeps its empty figure',
      exercisesIn(0).set(book, 1, { figure: '', title: '' }).chapters[0]?.exercises[1],
      { figure: '' },
    ],
    ['an exercise of no chapter changes nothing', exercisesIn(3).add(book, { figure: '3' }), book],
    [
      'only the edition that is changed becomes an object',
      EDITIONS.set(book, 1, { level: 'advanced' }).editions,
      ['flute', { instrument: 'oboe', level: 'advanced' }],
    ],
    ['a student keeps an empty name', STUDENTS.set(roster, 0, { name: '' }).students[0]?.name, ''],
    ['an assignment keeps its empty exercises', ASSIGNMENTS.add(student, { exercises: [] }).assignments, [{ exercises: [] }]],
    [
      'an assignment in all weeks names none',
      ASSIGNMENTS.set({ ...student, assignments: [{ exercises: ['a'], weeks: [1] }] }, 0, { weeks: undefined }).assignments,
      [{ exercises: ['a'] }],
    ],
    [
      'the last progress taken out leaves no trace',
      PROGRESS.remove({ ...student, progress: [{ exercise: 'a', tempo: 60, date: '2026-03-01' }] }, 0),
      student,
    ],
    ['chairs change places', CHAIRS.move(ensemble, 0, 1).chairs, [{ instrument: 'oboe' }, { instrument: 'flute' }]],
    ['the first bond', BONDS.add(ensemble, { chairs: ['a', 'b'], together: 'unison' }).keep, [{ chairs: ['a', 'b'], together: 'unison' }]],
    ['the last bond taken out leaves no trace', BONDS.remove({ ...ensemble, keep: [{ chairs: [], together: 'unison' }] }, 0), ensemble],
  ] as const)('%s', (_what, made, wanted) => expect(made).toEqual(wanted));
});
