/** The shell: windows, files from the system, menus, and services behind checked calls. No music. */
import { existsSync } from 'node:fs';
import { extname, isAbsolute, join, resolve } from 'node:path';
import { type App, type IpcMain, type IpcMainInvokeEvent, Menu, session } from 'electron';
import { bad, error, type Result } from '../../core/base/issue.js';
import { FILE_KINDS } from '../services/contract/file-kinds.js';
import { type Host, startHost } from '../services/host/host.js';
import { guardAll, refuseNetwork, refusePermissions } from './guards.js';
import { menuTemplate } from './menu.js';
import { systemPlatform } from './platform.js';
import { isOwnAddress, registerScheme, serveWindow } from './scheme.js';
import { utilityJob } from './utility-job.js';
import { bookWindows, type Windows } from './windows.js';

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

/** What changes while the shell runs. */
type Running = {
  host: Host | undefined;
  /** A book that was asked for before anything was there. */
  waiting: string | undefined;
  quitting: boolean;
};

function startServices({ app, code, program, platform, now }: ShellSpec, windows: Windows, running: Running): Host {
  const demo = join(program, 'assets', 'books', 'small-wheels.twelvefold');
  const closed = (): void => {
    if (running.quitting) app.quit();
  };
  return startHost({
    data: app.getPath('userData'),
    demo,
    now,
    launch: (kind) => utilityJob(join(code, 'job.js'), kind),
    ahead: running.waiting ?? demo,
    platform: systemPlatform({ app, windows, mac: platform === 'darwin', now, closed }),
  });
}

function followSystem({ app, platform }: ShellSpec, windows: Windows, running: Running): void {
  // Before the app is ready: on a Mac a book is opened by an event, not by an argument.
  app.on('open-file', (event, path) => {
    event.preventDefault();
    if (app.isReady() && running.host) windows.openBook(path);
    else running.waiting = path;
  });
  app.on('second-instance', (_event, argv, cwd) => {
    const path = bookInArguments(argv, cwd);
    const [any] = windows.all();
    if (path !== undefined || !any) windows.openBook(path);
    else windows.show(any);
  });
  app.on('window-all-closed', () => {
    if (platform !== 'darwin') app.quit();
  });
  app.on('activate', () => {
    if (windows.all().length === 0 && running.host) windows.add(undefined);
  });
  app.on('before-quit', () => {
    running.quitting = true;
  });
  app.on('will-quit', () => running.host?.stop());
}

function answerCalls({ ipcMain }: ShellSpec, windows: Windows, running: Running): void {
  ipcMain.handle('call', async (event, channel: unknown, ask: unknown): Promise<Result<unknown>> => {
    const own = windows.all().find(({ window }) => window.webContents === event.sender);
    const { host } = running;
    if (!senderIsOurs(event) || !own || !host || typeof channel !== 'string') {
      return bad(error('refused', [], 'This call did not come from a window of this program.'));
    }
    // Who goes on working has given up the wish to quit.
    if (channel === 'show') running.quitting = false;
    return host.call(channel, ask, own.client);
  });
}

export function startShell(spec: ShellSpec): void {
  const { app, code, program, platform } = spec;
  const running: Running = { host: undefined, waiting: bookInArguments(spec.argv, process.cwd()), quitting: false };
  registerScheme();
  guardAll(app);
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return;
  }
  const windows = bookWindows(code, () => running.host);
  followSystem(spec, windows, running);
  answerCalls(spec, windows, running);
  void app.whenReady().then(() => {
    refusePermissions(session.defaultSession);
    refuseNetwork(session.defaultSession);
    serveWindow(session.defaultSession, join(program, 'dist', 'renderer'));
    running.host = startServices(spec, windows, running);
    const command = (id: Parameters<Parameters<typeof menuTemplate>[0]>[0]): void => {
      const all = windows.all();
      const front = all.find(({ window }) => window.isFocused()) ?? all[0];
      front?.client.tell('command', { id });
    };
    Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(command, platform === 'darwin')));
    windows.add(running.waiting);
    running.waiting = undefined;
  });
}
