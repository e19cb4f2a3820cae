import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { pathText } from '../../core/base/issue.js';
import { bookletStems } from '../../core/people/booklet-names.js';
import { readRoster } from '../../core/people/read.js';
import { value } from '../player/fixture.js';
import { book, rosterFile, student } from './class.js';

const read = (file: object | string) => readRoster(typeof file === 'string' ? file : JSON.stringify(file), book);

/** A roster that is wrong in one way; the code and the place of the first issue, and a word of its sentence. */
const FAULTS: readonly (readonly [string, object | string, string, string, string])[] = [
  ['an empty file', '', 'file-empty', '', 'choose another file'],
  ['no JSON', 'Quillon Marsh, flute', 'not-json', '', 'a roster'],
  ['a book', { format: 'twelvefold', version: 1 }, 'not-this-format', 'format', 'a roster'],
  ['a newer version', { ...rosterFile([student()]), version: 2 }, 'newer-version', 'version', 'install the newer program'],
  ['no version', { format: 'twelvefold-roster', students: [] }, 'unknown-version', 'version', '"version": 1'],
  ['no students', rosterFile([]), 'roster-empty', 'students', 'add one'],
  [
    'a name twice',
    rosterFile([student(), student({ name: ' quillon  MARSH ' })]),
    'name-twice',
    'student 2, name',
    'the same name as student 1',
  ],
  ['a name of spaces', rosterFile([student({ name: '   ' })]), 'name-empty', 'student 1, name', 'initials'],
  ['a name of 301 characters', rosterFile([student({ name: 'x'.repeat(301) })]), 'wrong-field', 'student 1, name', 'at most 300'],
  ['an unknown instrument', rosterFile([student({ instrument: 'flut' })]), 'unknown-instrument', 'student 1, instrument', '"flute"'],
  [
    'a compass upside down',
    rosterFile([student({ compass: { low: 'C6', high: 'C5' } })]),
    'compass-upside-down',
    'student 1, compass',
    'exchange',
  ],
  [
    'an exercise that is none',
    rosterFile([student({ assignments: [{ exercises: ['tree-steps'] }] })]),
    'unknown-exercise',
    'student 1, assignment 1, exercise 1',
    'did you mean "three-steps"',
  ],
  ['a key that is none', rosterFile([student({ keys: ['H'] })]), 'unknown-key', 'student 1, key 1', 'note name'],
  [
    'an empty assignment',
    rosterFile([student({ assignments: [{ exercises: [] }] })]),
    'empty-assignment',
    'student 1, assignment 1, exercises',
    'names no exercise',
  ],
  [
    'a week beyond the term',
    rosterFile([student({ assignments: [{ exercises: ['three-steps'], weeks: [9] }] })]),
    'week-beyond-term',
    'student 1, assignment 1, week 1',
    'from 1 to 8',
  ],
  [
    'a goal below the tempo',
    rosterFile([student({ tempos: [{ exercise: 'three-steps', now: 90, goal: 60 }] })]),
    'goal-below-now',
    'student 1, tempo 1, goal',
    'exchange',
  ],
  [
    'a day that is none',
    rosterFile([student({ progress: [{ exercise: 'three-steps', tempo: 60, date: '2026-02-30' }] })]),
    'date',
    'student 1, progres 1, date',
    'year-month-day',
  ],
  ['a first day that is none', rosterFile([student()], { begins: '2026-13-01' }), 'date', 'begins', 'year-month-day'],
  [
    'lungs of two minutes',
    rosterFile([student({ breath: { lungTime: 120 } })]),
    'lung-time-too-long',
    'student 1, breath, lungTime',
    'at most',
  ],
];

describe('a roster that is wrong', () => {
  it.each(FAULTS)('%s', (_, file, code, place, words) => {
    const { ok, issues } = read(file);
    expect(ok).toBe(false);
    expect([issues[0]?.code, pathText(issues[0]?.path ?? [])]).toEqual([code, place]);
    expect(issues[0]?.message).toContain(words);
  });

  it('never repeats a name or another text of the file', () => {
    const spoiled = [
      student({ name: `Zephyrine ${'y'.repeat(300)}` }),
      student({ name: 'Zephyrine', breath: { age: 'Zephyrine' }, level: 'Zephyrine' }),
      student({ name: 'Zephyrine', staff: 12345 }),
    ];
    const all = [
      ...spoiled.map((one) => read(rosterFile([one]))),
      read(rosterFile([student({ name: 'Zephyrine' }), student({ name: 'Zephyrine' })])),
    ];
    for (const { ok, issues } of all) {
      expect(ok).toBe(false);
      expect(JSON.stringify(issues)).not.toMatch(/Zephyrine|yyy|12345/);
    }
  });

  it('tells unknown fields and reads on', () => {
    const { ok, issues } = read(rosterFile([student({ tempo: 3 })]));
    expect([ok, issues.map(({ code }) => code)]).toEqual([true, ['unknown-field']]);
  });
});

describe('a good roster', () => {
  it('may be large', () => {
    const students = Array.from({ length: 500 }, (_, i) => student({ name: `Student ${i + 1}` }));
    const roster = value(read(rosterFile(students)));
    expect(roster.students.length).toBe(500);
    expect(new Set(bookletStems(book, roster)).size).toBe(500);
  });

  it('is the one in the demo', () => {
    const roster = readRoster(readFileSync('assets/books/harrow-lane.roster', 'utf8'), book);
    expect(roster.issues).toEqual([]);
    expect(value(roster).students.length).toBeGreaterThanOrEqual(6);
  });
});

/** Names that a file system would not take as they are (Microsoft, "Naming Files, Paths, and Namespaces"; POSIX). */
const NAMES = [
  '../../etc/passwd',
  '/////',
  'a/b\\c:d*e?f"g<h>i|j',
  'CON',
  'nul',
  'com1',
  '🎺🎷',
  'x'.repeat(300),
  'Ünïcödé Ñame',
  '名前',
  '.',
  '..',
  'a',
  'A.',
  'student 2',
  '\u200B',
  "O'Hara",
  'trailing.',
];

describe('file names', () => {
  it('are safe everywhere and different, whatever the names', () => {
    const roster = value(read(rosterFile(NAMES.map((name) => student({ name })))));
    const stems = bookletStems(book, roster);
    expect(new Set(stems).size).toBe(NAMES.length);
    for (const stem of stems) {
      expect(stem).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
      expect(Buffer.byteLength(`${stem}.pdf`)).toBeLessThan(200);
    }
    expect(stems[NAMES.indexOf('🎺🎷')]).toBe('small-wheels-student-7-flute');
  });

  it('do not depend on the other students', () => {
    const alone = bookletStems(book, value(read(rosterFile([student({ name: 'Ida P.' })]))));
    const among = bookletStems(book, value(read(rosterFile([student({ name: 'Ida P.' }), student({ name: 'Bo' })]))));
    expect(among[0]).toBe(alone[0]);
  });
});
