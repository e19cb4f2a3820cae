/** The shell: windows, files from the system, menus, and services behind checked calls. No music. */
import { existsSync } from 'node:fs';
import { dirname, extname, isAbsolute, join, resolve } from 'node:path';
import { type App, dialog, type IpcMain, type IpcMainInvokeEvent, Menu, session, shell } from 'electron';
import { bad, error, good, type Result } from '../../core/base/issue.js';
import type { About } from '../services/contract/answers/about.js';
import { FILE_KINDS, type FileKind } from '../services/contract/file-kinds.js';
import { isInside, realPath } from '../services/disk/paths.js';
import { type Host, startHost } from '../services/host/host.js';
import type { Client } from '../services/host/platform.js';
import { guardAll, refuseNetwork, refusePermissions } from './guards.js';
import { menuTemplate } from './menu.js';
import { isOwnAddress, registerScheme, serveWindow } from './scheme.js';
import { utilityJob } from './utility-job.js';
import { type BookWindow, openWindow } from './window.js';

export type ShellSpec = {
  readonly app: App;
  readonly ipcMain: IpcMain;
  /** Folder of dist/electron. */
  readonly code: string;
  /** Folder of the program, with assets and dist. */
  readonly program: string;
  readonly argv: readonly string[];
  readonly platform: NodeJS.Platform;
  readonly now: () => string;
};

/** The first argument that names a book that is there. */
export function bookInArguments(argv: readonly string[], cwd: string): string | undefined {
  const given = argv.slice(1).find((word) => !word.startsWith('-') && extname(word).toLowerCase() === FILE_KINDS.book.ending);
  if (given === undefined) return undefined;
  const path = isAbsolute(given) ? given : resolve(cwd, given);
  return existsSync(path) ? path : undefined;
}

/** Item 17: only the top frame of a window of ours, showing our own page, is answered. */
export function senderIsOurs(event: Pick<IpcMainInvokeEvent, 'senderFrame' | 'sender'>): boolean {
  const frame = event.senderFrame;
  return frame !== null && frame === event.sender.mainFrame && isOwnAddress(frame.url);
}

const filtersOf = (kind: FileKind) => [{ name: FILE_KINDS[kind].name, extensions: [FILE_KINDS[kind].ending.slice(1)] }];

