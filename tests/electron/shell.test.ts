/** The desktop shell under a stand-in for Electron. What only a real Electron can show (its sandbox, its windows) is not shown here. */
import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Result } from '../../core/base/issue.js';
import { electron, FakeChild, FakeWindow } from './stand-in.js';

vi.mock('electron', async () => ({ ...(await import('./stand-in.js')).electron }));

const { startShell, bookInArguments, senderIsOurs } = await import('../../electron/main/shell.js');
const { menuTemplate } = await import('../../electron/main/menu.js');
const { answerWindow, isOwnAddress } = await import('../../electron/main/scheme.js');
const { COMMANDS } = await import('../../renderer/texts/texts.js');

const program = fileURLToPath(new URL('../../', import.meta.url));
let folder = '';

function start(platform: NodeJS.Platform = 'linux', argv: string[] = ['twelvefold']) {
  startShell({
    app: electron.app as never,
    ipcMain: electron.ipcMain as never,
    code: join(program, 'dist', 'electron'),
    program,
    argv,
    platform,
    now: () => '2026-03-01T10:00:00.000Z',
  });
}

/** Until everything that waits for nothing from outside is done. */
const turn = () => new Promise<void>((resolve) => setImmediate(resolve));

async function ready(): Promise<void> {
  electron.app.ready();
  await turn();
}

const windows = () => FakeWindow.all.filter((one) => !one.closed);
const first = (): FakeWindow => {
  const one = windows()[0];
  if (!one) throw new Error('a window is open');
  return one;
};

/** A call as the preload script makes it. */
function call(window: FakeWindow, channel: string, ask: unknown, frame: unknown = window.webContents.mainFrame): Promise<Result<unknown>> {
  const handler = electron.ipcMain.handlers.get('call') as unknown as (...words: unknown[]) => Promise<Result<unknown>>;
  return handler({ sender: window.webContents, senderFrame: frame }, channel, ask);
}

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
  electron.app.removeAllListeners();
  Object.assign(electron.app, { lock: true, isReadyNow: false, folder, quits: 0 });
  FakeWindow.all.length = 0;
  FakeChild.all.length = 0;
  vi.clearAllMocks();
});

