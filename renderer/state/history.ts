/** Every change of the book, of its roster and of its ensemble goes through here: it gets a name and can be undone. */
import type { CompanionKind, FileKind } from '../../electron/services/contract/file-kinds.js';
import { T } from '../texts/texts.js';
import { change, type Focus, now, type OpenBook, openFile, type Sources, type State, type Step, say } from './state.js';

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

/** What stands there now, as a step that leads back to it. */
function stepOf({ book, roster, ensemble, focus, edition }: State, of: FileKind, name: string): Step | undefined {
  const at = { name, focus, edition };
  if (of === 'book') return book && { ...at, of, source: book.source };
  if (of === 'roster') return roster && { ...at, of, source: roster.source };
  return ensemble && { ...at, of, source: ensemble.source };
}

/** The steps with one more, unless it belongs to the last one. */
function pastWith(state: State, book: OpenBook, of: FileKind, name: string, together: string | undefined): readonly Step[] {
  const key = together === undefined ? undefined : `${of} ${together}`;
  const time = performance.now();
  const joined = key !== undefined && key === lastKey && time - lastTime < TOGETHER && book.past.length > 0;
  lastKey = key;
  lastTime = time;
  const step = stepOf(state, of, name);
  return joined || !step ? book.past : [...book.past, step].slice(-MOST_STEPS);
}

/** A change of the book, or of the roster or the ensemble that is open beside it. */
export function edit<K extends FileKind>(of: K, { name, together, ...after }: Edit, make: (source: Sources[K]) => Sources[K]): void {
  const state = now();
  const { book } = state;
  const open = openFile(state, of);
  if (!book || !open) return;
  const source = make(open.source);
  if (source === open.source) return;
  const past = pastWith(state, book, of, name, together);
  const steps = { ...book, past, future: [] };
  change({
    book: steps,
    [of]: { ...(of === 'book' ? steps : open), source },
    ...('focus' in after ? { focus: after.focus, beside: undefined } : {}),
    ...(after.edition === undefined ? {} : { edition: after.edition }),
  });
}

/** Steps of a companion that is no longer open lead nowhere. */
export function forgetSteps(of: CompanionKind): void {
  change(({ book }) =>
    book ? { book: { ...book, past: book.past.filter((it) => it.of !== of), future: book.future.filter((it) => it.of !== of) } } : {},
  );
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
  const back = stepOf(state, step.of, step.name);
  const steps = { [from]: book[from].slice(0, -1), [to]: back ? [...book[to], back] : book[to] };
  change({
    book: { ...book, ...steps, ...(step.of === 'book' ? { source: step.source } : {}) },
    ...(step.of === 'book' ? { focus: step.focus, edition: step.edition } : { [step.of]: { ...state[step.of], source: step.source } }),
    said: told(step.name),
  });
}

export const undo = (): void => go('past', 'future', T.edit.nothingToUndo, T.edit.undone);
export const redo = (): void => go('future', 'past', T.edit.nothingToRedo, T.edit.redone);

export const isBookEdited = ({ book }: Pick<State, 'book'>): boolean => book !== undefined && book.source !== book.saved;
export const isCompanionEdited = (state: Pick<State, CompanionKind>, of: CompanionKind): boolean =>
  state[of] !== undefined && state[of].source !== state[of].saved;
/** Whether anything that is open would be lost. */
export const isEdited = (state: State): boolean =>
  isBookEdited(state) || isCompanionEdited(state, 'roster') || isCompanionEdited(state, 'ensemble');
