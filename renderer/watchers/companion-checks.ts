/** Holds the roster and the ensemble against the book whenever one of them has changed. */
import type { CompanionKind } from '../../electron/services/file-kinds.js';
import { service } from '../host/service.js';
import { change, listen, now } from '../state/state.js';

/** Milliseconds without a change before it is asked: the pages come first. */
const REST = 300;

function checking(of: CompanionKind): () => void {
  let asked: readonly unknown[] = [];
  let timer: ReturnType<typeof setTimeout> | undefined;

  async function ask(): Promise<void> {
    const { book } = now();
    const open = now()[of];
    if (!book || !open) return;
    const { source } = book;
    const question = [source, open.source];
    const view =
      of === 'roster'
        ? await service.call('roster-check', { source, roster: open.source })
        : await service.call('ensemble-check', { source, ensemble: open.source });
    // What was changed meanwhile is asked about anew.
    if (!view.ok || question[1] !== now()[of]?.source) return;
    change(of === 'roster' ? { rosterView: view.value as never } : { ensembleView: view.value as never });
  }

  return () => {
    const present = [now().book?.source, now()[of]?.source];
    if (present.every((value, i) => value === asked[i])) return;
    asked = present;
    clearTimeout(timer);
    timer = setTimeout(() => void ask(), REST);
  };
}

export function startCompanionChecks(): () => void {
  const follow = [checking('roster'), checking('ensemble')];
  return listen(() => {
    for (const one of follow) one();
  });
}