describe('the security checklist of Electron', () => {
  beforeEach(async () => {
    start();
    await ready();
  });
  const preferences = () => first().options.webPreferences as Record<string, unknown>;

  it('1 loads only its own content, and cancels every request elsewhere', () => {
    expect(first().address).toBe('twelvefold://window/index.html');
    const decide = (url: string) => {
      let cancelled: unknown;
      (electron.session.defaultSession.request as unknown as (d: unknown, f: (r: { cancel: boolean }) => void) => void)(
        { url },
        ({ cancel }) => {
          cancelled = cancel;
        },
      );
      return cancelled;
    };
    expect([decide('twelvefold://window/x.js'), decide('blob:twelvefold://window/1')]).toEqual([false, false]);
    expect(['https://example.com/', 'http://127.0.0.1/', 'file:///etc/passwd', 'ws://x'].map(decide)).toEqual([true, true, true, true]);
  });
  it('2 no Node in the page', () => {
    expect(preferences()).toMatchObject({ nodeIntegration: false, nodeIntegrationInWorker: false, nodeIntegrationInSubFrames: false });
  });
  it('3 context isolation', () => expect(preferences().contextIsolation).toBe(true));
  it('4 the process is sandboxed', () => expect(preferences().sandbox).toBe(true));
  it('5 no permission is ever given', () => {
    const { permission, check, device } = electron.session.defaultSession;
    let given: unknown;
    (permission as unknown as (...words: unknown[]) => void)({}, 'geolocation', (yes: boolean) => {
      given = yes;
    });
    expect([given, (check as unknown as () => boolean)(), (device as unknown as () => boolean)()]).toEqual([false, false, false]);
  });
  it('6 web security is on', () => expect(preferences().webSecurity).toBe(true));
  it('7 a strict content policy on every answer, refusals too', async () => {
    for (const address of ['twelvefold://window/none.js', 'twelvefold://other/index.html']) {
      expect((await answerWindow(program, address)).headers.get('content-security-policy')).toMatch(
        /^default-src 'none'; script-src 'self'; style-src 'self'/,
      );
    }
  });
  it('8 no insecure content', () => expect(preferences().allowRunningInsecureContent).toBe(false));
  it('9 no experimental features', () => expect(preferences().experimentalFeatures).toBe(false));
  it('10 no Blink features are switched on', () => expect(preferences()).not.toHaveProperty('enableBlinkFeatures'));
  it('11, 12 no webviews at all', () => {
    expect(preferences().webviewTag).toBe(false);
    const event = { preventDefault: vi.fn() };
    first().webContents.emit('will-attach-webview', event);
    expect(event.preventDefault).toHaveBeenCalled();
  });
  it.each(['will-navigate', 'will-redirect'])('13 %s: only to its own address', (name) => {
    const event = (url: string) => ({ url, preventDefault: vi.fn() });
    const [own, other, near] = [
      event('twelvefold://window/index.html'),
      event('https://example.com'),
      event('twelvefold://window.example.com/'),
    ];
    for (const one of [own, other, near]) first().webContents.emit(name, one);
    expect(own.preventDefault).not.toHaveBeenCalled();
    expect(other.preventDefault).toHaveBeenCalled();
    expect(near.preventDefault).toHaveBeenCalled();
  });
  it('14 no page opens a window', () => expect(first().webContents.opens?.({ url: 'https://example.com' })).toEqual({ action: 'deny' }));
  it('15 no address is handed to the system, only checked paths', async () => {
    expect(await call(first(), 'folder-open', { path: '/etc' })).toMatchObject({ ok: false, issues: [{ code: 'not-allowed' }] });
    expect(electron.shell.openPath).not.toHaveBeenCalled();
    expect(electron.shell.openExternal).not.toHaveBeenCalled();
  });
  it('16 a current Electron: the pinned version is 45 or later', async () => {
    const { devDependencies } = (await import('../../package.json', { with: { type: 'json' } })).default as {
      devDependencies: Record<string, string>;
    };
    expect(Number(devDependencies.electron?.split('.')[0])).toBeGreaterThanOrEqual(45);
  });
  it.each([
    ['a frame inside the page', { url: 'twelvefold://window/index.html' }],
    ['no frame', null],
  ])('17 %s is not answered', async (_name, frame) => {
    expect(await call(first(), 'about', {}, frame)).toMatchObject({ ok: false, issues: [{ code: 'refused' }] });
  });
  it('17 a window that shows another page is not answered', async () => {
    const window = first();
    window.webContents.mainFrame = { url: 'https://example.com/' };
    expect(await call(window, 'about', {})).toMatchObject({ ok: false, issues: [{ code: 'refused' }] });
    expect(senderIsOurs({ sender: window.webContents, senderFrame: null } as never)).toBe(false);
  });
  it('17 contents that are no window of ours are not answered', async () => {
    expect(await call(new FakeWindow({}), 'about', {})).toMatchObject({ ok: false, issues: [{ code: 'refused' }] });
  });
  it('18 an own scheme, standard and secure, and the policy is not bypassed', () => {
    expect(electron.protocol.registered[0]).toEqual([
      { scheme: 'twelvefold', privileges: { standard: true, secure: true, supportFetchAPI: true } },
    ]);
    expect(electron.session.defaultSession.scheme?.[0]).toBe('twelvefold');
  });
  it('20 the page gets two functions and no Electron', async () => {
    await import('../../electron/preload.js');
    const api = electron.contextBridge.exposed.twelvefold as { call: (...w: unknown[]) => unknown; on: (...w: unknown[]) => () => void };
    expect(Object.keys(api)).toEqual(['call', 'on']);
    await expect(api.call('no-such-channel', {})).rejects.toThrow();
    await api.call('about', {});
    expect(electron.ipcRenderer.invoke).toHaveBeenCalledWith('call', 'about', {});
    const heard: unknown[][] = [];
    const stop = api.on('progress', (...words: unknown[]) => void heard.push(words));
    electron.ipcRenderer.emit('event:progress', { sender: 'electron' }, { done: 1 });
    stop();
    electron.ipcRenderer.emit('event:progress', {}, { done: 2 });
    expect(heard).toEqual([[{ done: 1 }]]);
    expect(electron.ipcRenderer.listenerCount('event:progress')).toBe(0);
    api.on('not-an-event', () => undefined);
    expect(electron.ipcRenderer.eventNames()).not.toContain('event:not-an-event');
  });
});

