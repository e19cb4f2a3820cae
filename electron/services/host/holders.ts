/** Which window holds which file, so that two windows with the same one are told. */
import { good, type Result } from '../../../core/base/issue.js';
import type { Client } from './platform.js';

export type Holders = {
  /** The window holds this file now; a warning when another one does too. */
  hold<T extends { readonly path: string | undefined; readonly name: string }>(opened: Result<T>, client: Client): Result<T>;
  /** The window saved this file and holds it. */
  saved(path: string, client: Client): void;
  leave(client: Client): void;
};

export function holdersOfFiles(): Holders {
  /** Path of a file → the window that holds it. */
  const holders = new Map<string, string>();
  return {
    hold(opened, client) {
      if (!opened.ok || opened.value.path === undefined) return opened;
      const holder = holders.get(opened.value.path);
      holders.set(opened.value.path, client.id);
      if (holder === undefined || holder === client.id) return opened;
      const words = `"${opened.value.name}" is open in another window too; save in one of them only, or the later save will ask first.`;
      return good(opened.value, [...opened.issues, { code: 'open-twice', severity: 'warning', path: [], message: words }]);
    },
    saved: (path, client) => void holders.set(path, client.id),
    leave(client) {
      for (const [path, holder] of holders) if (holder === client.id) holders.delete(path);
    },
  };
}
