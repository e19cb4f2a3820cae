/** The windows of the shell: who is who, and which of them shows a book. */
import { join } from 'node:path';
import type { Host } from '../services/host/host.js';
import type { Client } from '../services/host/platform.js';
import { type BookWindow, openWindow } from './window.js';

export type Windows = {
  readonly all: () => readonly BookWindow[];
  readonly ofClient: (client: Client) => BookWindow | undefined;
  readonly show: (own: BookWindow) => void;
  /** A book from the system: in its window if there is one, an empty one, or a new one. */
  readonly openBook: (path: string | undefined) => void;
  /** A new window, with this book in it if one is given. */
  readonly add: (open: string | undefined) => void;
};

/** `code`: folder of dist/electron; `host`: who answers the windows, once it is there. */
export function bookWindows(code: string, host: () => Host | undefined): Windows {
  const windows = new Set<BookWindow>();

  function show(own: BookWindow): void {
    if (own.window.isMinimized()) own.window.restore();
    own.window.focus();
  }

  function add(open: string | undefined): void {
    const own = openWindow({
      preload: join(code, 'preload.cjs'),
      open,
      closed: (gone) => {
        windows.delete(gone);
        host()?.leave(gone.client);
      },
    });
    windows.add(own);
    host()?.join(own.client);
  }

  function openBook(path: string | undefined): void {
    const holder = path === undefined ? undefined : [...windows].find((own) => own.path === path);
    const idle = [...windows].find((own) => own.path === undefined && !own.edited);
    if (holder) show(holder);
    else if (path !== undefined && idle) {
      idle.allowed.add(path);
      idle.client.tell('open-book', { path });
      show(idle);
    } else add(path);
  }

  return { all: () => [...windows], ofClient: (client) => [...windows].find((own) => own.client === client), show, openBook, add };
}