describe('the own scheme', () => {
  it.each([
    ['twelvefold://window/index.html', true],
    ['twelvefold://window@evil/index.html', false],
    ['twelvefold://user@window/', false],
    ['twelvefold://window:8080/', false],
    ['https://window/', false],
    ['nonsense', false],
  ])('%s is ours: %s', (address, own) => expect(isOwnAddress(address)).toBe(own));

  it('serves the window and nothing outside its folder', async () => {
    const root = join(program, 'renderer');
    expect(await (await answerWindow(root, 'twelvefold://window/index.html')).text()).toContain('<div id="root">');
    for (const path of ['../package.json', '%2e%2e/package.json', '..%2fpackage.json', 'tsconfig.html']) {
      expect((await answerWindow(root, `twelvefold://window/${path}`)).status, path).toBe(404);
    }
  });
});

describe('windows and books', () => {
  const bookFile = async (name = 'x.twelvefold') => {
    const path = join(folder, name);
    await writeFile(path, '{}');
    return path;
  };

  it('a second instance hands its book over and the first window comes forward', async () => {
    electron.app.lock = false;
    start();
    expect(electron.app.quits).toBe(1);
    expect(windows()).toHaveLength(0);
  });

  it('a book in the arguments is opened by the first window', async () => {
    const path = await bookFile();
    start('linux', ['twelvefold', '--flag', path]);
    await ready();
    expect(await call(first(), 'about', {})).toMatchObject({ value: { open: path, host: 'electron' } });
    // A window that loads again does not open it a second time.
    expect(await call(first(), 'about', {})).toMatchObject({ value: { open: undefined } });
  });

  it('on a Mac a book comes as an event, before or after the program is ready', async () => {
    const [early, late] = [await bookFile('early.twelvefold'), await bookFile('late.twelvefold')];
    start('darwin');
    const event = { preventDefault: vi.fn() };
    electron.app.emit('open-file', event, early);
    await ready();
    expect(event.preventDefault).toHaveBeenCalled();
    expect(await call(first(), 'about', {})).toMatchObject({ value: { open: early } });
    await call(first(), 'window-title', { title: 'early', edited: true, path: early });
    electron.app.emit('open-file', event, late);
    expect(windows()).toHaveLength(2);
  });

  it('a book that is open comes forward; an idle window takes a new one', async () => {
    const [one, two] = [await bookFile('one.twelvefold'), await bookFile('two.twelvefold')];
    start();
    await ready();
    electron.app.emit('second-instance', {}, ['twelvefold', one], folder);
    expect(first().webContents.sent).toContainEqual(['event:open-book', { path: one }]);
    await call(first(), 'window-title', { title: 'one', edited: false, path: one });
    electron.app.emit('second-instance', {}, ['twelvefold', 'one.twelvefold'], folder);
    expect(windows()).toHaveLength(1);
    expect(first().focused).toBe(true);
    electron.app.emit('second-instance', {}, ['twelvefold', two], folder);
    expect(windows()).toHaveLength(2);
  });

  it.each([
    [['x'], undefined],
    [['x', 'none.twelvefold'], undefined],
    [['x', '--open=y.twelvefold'], undefined],
    [['x', 'notes.txt'], undefined],
  ])('%j names no book', (argv, wanted) => expect(bookInArguments(argv, folder)).toBe(wanted));

  it('a window asks before it closes, and closes when told', async () => {
    start();
    await ready();
    const window = first();
    window.close();
    expect(window.closed).toBe(false);
    expect(window.webContents.sent).toContainEqual(['event:close-asked', {}]);
    await call(window, 'close-now', {});
    expect(window.closed).toBe(true);
  });

  it('title, edited mark and file go to the frame of the window', async () => {
    start();
    await ready();
    await call(first(), 'window-title', { title: 'A book – Twelvefold', edited: true, path: '/x.twelvefold' });
    expect(first()).toMatchObject({ title: 'A book – Twelvefold', edited: true, file: '/x.twelvefold' });
  });
});

