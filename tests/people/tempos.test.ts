/** Tempos reached and wished for, and their bounds. */
import { describe, expect, it } from 'vitest';
import { buildBooklet } from '../../core/build/booklets.js';
import { latest, tempoOf, withProgress } from '../../core/people/progress.js';
import { isDate, readRoster } from '../../core/people/read.js';
import type { Student } from '../../core/people/roster.js';
import { frac } from '../../core/theory/fraction.js';
import { testFonts } from '../fonts.js';
import { codes, exercise, value } from '../player/fixture.js';
import { book, rosterFile, student } from './class.js';

describe('the latest tempo', () => {
  const of = (...progress: readonly (readonly [tempo: number, date: string, exercise?: string])[]): number | undefined =>
    latest({ progress: progress.map(([tempo, date, id = 'a']) => ({ exercise: id, tempo, date })) }, 'a')?.tempo;
  it('is the newer one, wherever it stands', () => {
    expect(of([60, '2026-03-01'], [70, '2026-03-02'])).toBe(70);
    expect(of([70, '2026-03-02'], [60, '2026-03-01'])).toBe(70);
    expect(of([60, '2026-03-01'], [80, '2026-03-09'], [70, '2026-03-02'])).toBe(80);
    expect(of([60, '2025-12-31'], [70, '2026-01-01'])).toBe(70);
  });
  it('of one day is the one written down last', () => {
    expect(of([60, '2026-03-01'], [70, '2026-03-01'])).toBe(70);
    expect(of([70, '2026-03-01'], [60, '2026-03-01'])).toBe(60);
  });
  it('is that of the exercise', () => {
    expect(of([60, '2026-03-01'], [70, '2026-03-02', 'b'])).toBe(60);
    expect(of([70, '2026-03-02', 'b'])).toBeUndefined();
  });
});

describe('where a student stands, and where he goes', () => {
  const [one] = value(readRoster(JSON.stringify(rosterFile([student()])), book)).students;
  const where = (
    stated: { now?: number; goal?: number } | undefined,
    reached: number | undefined,
    tempo: { from: number; to: number } | undefined,
  ): string => {
    const asked = exercise(tempo ? { tempo: { beat: frac(1, 4), ...tempo } } : {});
    const who: Student = {
      ...(one as Student),
      tempos: new Map(stated ? [[asked.id, { now: stated.now, goal: stated.goal }]] : []),
      progress: reached === undefined ? [] : [{ exercise: asked.id, tempo: reached, date: '2026-03-01' }],
    };
    const found = tempoOf(who, asked);
    return found ? `${found.now} to ${found.goal}` : 'unknown';
  };
  it.each([
    [undefined, undefined, undefined, 'unknown'],
    [undefined, undefined, { from: 60, to: 90 }, '60 to 90'],
    [{ now: 70 }, undefined, { from: 60, to: 90 }, '70 to 90'],
    [{ now: 70, goal: 80 }, undefined, { from: 60, to: 90 }, '70 to 80'],
    [{ goal: 80 }, undefined, { from: 60, to: 90 }, '60 to 80'],
    [{ goal: 80 }, undefined, undefined, '80 to 80'],
    [{ now: 70, goal: 80 }, 76, { from: 60, to: 90 }, '76 to 80'],
    [{ now: 70, goal: 80 }, 84, { from: 60, to: 90 }, '84 to 84'],
    [undefined, 100, { from: 60, to: 90 }, '100 to 100'],
    [undefined, 64, undefined, '64 to 64'],
  ] as const)('stated %o, reached %s, exercise %o: %s', (stated, reached, tempo, expected) =>
    expect(where(stated, reached, tempo)).toBe(expected),
  );
});

describe('a tempo written into a roster', () => {
  const file = JSON.stringify(rosterFile([student(), student({ name: '1' }), student({ name: 'C.' })]));
  const entry = { student: 'C.', exercise: 'three-steps', tempo: 60, date: '2026-03-01' };
  const wrong = (more: object): string[] => codes(withProgress(file, book, { ...entry, ...more }));
  it.each([
    [{ tempo: 20 }, []],
    [{ tempo: 19 }, ['tempo-range']],
    [{ tempo: 400 }, []],
    [{ tempo: 401 }, ['tempo-range']],
    [{ tempo: Number.NaN }, ['tempo-range']],
    [{ date: '2026-02-28' }, []],
    [{ date: '2026-02-29' }, ['date']],
    [{ date: '26-02-28' }, ['date']],
    [{ exercise: 'x' }, ['unknown-exercise']],
    [{ student: '0' }, ['unknown-student']],
    [{ student: '4' }, ['unknown-student']],
    [{ student: '', tempo: 0, date: '' }, ['unknown-student', 'tempo-range', 'date']],
  ])('%o: %j', (more, expected) => expect(wrong(more)).toEqual(expected));
  it.each([
    ['C.', 3],
    [' C. ', 3],
    ['3', 3],
    // A name goes before a number.
    ['1', 2],
    ['2', 2],
  ])('student %j is number %d', (name, number) =>
    expect(value(withProgress(file, book, { ...entry, student: name })).student).toBe(number),
  );
});

it.each([
  ['2026-03-01', true],
  ['2026-13-01', false],
  ['2026-04-31', false],
  ['2026-3-1', false],
  ['2024-02-29', true],
  ['x2026-03-01', false],
  ['2026-03-011', false],
])('%s is a day: %s', (text, day) => expect(isDate(text)).toBe(day));

it('an exercise that fits in no key is left out of a booklet, and told', () => {
  const narrow = student({ compass: { low: 'F4', high: 'A4' }, assignments: [{ exercises: ['long-home', 'five-up'] }] });
  const roster = value(readRoster(JSON.stringify(rosterFile([narrow])), book));
  const { issues } = buildBooklet(book, roster, 0, '2026-03-31', testFonts());
  expect(
    issues
      .filter(({ code }) => code === 'left-out-of-booklet')
      .map(({ severity, path, message }) => `${severity} ${path.join('.')}: ${message}`),
  ).toEqual([
    'warning students.0: The exercise "five-up" fits this student\'s compass in none of the keys, so it is not printed; widen the compass, or assign another.',
  ]);
});
