/** What the user does with the chapters and exercises of a book, named for undo: used by screens and commands alike. */
import type { ExerciseSource } from '../../core/book/schema.js';
import type { FigureEntry } from '../../electron/services/contract/answers/lists.js';
import * as book from '../edits/book.js';
import { edit } from '../state/history.js';
import { change, type Focus, now, say } from '../state/state.js';
import { CHANGE, T } from '../texts/texts.js';
import { toFigure } from './go.js';

const { CHAPTERS, exercisesIn } = book;

const source = () => now().book?.source;

const firstExercise = (title: string, id: string): ExerciseSource => ({ id, title, figure: '1 2 3 4 5 4 3 2 1' });

export function newChapter(): void {
  const before = source();
  if (!before) return;
  const chapter = before.chapters.length;
  const title = chapter === 0 ? T.start.firstChapter : T.book.newChapter;
  const exercise = firstExercise(chapter === 0 ? T.start.firstExercise : T.book.newExercise, book.freeId(before, 'exercise'));
  edit('book', { name: CHANGE.addChapter, focus: { chapter, exercise: 0 } }, (it) =>
    CHAPTERS.add(it, { id: book.freeId(it, 'chapter'), title, exercises: [exercise] }),
  );
  change({ place: 'book' });
  // The name is what one wants to write first; the field also brings the new chapter into sight.
  setTimeout(() => {
    const field = document.getElementById('chapter-title');
    if (field instanceof HTMLInputElement) field.select();
  }, 30);
}

/** Behind the one in focus, or at the end of a chapter. */
export function newExercise(chapter?: number): void {
  const before = source();
  const { focus } = now();
  if (!before) return;
  if (before.chapters.length === 0) {
    newChapter();
    toFigure(true);
    return;
  }
  const own = typeof chapter === 'number' ? chapter : (focus?.chapter ?? before.chapters.length - 1);
  const end = before.chapters[own]?.exercises.length ?? 0;
  const at = { chapter: own, exercise: typeof chapter !== 'number' && focus ? focus.exercise + 1 : end };
  addExercise(CHANGE.addExercise, at, firstExercise(T.book.newExercise, book.freeId(before, 'exercise')));
  toFigure(true);
}

export function addExercise(name: string, at: Focus, made: ExerciseSource): void {
  edit('book', { name, focus: at }, (it) => exercisesIn(at.chapter).add(it, made, at.exercise));
}

export function takeFigure(figure: FigureEntry): void {
  const { focus } = now();
  if (!focus) return;
  edit('book', { name: CHANGE.takeFigure(figure.title) }, (it) => {
    // A title that was never chosen gives way to the figure's own.
    const { title } = book.exerciseAt(it, focus) ?? {};
    const plain = title === undefined || title === T.book.newExercise || title === T.start.firstExercise;
    return book.setExercise(it, focus, { title: plain ? figure.title : title, figure: { library: figure.id } });
  });
}

const titleOf = (focus: Focus): string => {
  const before = source();
  return (before && book.exerciseAt(before, focus)?.title) || T.book.exercise;
};

export function duplicate(focus: Focus): void {
  const at = { chapter: focus.chapter, exercise: focus.exercise + 1 };
  edit('book', { name: CHANGE.duplicate(titleOf(focus)), focus: at }, (it) =>
    exercisesIn(focus.chapter).duplicate(it, focus.exercise, (exercise) => {
      const title = exercise.title === undefined ? {} : { title: T.book.copyOf(exercise.title) };
      return { ...exercise, ...title, id: book.freeId(it, 'exercise') };
    }),
  );
}

export function remove(focus: Focus): void {
  const title = titleOf(focus);
  const before = source();
  const next = before && (book.neighbour(before, focus, 1) ?? book.neighbour(before, focus, -1));
  const after = next && next.chapter === focus.chapter && next.exercise > focus.exercise ? focus : next;
  edit('book', { name: CHANGE.remove(title), focus: after }, (it) => exercisesIn(focus.chapter).remove(it, focus.exercise));
  say(T.edit.undoNamed(CHANGE.remove(title)));
}

export function move(from: Focus, to: Focus): void {
  edit('book', { name: CHANGE.move(titleOf(from)), focus: to }, (it) => book.moveExercise(it, from, to));
}

export function moveStep(focus: Focus, step: -1 | 1): void {
  const before = source();
  const to = before && book.neighbourPlace(before, focus, step);
  if (to) move(focus, to);
}

const inFocus = (act: (focus: Focus) => void) => () => {
  const { focus } = now();
  if (focus) act(focus);
};
export const duplicateInFocus = inFocus(duplicate);
export const removeInFocus = inFocus(remove);
export const moveInFocus = (step: -1 | 1): void => inFocus((focus) => moveStep(focus, step))();

export function removeChapter(chapter: number): void {
  const title = source()?.chapters[chapter]?.title ?? '';
  edit('book', { name: CHANGE.remove(title), focus: undefined }, (it) => CHAPTERS.remove(it, chapter));
}

export function moveChapter(chapter: number, step: -1 | 1): void {
  const before = source();
  const to = chapter + step;
  if (!before || to < 0 || to >= before.chapters.length) return;
  const { focus } = now();
  const follows = focus && (focus.chapter === chapter ? { ...focus, chapter: to } : focus.chapter === to ? { ...focus, chapter } : focus);
  edit('book', { name: CHANGE.move(before.chapters[chapter]?.title ?? ''), focus: follows }, (it) => CHAPTERS.move(it, chapter, to));
}
