/** New, open, save, recover: nothing is closed before what is unsaved was asked about. */
import type { BookSource } from '../../core/book/schema.js';
import type { Opened } from '../../electron/services/contract/answers/files.js';
import { service } from '../host/service.js';
import { isBookEdited, isCompanionEdited, isEdited } from '../state/history.js';
import { change, notify, now, OF_EDITION, tellIssues } from '../state/state.js';
import { T } from '../texts/texts.js';
import { choosePath } from './choose-path.js';
import { openBeside, recoverCompanion, saveCompanion } from './companion-files.js';
import { type SaveHow, saveFile } from './save-file.js';

function hold(opened: Opened, saved: boolean): void {
  change({
    book: {
      document: crypto.randomUUID(),
      source: opened.source,
      path: opened.path,
      name: opened.name,
      stamp: opened.stamp,
      saved: saved ? opened.source : undefined,
      past: [],
      future: [],
    },
    focus: firstExercise(opened.source),
    edition: 0,
    bpm: undefined,
    drawn: new Map(),
    shown: undefined,
    spread: -1,
    beside: undefined,
    note: undefined,
    proof: undefined,
    built: undefined,
    dialog: undefined,
    // Rosters and ensembles name the exercises of their own book.
    roster: undefined,
    ensemble: undefined,
    rosterView: undefined,
    ensembleView: undefined,
    breather: OF_EDITION,
  });
}

const firstExercise = (source: BookSource) => {
  const chapter = source.chapters.findIndex((it) => it.exercises.length > 0);
  return chapter < 0 ? undefined : { chapter, exercise: 0 };
};

/** Goes on at once when nothing is unsaved, else after the user chose. */
export function guarded(go: () => void): void {
  if (isEdited(now())) change({ dialog: { kind: 'guard', go, building: false } });
  else go();
}

/** Goes on without saving. */
export function discard(go: () => void): void {
  const { book } = now();
  if (book) void service.call('recovery-drop', { document: book.document });
  change({ dialog: undefined });
  go();
}

export async function openPath(path: string): Promise<void> {
  const opened = await service.call('book-open', { path });
  tellIssues(opened.issues);
  if (!opened.ok) return;
  hold(opened.value, true);
  notify('note', T.file.opened(opened.value.name));
  await openBeside(path);
}

export async function openDemo(): Promise<void> {
  const opened = await service.call('book-demo', {});
  tellIssues(opened.issues);
  if (opened.ok) hold({ ...opened.value, name: T.file.demo }, true);
}

export function startBook(source: BookSource): void {
  hold({ source, path: undefined, name: T.file.untitled, stamp: undefined }, false);
}

export function open(): void {
  guarded(async () => {
    const path = await choosePath('open', '');
    if (path !== undefined) await openPath(path);
  });
}

const fileName = (title: string): string =>
  `${
    title
      .normalize('NFKD')
      .replace(/[^\w\s-]/g, '')
      .trim()
      .replace(/\s+/g, '-')
      .toLowerCase()
      .slice(0, 60) || 'book'
  }.twelvefold`;

/** True when the book is on the disk afterwards. */
export async function saveBook(how: SaveHow = {}): Promise<boolean> {
  const { book } = now();
  if (!book) return false;
  const { document } = book;
  const name = book.path ? book.name : fileName(book.source.title);
  return saveFile('book', name, how, (target) => service.call('book-save', { ...target, document }));
}

/** Saves the book and whatever beside it has changed. True when all of it is on the disk afterwards. */
export async function save(): Promise<boolean> {
  const before = now();
  const beside = (['roster', 'ensemble'] as const).filter((of) => isCompanionEdited(before, of));
  if ((isBookEdited(before) || beside.length === 0) && !(await saveBook())) return false;
  for (const of of beside) if (!(await saveCompanion(of))) return false;
  return true;
}

/** Saves what is unsaved, and nothing else. */
export async function saveUnsaved(): Promise<boolean> {
  return isEdited(now()) ? await save() : true;
}

export async function recover(document: string): Promise<void> {
  const opened = await service.call('recovery-open', { document });
  tellIssues(opened.issues);
  if (!opened.ok) return;
  hold(opened.value, false);
  // The copy keeps its name, so that saving puts it away.
  change((state) => (state.book ? { book: { ...state.book, document } } : {}));
  for (const { kind, opened: companion } of opened.value.companions) recoverCompanion(kind, companion);
  notify('note', T.recovery.opened(opened.value.name));
}

/** Asked by the host before the window closes: first what is being written is stopped, then what is unsaved is asked about. */
export function closing(): void {
  const state = now();
  const close = () => void service.call('close-now', {});
  const writing = state.work !== undefined && state.work.kind !== 'prove';
  if (writing) change({ dialog: { kind: 'guard', go: closing, building: true } });
  else if (isEdited(state)) change({ dialog: { kind: 'guard', go: close, building: false } });
  else close();
}
