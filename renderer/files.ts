/** New, open, save, recover: nothing is closed before what is unsaved was asked about. */
import type { BookSource } from '../core/book/schema.js';
import type { Opened } from '../electron/services/contract.js';
import { isEdited } from './history.js';
import { service } from './service.js';
import { change, listen, notify, now, tellIssues } from './state.js';
import { T } from './texts.js';

const RECOVERY_AFTER = 800;

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
}

export async function openDemo(): Promise<void> {
  const opened = await service.call('book-demo', {});
  tellIssues(opened.issues);
  if (opened.ok) hold({ ...opened.value, name: T.file.demo }, true);
}

export function startBook(source: BookSource): void {
  hold({ source, path: undefined, name: T.file.untitled, stamp: undefined }, false);
}

/** A path from the system's window, or from the window's own where the host has none. */
async function choose(mode: 'open' | 'save' | 'folder', name: string): Promise<string | undefined> {
  if (now().about?.host === 'loopback') {
    return new Promise((resolve) => change({ dialog: { kind: 'chooser', mode, name, chosen: resolve } }));
  }
  const answer =
    mode === 'open'
      ? await service.call('choose-book', {})
      : mode === 'save'
        ? await service.call('choose-place', { name })
        : await service.call('choose-folder', {});
  tellIssues(answer.issues);
  return answer.ok ? answer.value.path : undefined;
}

export const chooseFolder = (): Promise<string | undefined> => choose('folder', '');

export function open(): void {
  guarded(async () => {
    const path = await choose('open', '');
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
export async function save(as = false, force = false): Promise<boolean> {
  const { book } = now();
  if (!book) return false;
  const path = as || book.path === undefined ? await choose('save', book.path ? book.name : fileName(book.source.title)) : book.path;
  if (path === undefined) return false;
  const { source } = book;
  const other = path !== book.path;
  const saved = await service.call('book-save', {
    source,
    path,
    stamp: other ? undefined : book.stamp,
    // The system's window has asked already whether a file may be replaced.
    force: force || (other && now().about?.host === 'electron'),
    document: book.document,
  });
  if (!saved.ok) {
    const conflict = saved.issues.find((issue) => issue.code === 'changed-on-disk');
    if (conflict) change({ dialog: { kind: 'conflict', words: conflict.message } });
    else tellIssues(saved.issues);
    return false;
  }
  change((state) => (state.book?.document === book.document ? { book: { ...state.book, ...saved.value, saved: source } } : {}));
  notify('note', T.file.savedAs(saved.value.name));
  return true;
}

/** Keeps a recovery copy while there are changes, and tells the host what the window holds. */
export function startKeeping(): () => void {
  let kept: BookSource | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let title = '';

  async function keep(): Promise<void> {
    const state = now();
    const { book } = state;
    if (!book || !isEdited(state) || book.source === kept) return;
    kept = book.source;
    const { document, source, path, name } = book;
    const done = await service.call('recovery-keep', { document, source, path, name: path ? name : source.title });
    if (!done.ok) tellIssues(done.issues);
  }

  return listen(() => {
    const state = now();
    const { book } = state;
    const edited = isEdited(state);
    const words = `${book ? (book.path ? book.name : book.source.title) : ''}\n${edited}\n${book?.path ?? ''}`;
    if (words !== title) {
      title = words;
      const shown = book ? `${book.path ? book.name : book.source.title} – ${T.app}` : T.app;
      document.title = edited ? `• ${shown}` : shown;
      void service.call('window-title', { title: shown.slice(0, 300), edited, path: book?.path });
    }
    if (!edited || book?.source === kept) return;
    clearTimeout(timer);
    timer = setTimeout(() => void keep(), RECOVERY_AFTER);
  });
}

export async function recover(document: string): Promise<void> {
  const opened = await service.call('recovery-open', { document });
  tellIssues(opened.issues);
  if (!opened.ok) return;
  hold(opened.value, false);
  // The copy keeps its name, so that saving puts it away.
  change((state) => (state.book ? { book: { ...state.book, document } } : {}));
  notify('note', T.recovery.opened(opened.value.name));
}

/** Asked by the host before the window closes. */
export function closing(): void {
  const state = now();
  const close = () => void service.call('close-now', {});
  if (state.work?.kind === 'build') change({ dialog: { kind: 'guard', go: close, building: true } });
  else if (isEdited(state)) change({ dialog: { kind: 'guard', go: close, building: false } });
  else close();
}
