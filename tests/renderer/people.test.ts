/** Changes of rosters and ensembles in the window, their way back, and the breath marks that are printed. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { BookSource } from '../../core/book/schema.js';
import { newBook } from '../../core/book/template.js';
import type { RosterSource, StudentSource } from '../../core/people/schema.js';
import * as books from '../../renderer/edits/book.js';
import { breatherAsk, breathFacts } from '../../renderer/edits/breather.js';
import { exercisesOf, latestTempo, PROGRESS, STUDENTS, setTempo } from '../../renderer/edits/roster.js';
import { weeksFrom, weeksText, wordsFrom } from '../../renderer/edits/typed-lists.js';
import { refusal } from '../../renderer/files/given-file.js';
import { edit, forgetSteps, isEdited, redo, undo } from '../../renderer/state/history.js';
import { change, now } from '../../renderer/state/state.js';

vi.mock('../../renderer/host/service.js', () => ({
  service: { on: () => () => undefined, call: async () => ({ ok: false, issues: [] }) },
}));

const roster: RosterSource = {
  format: 'twelvefold-roster',
  version: 1,
  students: [
    { name: 'A. B.', instrument: 'flute', breath: { longTone: 12, lungs: 'teen' } },
    { name: 'C. D.', instrument: 'oboe', progress: [{ exercise: 'walk', tempo: 60, date: '2026-03-01' }] },
  ],
};
const second = roster.students[1] as StudentSource;
const progress = (student: StudentSource, exercise: string, tempo: number, date: string) =>
  PROGRESS.add(student, { exercise, tempo, date });

describe('weeks and words as they are typed', () => {
  it.each([
    ['1-4, 6', [1, 2, 3, 4, 6], '1–4, 6'],
    ['3', [3], '3'],
    ['6 2 3', [2, 3, 6], '2–3, 6'],
    ['2–3,3', [2, 3], '2–3'],
    ['', undefined, ''],
    ['x, 0, 5-3', undefined, ''],
  ] as const)('%j is %j', (typed, weeks, shown) => {
    expect(weeksFrom(typed)).toEqual(weeks);
    expect(weeksText(weeksFrom(typed))).toBe(shown);
  });

  it.each([
    ['C  F,Bb', ['C', 'F', 'Bb']],
    [' ', undefined],
  ] as const)('%j: the words %j', (typed, words) => expect(wordsFrom(typed)).toEqual(words));
});

describe('students', () => {
  it('an empty field leaves no trace, but a name and an instrument stay as they are typed', () => {
    expect(STUDENTS.set(roster, 0, { breath: {} }).students[0]).toEqual({ name: 'A. B.', instrument: 'flute' });
    expect(STUDENTS.set(roster, 0, { name: '' }).students[0]?.name).toBe('');
    expect(STUDENTS.set(roster, 1, { keys: [] }).students[1]).toEqual(second);
  });

  it('tempos: written, changed, taken out', () => {
    const one = setTempo(second, 'walk', { now: 60 });
    expect(one.tempos).toEqual([{ exercise: 'walk', now: 60 }]);
    const two = setTempo(one, 'walk', { goal: 90 });
    expect(two.tempos).toEqual([{ exercise: 'walk', now: 60, goal: 90 }]);
    expect(setTempo(setTempo(two, 'walk', { now: undefined }), 'walk', { goal: undefined })).toEqual(second);
  });

  it('the tempo reached last is that of the latest day, and of two on one day the later line', () => {
    const more = progress(progress(second, 'walk', 72, '2026-03-05'), 'walk', 66, '2026-02-01');
    expect(latestTempo(more, 'walk')?.tempo).toBe(72);
    expect(latestTempo(progress(more, 'walk', 70, '2026-03-05'), 'walk')?.tempo).toBe(70);
    expect(latestTempo(more, 'run')).toBeUndefined();
  });

  it('exercises stand in the order of the book, and those that it has not at the end', () => {
    const busy = { ...second, assignments: [{ exercises: ['turn', 'gone'] }] };
    expect(exercisesOf(busy, ['walk', 'run', 'turn'])).toEqual(['walk', 'turn', 'gone']);
  });

  it('who breathes is told by the facts of the student', () => {
    expect(breatherAsk({ breather: 'student 0', roster: { ...open, source: roster } })).toEqual({ longTone: 12, lungClass: 'teen' });
    expect(breatherAsk({ breather: 'student 1', roster: { ...open, source: roster } })).toEqual({});
    expect(breatherAsk({ breather: 'child', roster: undefined })).toEqual({ lungClass: 'child' });
  });
});

const open = { path: undefined, name: 'x', stamp: undefined, saved: roster };

describe('the way back', () => {
  const source: BookSource = newBook('2026-03-01');
  beforeEach(() => {
    const book = { document: 'document-1', source, path: undefined, name: 'x', stamp: undefined, saved: source, past: [], future: [] };
    change({ book, roster: { ...open, source: roster }, ensemble: undefined, focus: undefined, edition: 0 });
  });

  it('changes of book and roster are undone in the order in which they were made', () => {
    edit('roster', { name: 'one' }, (it) => STUDENTS.set(it, 0, { name: 'E. F.' }));
    edit('book', { name: 'two' }, (it) => books.setBook(it, { title: 'Other' }));
    edit('roster', { name: 'three' }, (it) => ({ ...it, weeks: 6 }));
    expect(isEdited(now())).toBe(true);
    undo();
    expect([now().roster?.source.weeks, now().book?.source.title]).toEqual([undefined, 'Other']);
    undo();
    undo();
    expect([now().roster?.source, now().book?.source]).toEqual([roster, source]);
    expect(isEdited(now())).toBe(false);
    redo();
    redo();
    expect([now().roster?.source.students[0]?.name, now().book?.source.title]).toEqual(['E. F.', 'Other']);
  });

  it('steps of a roster that is put away lead nowhere; those of the book stay', () => {
    edit('roster', { name: 'one' }, (it) => ({ ...it, weeks: 6 }));
    edit('book', { name: 'two' }, (it) => books.setBook(it, { title: 'Other' }));
    forgetSteps('roster');
    change({ roster: undefined });
    undo();
    expect(now().book?.source).toBe(source);
    undo();
    expect(now().roster).toBeUndefined();
  });

  it('a change that changes nothing is no step', () => {
    edit('roster', { name: 'one' }, (it) => it);
    expect(now().book?.past).toEqual([]);
  });
});

describe('breath marks that are printed', () => {
  const source: BookSource = { ...newBook('2026-03-01'), editions: ['flute', { instrument: 'oboe', breath: { print: 'none' } }] };

  it('follow the player and the manner, and an edition without marks gets them', () => {
    const player = { longTone: 12 };
    expect(books.printsBreaths(source, 0, player, 'in-time')).toBe(false);
    const flute = books.printBreaths(source, 0, player, 'added-beat');
    expect(flute.editions[0]).toEqual({ instrument: 'flute', breath: { manner: 'added beat', player } });
    expect(books.printsBreaths(flute, 0, player, 'added-beat')).toBe(true);
    expect(books.printsBreaths(flute, 0, player, 'in-time')).toBe(false);
    const oboe = books.printBreaths(source, 1, player, 'in-time');
    expect(oboe.editions[1]).toMatchObject({ breath: { print: 'marks and ladders' } });
  });

  it('take of a student no more than seconds', () => {
    const facts = (breath: StudentSource['breath']) =>
      breathFacts({ name: 'A. B.', instrument: 'flute', ...(breath ? { breath } : {}) }, 'student 0', 14.23);
    expect(facts({ age: 12, height: 150, sex: 'female', experience: 'beginner' })).toEqual({ lungTime: 14.2 });
    expect(facts({ longTone: 18, age: 12, lungs: 'child' })).toEqual({ longTone: 18 });
    expect(facts({ lungTime: 9, age: 12 })).toEqual({ lungTime: 9 });
    expect(facts(undefined)).toEqual({ lungTime: 14.2 });
    expect(breathFacts(undefined, 'teen', 14)).toEqual({ lungs: 'teen' });
  });

  it('an edition of which nothing is said prints for a grown-up', () => {
    expect(books.printsBreaths(source, 0, { lungs: 'adult' }, 'in-time')).toBe(true);
    expect(books.printsBreaths(source, 1, { lungs: 'adult' }, 'in-time')).toBe(false);
  });
});

describe('files that are given to the window', () => {
  it.each([
    [[{ name: 'a.mid', size: 5 }], undefined],
    [[{ name: 'a.mid', size: 1_048_577 }], /"a\.mid" is larger than 1 MB/],
    [
      [
        { name: 'a.mid', size: 5 },
        { name: 'b.mid', size: 5 },
      ],
      /One file at a time/,
    ],
    [[], undefined],
  ] as const)('%j: %s', (files, words) => {
    const said = refusal(files, 1_048_576);
    if (words === undefined) expect(said).toBeUndefined();
    else expect(said).toMatch(words);
  });
});
