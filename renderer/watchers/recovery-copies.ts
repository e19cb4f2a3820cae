/** Recovery copies of what is not saved yet, and what the host shows of it in the window's frame. */

import { service } from '../host/service.js';
import { isCompanionEdited, isEdited } from '../state/history.js';
import { listen, now, type State, tellIssues } from '../state/state.js';
import { T } from '../texts/texts.js';

/** Milliseconds without a change before a copy is written. */
const REST = 800;

/** Unsaved companions, for the recovery copy. */
function unsaved(state: State) {
  return (['roster', 'ensemble'] as const).flatMap((kind) => {
    const open = state[kind];
    return open && isCompanionEdited(state, kind) ? [{ kind, source: open.source, path: open.path, name: open.name }] : [];
  });
}

/** What a copy is made of. With every saving of the book its copy is put away, so that one with an unsaved roster is written anew. */
const copiedOf = ({ book, roster, ensemble }: State): readonly unknown[] => [book?.source, book?.saved, roster?.source, ensemble?.source];

function tellFrame(state: State, edited: boolean): void {
  const { book } = state;
  const shown = book ? `${book.path ? book.name : book.source.title} – ${T.app}` : T.app;
  document.title = edited ? `• ${shown}` : shown;
  void service.call('window-title', { title: shown.slice(0, 300), edited, path: book?.path });
}

/** A recovery copy is written while there are changes and put away when there are none; the host is told what the window shows. */
export function startRecoveryCopies(): () => void {
  let copied: readonly unknown[] = [];
  /** Of which book a copy may lie on the disk. */
  let copyOf: string | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let title = '';

  const isCopied = (state: State) => copiedOf(state).every((part, i) => part === copied[i]);

  function drop(document: string): void {
    copied = [];
    copyOf = undefined;
    clearTimeout(timer);
    void service.call('recovery-drop', { document });
  }

  async function copy(): Promise<void> {
    const state = now();
    const { book } = state;
    if (!book || !isEdited(state) || isCopied(state)) return;
    copied = copiedOf(state);
    const { document, source, path, name } = book;
    copyOf = document;
    const companions = unsaved(state);
    const done = await service.call('recovery-keep', {
      document,
      source,
      path,
      name: (path ? name : source.title).slice(0, 300),
      ...(companions.length > 0 ? { companions } : {}),
    });
    if (!done.ok) tellIssues(done.issues);
    // Saved meanwhile: the copy came too late and is of no use.
    const present = now();
    if (present.book?.document === document && !isEdited(present)) drop(document);
  }

  return listen(() => {
    const state = now();
    const { book } = state;
    const edited = isEdited(state);
    const words = `${book ? (book.path ? book.name : book.source.title) : ''}\n${edited}\n${book?.path ?? ''}`;
    if (words !== title) {
      title = words;
      tellFrame(state, edited);
    }
    if (!edited) {
      if (book && copyOf === book.document) drop(book.document);
      return;
    }
    if (isCopied(state)) return;
    clearTimeout(timer);
    timer = setTimeout(() => void copy(), REST);
  });
}