export function startShell(spec: ShellSpec): void {
  const { app, ipcMain, code, program, platform } = spec;
  const mac = platform === 'darwin';
  const windows = new Set<BookWindow>();
  let host: Host | undefined;
  /** Asked for before anything was there. */
  let waiting = bookInArguments(spec.argv, process.cwd());
  let quitting = false;

  registerScheme();
  guardAll(app);

  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return;
  }

  const ofClient = (client: Client): BookWindow | undefined => [...windows].find((own) => own.client === client);

  function show(own: BookWindow): void {
    if (own.window.isMinimized()) own.window.restore();
    own.window.focus();
  }

  /** A book from the system: its window if there is one, an empty one, or a new one. */
  function openBook(path: string | undefined): void {
    const holder = path === undefined ? undefined : [...windows].find((own) => own.path === path);
    if (holder) {
      show(holder);
      return;
    }
    const idle = [...windows].find((own) => own.path === undefined && !own.edited);
    if (path !== undefined && idle) {
      idle.allowed.add(path);
      idle.client.tell('open-book', { path });
      show(idle);
      return;
    }
    addWindow(path);
  }

  function addWindow(open: string | undefined): void {
    const own = openWindow({
      preload: join(code, 'preload.cjs'),
      open,
      closed: (gone) => {
        windows.delete(gone);
        host?.leave(gone.client);
      },
    });
    windows.add(own);
    host?.join(own.client);
  }

  const mayUse = async (path: string, client: Client): Promise<boolean> => {
    const allowed = ofClient(client)?.allowed ?? new Set<string>();
    const real = await realPath(path);
    for (const given of allowed) if (given === path || isInside(await realPath(given), real)) return true;
    return false;
  };
  const allow = (path: string, client: Client) => void ofClient(client)?.allowed.add(path);
  const noWindow = (): Result<never> => bad(error('no-window', [], 'The window is gone.'));

  async function asked(
    client: Client,
    ask: (own: BookWindow) => Promise<string | undefined>,
  ): Promise<Result<{ path: string | undefined }>> {
    const own = ofClient(client);
    if (!own) return noWindow();
    const path = await ask(own);
    if (path !== undefined) own.allowed.add(path);
    return good({ path });
  }

  function services(): Host {
    return startHost({
      data: app.getPath('userData'),
      demo: join(program, 'assets', 'books', 'small-wheels.twelvefold'),
      now: spec.now,
      launch: (kind) => utilityJob(join(code, 'job.js'), kind),
      ahead: waiting ?? join(program, 'assets', 'books', 'small-wheels.twelvefold'),
      platform: {
        about: (_ask, client) => {
          const own = ofClient(client);
          const open = own?.open;
          if (own) own.open = undefined;
          const about: About = { version: app.getVersion(), host: 'electron', mac, today: spec.now().slice(0, 10), firstRun: false, open };
          return good(about);
        },
        'choose-book': ({ kind = 'book' }, client) =>
          asked(client, async ({ window }) => {
            const found = await dialog.showOpenDialog(window, {
              properties: ['openFile'],
              filters: filtersOf(kind),
              defaultPath: app.getPath('documents'),
            });
            return found.canceled ? undefined : found.filePaths[0];
          }),
        'choose-place': ({ name, kind = 'book' }, client) =>
          asked(client, async ({ window, path }) => {
            const { ending } = FILE_KINDS[kind];
            // A roster or an ensemble is offered a place beside its book.
            const beside = path === undefined ? app.getPath('documents') : dirname(path);
            const found = await dialog.showSaveDialog(window, {
              filters: filtersOf(kind),
              defaultPath: kind === 'book' && path !== undefined ? path : join(beside, name),
            });
            const chosen = found.canceled ? undefined : found.filePath;
            return chosen && extname(chosen).toLowerCase() !== ending ? `${chosen}${ending}` : chosen || undefined;
          }),
        'choose-folder': (_ask, client) =>
          asked(client, async ({ window }) => {
            const found = await dialog.showOpenDialog(window, {
              properties: ['openDirectory', 'createDirectory'],
              defaultPath: app.getPath('documents'),
            });
            return found.canceled ? undefined : found.filePaths[0];
          }),
        'folder-list': () => bad(error('not-here', [], 'This program shows the windows of the system to choose files.')),
        // Item 15: openPath gets a path that was checked, never an address; openExternal is not used at all.
        'folder-open': async ({ path }) => good({ shown: (await shell.openPath(path)) === '' }),
        'file-print': async ({ path }) => {
          const trouble = extname(path).toLowerCase() === '.pdf' ? await shell.openPath(path) : 'not a PDF';
          return trouble === ''
            ? good({ address: undefined })
            : bad(error('cannot-show', [], `The system could not open the file: ${trouble}`));
        },
        'close-now': (_ask, client) => {
          const own = ofClient(client);
          if (!own) return noWindow();
          own.mayClose = true;
          own.window.close();
          if (quitting) app.quit();
          return good({});
        },
        'window-title': ({ title, edited, path }, client) => {
          const own = ofClient(client);
          if (!own) return noWindow();
          own.path = path;
          own.edited = edited;
          own.window.setTitle(title);
          own.window.setDocumentEdited(edited);
          own.window.setRepresentedFilename(path ?? '');
          if (path !== undefined) app.addRecentDocument(path);
          return good({});
        },
        mayUse,
        allow,
      },
    });
  }

  // Before the app is ready: on a Mac a book is opened by an event, not by an argument.
  app.on('open-file', (event, path) => {
    event.preventDefault();
    if (app.isReady() && host) openBook(path);
    else waiting = path;
  });
  app.on('second-instance', (_event, argv, cwd) => {
    const path = bookInArguments(argv, cwd);
    const any = [...windows][0];
    if (path !== undefined || !any) openBook(path);
    else show(any);
  });
  app.on('window-all-closed', () => {
    if (!mac) app.quit();
  });
  app.on('activate', () => {
    if (windows.size === 0 && host) addWindow(undefined);
  });
  app.on('before-quit', () => {
    quitting = true;
  });
  app.on('will-quit', () => host?.stop());

  ipcMain.handle('call', async (event, channel: unknown, ask: unknown): Promise<Result<unknown>> => {
    const own = [...windows].find(({ window }) => window.webContents === event.sender);
    if (!senderIsOurs(event) || !own || !host || typeof channel !== 'string') {
      return bad(error('refused', [], 'This call did not come from a window of this program.'));
    }
    // Who goes on working has given up the wish to quit.
    if (channel === 'show') quitting = false;
    return host.call(channel, ask, own.client);
  });

  void app.whenReady().then(() => {
    refusePermissions(session.defaultSession);
    refuseNetwork(session.defaultSession);
    serveWindow(session.defaultSession, join(program, 'dist', 'renderer'));
    host = services();
    Menu.setApplicationMenu(
      Menu.buildFromTemplate(
        menuTemplate((id) => {
          const front = [...windows].find(({ window }) => window.isFocused()) ?? [...windows][0];
          front?.client.tell('command', { id });
        }, mac),
      ),
    );
    addWindow(waiting);
    waiting = undefined;
  });
}
