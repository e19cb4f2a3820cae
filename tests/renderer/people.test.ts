/** Changes of rosters and ensembles in the window, their way back, and the breath marks that are printed. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { BookSource } from '../../core/book/schema.js';
import { newBook } from '../../core/book/template.js';
import type { RosterSource, StudentSource } from '../../core/people/schema.js';
import * as books from '../../renderer/edits/book.js';
import * as people from '../../renderer/edits/people.js';
import { refusal } from '../../renderer/files/given-file.js';
import { edit, editCompanion, forgetSteps, isEdited, redo, undo } from '../../renderer/state/history.js';
import { change, now } from '../../renderer/state/state.js';
import { breatherAsk } from '../../renderer/watchers/shown-pages.js';

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

describe('weeks and words as they are typed', () => {
  it.each([
    ['1-4, 6', [1, 2, 3, 4, 6], '1–4, 6'],
    ['3', [3], '3'],
    ['6 2 3', [2, 3, 6], '2–3, 6'],
    ['2–3,3', [2, 3], '2–3'],
    ['', undefined, ''],
    ['x, 0, 5-3', undefined, ''],
  ] as const)('%j is %j', (typed, weeks, shown) => {
    expect(people.weeksFrom(typed)).toEqual(weeks);
    expect(people.weeksText(people.weeksFrom(typed))).toBe(shown);
  });

  it.each([
    ['C  F,Bb', ['C', 'F', 'Bb']],
    [' ', undefined],
  ] as const)('%j: the words %j', (typed, words) => expect(people.wordsFrom(typed)).toEqual(words));
});

describe('students', () => {
  it('an empty field leaves no trace, but a name and an instrument stay as they are typed', () => {
    expect(people.setStudentField(roster, 0, 'breath', {}).students[0]).toEqual({ name: 'A. B.', instrument: 'flute' });
    expect(people.setStudentField(roster, 0, 'name', '').students[0]?.name).toBe('');
    expect(people.setStudentField(roster, 1, 'keys', []).students[1]).toEqual(second);
  });

  it('tempos: written, changed, taken out', () => {
    const one = people.setTempo(second, 'walk', { now: 60 });
    expect(one.tempos).toEqual([{ exercise: 'walk', now: 60 }]);
    const two = people.setTempo(one, 'walk', { goal: 90 });
    expect(two.tempos).toEqual([{ exercise: 'walk', now: 60, goal: 90 }]);
    expect(people.setTempo(people.setTempo(two, 'walk', { now: undefined }), 'walk', { goal: undefined })).toEqual(second);
  });

  it('the tempo reached last is that of the latest day, and of two on one day the later line', () => {
    const more = people.addProgress(people.addProgress(second, 'walk', 72, '2026-03-05'), 'walk', 66, '2026-02-01');
    expect(people.latestTempo(more, 'walk')?.tempo).toBe(72);
    expect(people.latestTempo(people.addProgress(more, 'walk', 70, '2026-03-05'), 'walk')?.tempo).toBe(70);
    expect(people.latestTempo(more, 'run')).toBeUndefined();
  });

  it('exercises stand in the order of the book, and those that it has not at the end', () => {
    const busy = { ...second, assignments: [{ exercises: ['turn', 'gone'] }] };
    expect(people.exercisesOf(busy, ['walk', 'run', 'turn'])).toEqual(['walk', 'turn', 'gone']);
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
    editCompanion('roster', { name: 'one' }, (it) => people.setStudentField(it, 0, 'name', 'E. F.'));
    edit({ name: 'two' }, (it) => books.setBook(it, 'title', 'Other'));
    editCompanion('roster', { name: 'three' }, (it) => ({ ...it, weeks: 6 }));
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
    editCompanion('roster', { name: 'one' }, (it) => ({ ...it, weeks: 6 }));
    edit({ name: 'two' }, (it) => books.setBook(it, 'title', 'Other'));
    forgetSteps('roster');
    change({ roster: undefined });
    undo();
    expect(now().book?.source).toBe(source);
    undo();
    expect(now().roster).toBeUndefined();
  });

  it('a change that changes nothing is no step', () => {
    editCompanion('roster', { name: 'one' }, (it) => it);
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
      people.breathFacts({ name: 'A. B.', instrument: 'flute', ...(breath ? { breath } : {}) }, 'student 0', 14.23);
    expect(facts({ age: 12, height: 150, sex: 'female', experience: 'beginner' })).toEqual({ lungTime: 14.2 });
    expect(facts({ longTone: 18, age: 12, lungs: 'child' })).toEqual({ longTone: 18 });
    expect(facts({ lungTime: 9, age: 12 })).toEqual({ lungTime: 9 });
    expect(facts(undefined)).toEqual({ lungTime: 14.2 });
    expect(people.breathFacts(undefined, 'teen', 14)).toEqual({ lungs: 'teen' });
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
