/** Checks the roster and the ensemble against the book whenever one of them has changed. */
import type { BookSource } from '../../core/book/schema.js';
import type { CompanionSources } from '../../electron/services/contract/answers/files.js';
import type { CompanionKind } from '../../electron/services/contract/file-kinds.js';
import { service } from '../host/service.js';
import { change, listen, now, openFile, type State } from '../state/state.js';

/** Milliseconds without a change before it is asked: the pages come first. */
const REST = 300;

const ASK: { readonly [K in CompanionKind]: (source: BookSource, companion: CompanionSources[K]) => Promise<Partial<State> | undefined> } =
  {
    roster: async (source, roster) => {
      const view = await service.call('roster-check', { source, roster });
      return view.ok ? { rosterView: view.value } : undefined;
    },
    ensemble: async (source, ensemble) => {
      const view = await service.call('ensemble-check', { source, ensemble });
      return view.ok ? { ensembleView: view.value } : undefined;
    },
  };

function checking<K extends CompanionKind>(of: K): () => void {
  let asked: readonly unknown[] = [];
  let timer: ReturnType<typeof setTimeout> | undefined;

  async function ask(): Promise<void> {
    const { book } = now();
    const open = openFile(now(), of);
    if (!book || !open) return;
    const view = await ASK[of](book.source, open.source);
    // What was changed meanwhile is asked about anew.
    if (view && open.source === now()[of]?.source) change(view);
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
