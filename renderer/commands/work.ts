/** What the user does with a book, named for undo: used by screens and commands alike. */
import type { ExerciseSource } from '../../core/book/schema.js';
import type { FigureEntry } from '../../electron/services/lists.js';
import type { Preferences } from '../../electron/services/preferences.js';
import * as book from '../edits/book.js';
import { breathFacts, studentAt } from '../edits/people.js';
import { service } from '../host/service.js';
import { edit } from '../state/history.js';
import { focusWork } from '../state/keyboard-focus.js';
import { evenPage } from '../state/page-spread.js';
import { change, type Focus, now, type PlaceName, say, tellIssues } from '../state/state.js';
import { CHANGE, T } from '../texts/texts.js';

const source = () => now().book?.source;

export function focusOn(focus: Focus): void {
  change({ focus, beside: undefined, note: undefined });
}

/** To a place of the window; the pages open where the exercise in focus stands. */
export function goTo(place: PlaceName): void {
  change(({ place: before, focus, shown, spread }) => {
    const page = focus && shown?.firstPage[`${focus.chapter}.${focus.exercise}`];
    return { place, spread: place === 'pages' && before !== 'pages' && page !== undefined ? evenPage(page) : spread };
  });
}

export function stepExercise(step: -1 | 1): void {
  const { focus, book: held } = now();
  if (!held || !focus) return;
  const next = book.neighbour(held.source, focus, step);
  if (next) {
    focusOn(next);
    say(book.exerciseAt(held.source, next)?.title ?? '');
  }
}

export function stepEdition(step: -1 | 1): void {
  const { edition, book: held } = now();
  if (held?.source.editions[edition + step]) showEdition(edition + step);
}

export function showEdition(edition: number): void {
  change({ edition, note: undefined });
}

export function turn(step: -1 | 1): void {
  change(({ spread, shown }) => ({
    place: 'pages',
    spread: evenPage(Math.min(Math.max(0, spread + 2 * step), (shown?.pages.length ?? 1) - 1)),
  }));
}

export function newChapter(): void {
  const before = source();
  if (!before) return;
  const chapter = before.chapters.length;
  const title = chapter === 0 ? T.start.firstChapter : T.book.newChapter;
  const exercise = firstExercise(
    before.chapters.length === 0 ? T.start.firstExercise : T.book.newExercise,
    book.freeId(before, 'exercise'),
  );
  edit({ name: CHANGE.addChapter, focus: { chapter, exercise: 0 } }, (it) =>
    book.setChapters(it, [...it.chapters, { id: book.freeId(it, 'chapter'), title, exercises: [exercise] }]),
  );
  change({ place: 'book' });
  // The name is what one wants to write first; the field also brings the new chapter into sight.
  setTimeout(() => {
    const field = document.getElementById('chapter-title');
    if (field instanceof HTMLInputElement) field.select();
  }, 30);
}

const firstExercise = (title: string, id: string): ExerciseSource => ({ id, title, figure: '1 2 3 4 5 4 3 2 1' });

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
  const made = firstExercise(T.book.newExercise, book.freeId(before, 'exercise'));
  edit({ name: CHANGE.addExercise, focus: at }, (it) => book.addExercise(it, at, made));
  toFigure(true);
}

export function takeFigure(figure: FigureEntry): void {
  const { focus } = now();
  if (!focus) return;
  edit({ name: CHANGE.takeFigure(figure.title) }, (it) =>
    book.setExercise(it, focus, (before) => {
      // A title that was never chosen gives way to the figure's own.
      const { title, ...rest } = before;
      const plain = title === undefined || title === T.book.newExercise || title === T.start.firstExercise;
      return { ...rest, title: plain ? figure.title : title, figure: { library: figure.id } };
    }),
  );
}

const titleOf = (focus: Focus): string => {
  const held = source();
  return (held && book.exerciseAt(held, focus)?.title) || T.book.exercise;
};

export function duplicate(focus: Focus): void {
  const at = { chapter: focus.chapter, exercise: focus.exercise + 1 };
  edit({ name: CHANGE.duplicate(titleOf(focus)), focus: at }, (it) => {
    const exercise = book.exerciseAt(it, focus);
    if (!exercise) return it;
    const title = exercise.title === undefined ? {} : { title: T.book.copyOf(exercise.title) };
    return book.addExercise(it, at, { ...exercise, ...title, id: book.freeId(it, 'exercise') });
  });
}

export function remove(focus: Focus): void {
  const title = titleOf(focus);
  const held = source();
  const next = held && (book.neighbour(held, focus, 1) ?? book.neighbour(held, focus, -1));
  const after = next && next.chapter === focus.chapter && next.exercise > focus.exercise ? focus : next;
  edit({ name: CHANGE.remove(title), focus: after }, (it) => book.removeExercise(it, focus));
  say(T.edit.undoNamed(CHANGE.remove(title)));
}

export function move(from: Focus, to: Focus): void {
  edit({ name: CHANGE.move(titleOf(from)), focus: to }, (it) => book.moveExercise(it, from, to));
}

export function moveStep(focus: Focus, step: -1 | 1): void {
  const held = source();
  const to = held && book.neighbourPlace(held, focus, step);
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
  edit({ name: CHANGE.remove(title), focus: undefined }, (it) =>
    book.setChapters(
      it,
      it.chapters.filter((_, i) => i !== chapter),
    ),
  );
}

export function moveChapter(chapter: number, step: -1 | 1): void {
  const held = source();
  const to = chapter + step;
  if (!held || to < 0 || to >= held.chapters.length) return;
  const { focus } = now();
  const follows = focus && (focus.chapter === chapter ? { ...focus, chapter: to } : focus.chapter === to ? { ...focus, chapter } : focus);
  edit({ name: CHANGE.move(held.chapters[chapter]?.title ?? ''), focus: follows }, (it) =>
    book.setChapters(it, book.moved(it.chapters, chapter, to)),
  );
}

/** Puts the cursor into the figure field, once it is there; what stands in a new one is chosen, so that typing replaces it. */
export function toFigure(fresh = false): void {
  change({ place: 'exercise' });
  focusWork('#figure', { select: fresh });
}

/** From the outline to the figure of an exercise. */
export function openExercise(focus: Focus): void {
  focusOn(focus);
  toFigure();
}

/** To the button that writes the files. */
export function toWriting(): void {
  goTo('print');
  focusWork('.row.act button.main');
}

export function prefer(part: Partial<Preferences>): void {
  change(({ preferences }) => ({ preferences: { ...preferences, ...part } }));
  void service.call('preferences-write', now().preferences).then((done) => tellIssues(done.issues));
}

export function scaleText(by: number): void {
  const text = Math.min(200, Math.max(80, now().preferences.text + by));
  prefer({ text });
  say(`${text} %`);
}

/** The breather and the manner of the breath panel, written into the edition that is shown, so that they are printed. */
export function printBreaths(): void {
  const { book: held, edition, breather, manner, roster, lists, shown } = now();
  const given = held?.source.editions[edition];
  const breathing = shown?.exercise?.breathing;
  if (!held || given === undefined || !breathing) return;
  const facts = breathFacts(studentAt(roster?.source, breather), breather, breathing.lungSeconds);
  const { instrument } = book.editionObject(given);
  const name = lists?.instruments.find((it) => it.id === instrument)?.name ?? instrument;
  edit({ name: CHANGE.breaths(name) }, (it) => book.printBreaths(it, edition, facts, manner));
  say(T.exercise.printed(name));
}
