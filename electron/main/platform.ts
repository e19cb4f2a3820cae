/** What the host asks of the system: dialogs, the system's viewer, titles of windows, and which paths a window may use. */
import { dirname, extname, join } from 'node:path';
import { type App, dialog, shell } from 'electron';
import { bad, error, good, type Result } from '../../core/base/issue.js';
import { FILE_KINDS, type FileKind } from '../services/contract/file-kinds.js';
import { isInside, realPath } from '../services/disk/paths.js';
import type { Client, Platform } from '../services/host/platform.js';
import type { BookWindow } from './window.js';
import type { Windows } from './windows.js';

export type SystemSpec = {
  readonly app: App;
  readonly windows: Windows;
  readonly mac: boolean;
  readonly now: () => string;
  /** Asked when a window has closed itself: whoever waits to quit goes on. */
  readonly closed: () => void;
};

const filtersOf = (kind: FileKind) => [{ name: FILE_KINDS[kind].name, extensions: [FILE_KINDS[kind].ending.slice(1)] }];

const noWindow = (): Result<never> => bad(error('no-window', [], 'The window is gone.'));

/** Asks in the client's window; what is chosen there may be used by it from then on. */
async function chosen(
  { windows }: SystemSpec,
  client: Client,
  ask: (own: BookWindow) => Promise<string | undefined>,
): Promise<Result<{ path: string | undefined }>> {
  const own = windows.ofClient(client);
  if (!own) return noWindow();
  const path = await ask(own);
  if (path !== undefined) own.allowed.add(path);
  return good({ path });
}

type Dialogs = Pick<Platform, 'choose-book' | 'choose-place' | 'choose-folder'>;

function dialogs(spec: SystemSpec): Dialogs {
  const { app } = spec;
  async function existing(own: BookWindow, properties: ('openFile' | 'openDirectory' | 'createDirectory')[], kind?: FileKind) {
    const filters = kind ? { filters: filtersOf(kind) } : {};
    const found = await dialog.showOpenDialog(own.window, { properties, ...filters, defaultPath: app.getPath('documents') });
    return found.canceled ? undefined : found.filePaths[0];
  }
  return {
    'choose-book': ({ kind = 'book' }, client) => chosen(spec, client, (own) => existing(own, ['openFile'], kind)),
    'choose-place': ({ name, kind = 'book' }, client) =>
      chosen(spec, client, async ({ window, path }) => {
        const { ending } = FILE_KINDS[kind];
        // A roster or an ensemble is offered a place beside its book.
        const beside = path === undefined ? app.getPath('documents') : dirname(path);
        const found = await dialog.showSaveDialog(window, {
          filters: filtersOf(kind),
          defaultPath: kind === 'book' && path !== undefined ? path : join(beside, name),
        });
        const place = found.canceled ? undefined : found.filePath;
        return place && extname(place).toLowerCase() !== ending ? `${place}${ending}` : place || undefined;
      }),
    'choose-folder': (_ask, client) => chosen(spec, client, (own) => existing(own, ['openDirectory', 'createDirectory'])),
  };
}

function ownWindow({ app, windows, mac, now, closed }: SystemSpec): Pick<Platform, 'about' | 'close-now' | 'window-title'> {
  return {
    about: (_ask, client) => {
      const own = windows.ofClient(client);
      const open = own?.open;
      if (own) own.open = undefined;
      return good({ version: app.getVersion(), host: 'electron', mac, today: now().slice(0, 10), firstRun: false, open });
    },
    'close-now': (_ask, client) => {
      const own = windows.ofClient(client);
      if (!own) return noWindow();
      own.mayClose = true;
      own.window.close();
      closed();
      return good({});
    },
    'window-title': ({ title, edited, path }, client) => {
      const own = windows.ofClient(client);
      if (!own) return noWindow();
      own.path = path;
      own.edited = edited;
      own.window.setTitle(title);
      own.window.setDocumentEdited(edited);
      own.window.setRepresentedFilename(path ?? '');
      if (path !== undefined) app.addRecentDocument(path);
      return good({});
    },
  };
}

export function systemPlatform(spec: SystemSpec): Platform {
  const { windows } = spec;
  return {
    ...ownWindow(spec),
    ...dialogs(spec),
    'folder-list': () => bad(error('not-here', [], 'This program shows the windows of the system to choose files.')),
    // Item 15: openPath gets a path that was checked, never an address; openExternal is not used at all.
    'folder-open': async ({ path }) => good({ shown: (await shell.openPath(path)) === '' }),
    'file-print': async ({ path }) => {
      const trouble = extname(path).toLowerCase() === '.pdf' ? await shell.openPath(path) : 'not a PDF';
      return trouble === ''
        ? good({ address: undefined })
        : bad(error('cannot-show', [], `The system could not open the file: ${trouble}`));
    },
    mayUse: async (path, client) => {
      const real = await realPath(path);
      for (const given of windows.ofClient(client)?.allowed ?? []) {
        if (given === path || isInside(await realPath(given), real)) return true;
      }
      return false;
    },
    allow: (path, client) => void windows.ofClient(client)?.allowed.add(path),
  };
}
