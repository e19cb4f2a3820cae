/** Every change of the book goes through here: it gets a name and can be undone. */
import type { BookSource } from '../core/book/schema.js';
import { change, type Focus, now, type State, type Step, say } from './state.js';
import { T } from './texts.js';

/** Steps that can be undone. */
const MOST_STEPS = 500;

/** Changes of the same thing within this time, in milliseconds, are one step: a word is undone, not a letter. */
const TOGETHER = 1500;

let lastKey: string | undefined;
let lastTime = 0;

export type Edit = {
  readonly name: string;
  /** Changes with the same key that follow one another closely are one step. */
  readonly together?: string;
  /** What is in focus afterwards. */
  readonly focus?: Focus | undefined;
  readonly edition?: number;
};

const stepOf = (state: State, name: string): Step | undefined =>
  state.book && { name, source: state.book.source, focus: state.focus, edition: state.edition };

export function edit({ name, together, ...after }: Edit, make: (source: BookSource) => BookSource): void {
  const state = now();
  const { book } = state;
  if (!book) return;
  const source = make(book.source);
  if (source === book.source) return;
  const time = performance.now();
  const joined = together !== undefined && together === lastKey && time - lastTime < TOGETHER && book.past.length > 0;
  lastKey = together;
  lastTime = time;
  const step = stepOf(state, name);
  const past = joined || !step ? book.past : [...book.past, step].slice(-MOST_STEPS);
  change({
    book: { ...book, source, past, future: [] },
    ...('focus' in after ? { focus: after.focus, beside: undefined } : {}),
    ...(after.edition === undefined ? {} : { edition: after.edition }),
  });
}

function go(from: 'past' | 'future', to: 'past' | 'future', nothing: string, told: (name: string) => string): void {
  const state = now();
  const { book } = state;
  const step = book?.[from].at(-1);
  lastKey = undefined;
  if (!book || !step) {
    say(nothing);
    return;
  }
  const back = stepOf(state, step.name) as Step;
  change({
    book: { ...book, source: step.source, [from]: book[from].slice(0, -1), [to]: [...book[to], back] },
    focus: step.focus,
    edition: step.edition,
    said: told(step.name),
  });
}

export const undo = (): void => go('past', 'future', T.edit.nothingToUndo, T.edit.undone);
export const redo = (): void => go('future', 'past', T.edit.nothingToRedo, T.edit.redone);

export const isEdited = ({ book }: State): boolean => book !== undefined && book.source !== book.saved;
