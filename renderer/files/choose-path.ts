/** A path from the system's window, or from the window's own where the host has none. */
import type { FileKind } from '../../electron/services/contract/file-kinds.js';
import { service } from '../host/service.js';
import { change, now, tellIssues } from '../state/state.js';

export async function choosePath(mode: 'open' | 'save' | 'folder', name: string, of: FileKind = 'book'): Promise<string | undefined> {
  if (now().about?.host === 'loopback') {
    return new Promise((resolve) => change({ dialog: { kind: 'chooser', mode, of, name, chosen: resolve } }));
  }
  const answer =
    mode === 'open'
      ? await service.call('choose-book', { kind: of })
      : mode === 'save'
        ? await service.call('choose-place', { name, kind: of })
        : await service.call('choose-folder', {});
  tellIssues(answer.issues);
  return answer.ok ? answer.value.path : undefined;
}

export const chooseFolder = (): Promise<string | undefined> => choosePath('folder', '');
