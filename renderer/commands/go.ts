/** Ways through the window: to a place, an exercise, an instrument, a page, and to where the keyboard is wanted. */
import { exerciseAt, neighbour } from '../edits/book.js';
import { focusWork } from '../state/keyboard-focus.js';
import { evenPage } from '../state/page-spread.js';
import { change, type Focus, now, type PlaceName, say } from '../state/state.js';

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
  const { focus, book } = now();
  if (!book || !focus) return;
  const next = neighbour(book.source, focus, step);
  if (next) {
    focusOn(next);
    say(exerciseAt(book.source, next)?.title ?? '');
  }
}

export function stepEdition(step: -1 | 1): void {
  const { edition, book } = now();
  if (book?.source.editions[edition + step]) showEdition(edition + step);
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