describe('the save flow', () => {
  beforeEach(async () => {
    start();
    await ready();
  });
  const demo = async () => {
    const opened = await call(first(), 'book-demo', {});
    return opened.ok ? (opened.value as { source: object }).source : {};
  };
  const save = (path: string, source: object) =>
    call(first(), 'book-save', { source, path, stamp: undefined, force: false, document: 'document-1' });

  it('writes only where the user chose', async () => {
    const path = join(folder, 'mine');
    const source = await demo();
    expect(await save(`${path}.twelvefold`, source)).toMatchObject({ ok: false, issues: [{ code: 'not-allowed' }] });
    electron.dialog.showSaveDialog.mockResolvedValueOnce({ canceled: false, filePath: path });
    expect(await call(first(), 'choose-place', { name: 'mine.twelvefold' })).toMatchObject({ value: { path: `${path}.twelvefold` } });
    expect(await save(`${path}.twelvefold`, source)).toMatchObject({ ok: true, value: { name: 'mine.twelvefold' } });
    expect(await save(join(folder, 'other.twelvefold'), source)).toMatchObject({ ok: false });
  });

  it('a roster is chosen by its own ending, and saved beside its book', async () => {
    const path = join(folder, 'lessons');
    electron.dialog.showSaveDialog.mockResolvedValueOnce({ canceled: false, filePath: path });
    const chosen = await call(first(), 'choose-place', { name: 'students.roster', kind: 'roster' });
    expect(chosen).toMatchObject({ value: { path: `${path}.roster` } });
    expect(electron.dialog.showSaveDialog).toHaveBeenLastCalledWith(
      expect.anything(),
      expect.objectContaining({ filters: [expect.objectContaining({ extensions: ['roster'] })] }),
    );
    const source = { format: 'twelvefold-roster', version: 1, students: [{ name: 'A. B.', instrument: 'flute' }] };
    const ask = { source, stamp: undefined, force: false };
    expect(await call(first(), 'roster-save', { ...ask, path: `${path}.roster` })).toMatchObject({ ok: true });
    expect(await call(first(), 'roster-save', { ...ask, path: join(folder, 'other.roster') })).toMatchObject({ ok: false });
    electron.dialog.showOpenDialog.mockResolvedValueOnce({ canceled: false, filePaths: [`${path}.roster`] });
    await call(first(), 'choose-book', { kind: 'roster' });
    expect(await call(first(), 'roster-open', { path: `${path}.roster` })).toMatchObject({ ok: true, value: { source } });
  });

  it('a dialog that is closed chooses nothing', async () => {
    expect(await call(first(), 'choose-place', { name: 'x' })).toMatchObject({ value: { path: undefined } });
    expect(await call(first(), 'choose-book', {})).toMatchObject({ value: { path: undefined } });
  });

  it('a chosen folder may be opened, with what is inside it', async () => {
    electron.dialog.showOpenDialog.mockResolvedValueOnce({ canceled: false, filePaths: [folder] });
    await call(first(), 'choose-folder', {});
    expect(await call(first(), 'folder-open', { path: folder })).toMatchObject({ value: { shown: true } });
    expect(await call(first(), 'file-print', { path: join(folder, 'x.pdf') })).toMatchObject({ ok: true });
    expect(await call(first(), 'file-print', { path: join(folder, 'x.exe') })).toMatchObject({ ok: false });
    expect(electron.shell.openPath.mock.calls.map((words: unknown[]) => words[0])).toEqual([folder, join(folder, 'x.pdf')]);
  });
});

describe('jobs and menus', () => {
  it('the job is a utility process of its own, and stops with the program', async () => {
    start();
    await ready();
    expect(FakeChild.all[0]?.script).toBe(join(program, 'dist', 'electron', 'job.js'));
    const lists = call(first(), 'lists', {});
    await turn();
    FakeChild.all[0]?.emit('exit', 1);
    expect(await lists).toMatchObject({ ok: false, issues: [{ code: 'job-ended' }] });
    expect(first().webContents.sent).toContainEqual(['event:job-restarted', {}]);
    void call(first(), 'lists', {});
    await turn();
    expect(FakeChild.all).toHaveLength(2);
    electron.app.emit('will-quit');
    expect(FakeChild.all[1]?.killed).toBe(true);
  });

  it.each(['linux', 'darwin'] as const)('every entry of the menus on %s is a command, each once, and no keys twice', (platform) => {
    const ran: string[] = [];
    const menus = menuTemplate((id) => void ran.push(id), platform === 'darwin');
    const entries = menus.flatMap((menu) => (Array.isArray(menu.submenu) ? menu.submenu : []));
    for (const entry of entries) (entry.click as (() => void) | undefined)?.();
    expect(ran.length).toBe(new Set(ran).size);
    expect([...ran].sort()).toEqual(Object.keys(COMMANDS).sort());
    const keys = entries.flatMap((entry) => entry.accelerator ?? []);
    expect(keys.length).toBe(new Set(keys).size);
  });

  it('a menu command goes to the window in front', async () => {
    start();
    await ready();
    const menus = electron.Menu.shown as { submenu: { id?: string; click?: () => void }[] }[];
    menus
      .flatMap((menu) => menu.submenu)
      .find((entry) => entry.id === 'book.save')
      ?.click?.();
    expect(first().webContents.sent).toContainEqual(['event:command', { id: 'book.save' }]);
  });
});
