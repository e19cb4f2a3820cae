/** Changes of a book in the window, their names, and the way back. */
import { beforeEach, describe, expect, it } from 'vitest';
import { readBookSource } from '../../core/book/read.js';
import type { BookSource } from '../../core/book/schema.js';
import { newBook } from '../../core/book/template.js';
import { writeBook } from '../../core/book/write.js';
import * as edits from '../../renderer/edits/book.js';
import { stretchesOf } from '../../renderer/parts/figure-field.js';
import { edit, isEdited, redo, undo } from '../../renderer/state/history.js';
import { change, now } from '../../renderer/state/state.js';

const source: BookSource = newBook('2026-03-01');
const titles = (book: BookSource) => book.chapters.map((chapter) => chapter.exercises.map((it) => it.id).join(' ')).join(' | ');

describe('edits', () => {
  it.each([
    ['to the next chapter', { chapter: 0, exercise: 0 }, { chapter: 1, exercise: 1 }, 'turn | triad walk minor-triad'],
    ['down in its chapter', { chapter: 0, exercise: 0 }, { chapter: 0, exercise: 1 }, 'turn walk | triad minor-triad'],
    ['up in its chapter', { chapter: 1, exercise: 1 }, { chapter: 1, exercise: 0 }, 'walk turn | minor-triad triad'],
    ['from nowhere', { chapter: 5, exercise: 5 }, { chapter: 0, exercise: 0 }, 'walk turn | triad minor-triad'],
  ])('an exercise moves %s', (_name, from, to, wanted) => expect(titles(edits.moveExercise(source, from, to))).toBe(wanted));

  it.each([
    [{ chapter: 0, exercise: 0 }, -1, undefined],
    [{ chapter: 0, exercise: 1 }, 1, { chapter: 1, exercise: 0 }],
    [{ chapter: 1, exercise: 0 }, -1, { chapter: 0, exercise: 2 }],
    [{ chapter: 1, exercise: 1 }, 1, undefined],
  ] as const)('from %j a step of %d leads to %j', (focus, step, wanted) =>
    expect(edits.neighbourPlace(source, focus, step)).toEqual(wanted),
  );

  it('leaves the source as it was, and what it makes can be saved and opened', () => {
    const before = JSON.stringify(source);
    let book = edits.setExercise(source, { chapter: 0, exercise: 0 }, { metre: '3/4' });
    book = edits.EDITIONS.set(book, 0, { level: 'advanced' });
    book = edits.CHAPTERS.set(book, 0, { text: edits.proseSource('One.\n\nTwo.') });
    book = edits.setBook(book, { subtitle: '' });
    expect(JSON.stringify(source)).toBe(before);
    const read = readBookSource(writeBook(book));
    expect(read.ok && read.value).toEqual(book);
    expect(book.editions[0]).toEqual({ instrument: 'flute', level: 'advanced' });
    expect('subtitle' in book).toBe(false);
  });

  it.each([
    ['rhythm', { chapter: 0, exercise: 0 }, 'eighths', false],
    ['rhythm', { chapter: 1, exercise: 0 }, 'eighth triplets', false],
    ['articulation', { chapter: 0, exercise: 0 }, 'slur 2, tongue 2', true],
    ['passes', { chapter: 1, exercise: 1 }, 2, true],
    ['contour', { chapter: 0, exercise: 0 }, 'nearest', false],
  ] as const)('%s of %j is %j', (field, focus, value, own) => expect(edits.settingOf(source, focus, field)).toEqual({ value, own }));

  it('new ids are free', () => {
    const book = edits.exercisesIn(0).add(source, { id: 'exercise-1', figure: '1' }, 0);
    expect(edits.freeId(book, 'exercise')).toBe('exercise-2');
    expect(edits.freeId(book, 'walk')).toBe('walk-1');
  });
});

describe('the marks under a figure', () => {
  const at = (...span: [number, number]) => ({ code: 'x', severity: 'error' as const, path: [], message: 'x', span });
  it.each([
    ['1 2 3', [], '1 2 3'],
    ['1 x 3', [at(2, 3)], '1 [x] 3'],
    ['1 xy', [at(2, 4)], '1 [xy]'],
    ['1 b', [at(3, 3)], '1 b[ ]'],
    ['x y', [at(0, 1), at(2, 3)], '[x] [y]'],
    ['', [at(0, 0)], '[ ]'],
  ])('%j %#', (text, issues, wanted) =>
    expect(
      stretchesOf(text, issues)
        .map((piece) => (piece.wrong ? `[${piece.text}]` : piece.text))
        .join(''),
    ).toBe(wanted),
  );
});

describe('undo', () => {
  beforeEach(() => {
    change({
      book: { document: 'd', source, path: undefined, name: 'x', stamp: undefined, saved: source, past: [], future: [] },
      focus: { chapter: 0, exercise: 0 },
      edition: 0,
    });
  });
  const title = () => now().book?.source.title;
  const named = (name: string, together?: string) =>
    edit('book', { name, ...(together ? { together } : {}) }, (it) => ({ ...it, title: `${it.title}+` }));

  it('goes back step by step, with names, and forward again', () => {
    named('one');
    named('two');
    expect(now().book?.past.map((step) => step.name)).toEqual(['one', 'two']);
    expect(isEdited(now())).toBe(true);
    undo();
    undo();
    expect(title()).toBe(source.title);
    expect(isEdited(now())).toBe(false);
    undo();
    redo();
    redo();
    redo();
    expect(title()).toBe(`${source.title}++`);
    expect(now().said).toBe('There is nothing to do again.');
  });

  it('letters of one field are one step; another field begins a new one', () => {
    named('typing', 'title');
    named('typing', 'title');
    named('typing', 'other');
    expect(now().book?.past).toHaveLength(2);
    undo();
    undo();
    expect(title()).toBe(source.title);
  });

  it('a new change after undo takes the place of what was undone', () => {
    named('one');
    undo();
    named('two');
    expect(now().book?.future).toEqual([]);
  });

  it('brings the focus and the instrument back with the book', () => {
    edit('book', { name: 'one', focus: { chapter: 1, exercise: 1 }, edition: 3 }, (it) => ({ ...it, title: 'x' }));
    expect(now()).toMatchObject({ focus: { chapter: 1, exercise: 1 }, edition: 3 });
    undo();
    expect(now()).toMatchObject({ focus: { chapter: 0, exercise: 0 }, edition: 0 });
  });

  it('a change that changes nothing is no step', () => {
    edit('book', { name: 'none' }, (it) => it);
    expect(now().book?.past).toEqual([]);
  });
});
