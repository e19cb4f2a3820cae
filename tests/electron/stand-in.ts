/** A stand-in for Electron's module: records what the shell asks of it, and lets a test play the system. */
import { EventEmitter } from 'node:events';
import { vi } from 'vitest';

type Handler = (...words: never[]) => unknown;

export class FakeContents extends EventEmitter {
  static next = 1;
  id = FakeContents.next++;
  sent: [string, unknown][] = [];
  mainFrame = { url: 'twelvefold://window/index.html' };
  opens: ((details: { url: string }) => unknown) | undefined;
  send = (name: string, data: unknown) => void this.sent.push([name, data]);
  isDestroyed = () => false;
  setWindowOpenHandler = (handler: (details: { url: string }) => unknown) => {
    this.opens = handler;
  };
}

export class FakeWindow extends EventEmitter {
  static all: FakeWindow[] = [];
  webContents = new FakeContents();
  address = '';
  title = '';
  edited = false;
  file = '';
  focused = false;
  minimized = false;
  closed = false;
  constructor(readonly options: Record<string, unknown>) {
    super();
    FakeWindow.all.push(this);
    electron.app.emit('web-contents-created', {}, this.webContents);
  }
  loadURL = async (address: string) => {
    this.address = address;
  };
  show = vi.fn();
  reload = vi.fn();
  focus = () => {
    for (const one of FakeWindow.all) one.focused = one === this;
  };
  restore = vi.fn();
  isMinimized = () => this.minimized;
  isFocused = () => this.focused;
  setTitle = (title: string) => {
    this.title = title;
  };
  setDocumentEdited = (edited: boolean) => {
    this.edited = edited;
  };
  setRepresentedFilename = (file: string) => {
    this.file = file;
  };
  close = () => {
    let stopped = false;
    this.emit('close', {
      preventDefault: () => {
        stopped = true;
      },
    });
    if (stopped || this.closed) return;
    this.closed = true;
    this.emit('closed');
  };
}

class FakeApp extends EventEmitter {
  lock = true;
  ready: () => void = () => undefined;
  isReadyNow = false;
  folder = '/tmp';
  quits = 0;
  requestSingleInstanceLock = () => this.lock;
  whenReady = () =>
    new Promise<void>((resolve) => {
      this.ready = () => {
        this.isReadyNow = true;
        resolve();
      };
    });
  isReady = () => this.isReadyNow;
  quit = () => void this.quits++;
  getPath = (name: string) => `${this.folder}/${name}`;
  getVersion = () => '0.1.0';
  addRecentDocument = vi.fn();
}

export class FakeChild extends EventEmitter {
  static all: FakeChild[] = [];
  posted: unknown[] = [];
  killed = false;
  constructor(
    readonly script: string,
    readonly options: unknown,
  ) {
    super();
    FakeChild.all.push(this);
  }
  postMessage = (message: unknown) => void this.posted.push(message);
  kill = () => {
    this.killed = true;
  };
}

const handlers = new Map<string, Handler>();
const session = {
  permission: undefined as Handler | undefined,
  check: undefined as Handler | undefined,
  device: undefined as Handler | undefined,
  request: undefined as Handler | undefined,
  scheme: undefined as [string, Handler] | undefined,
  setPermissionRequestHandler: (handler: Handler) => {
    session.permission = handler;
  },
  setPermissionCheckHandler: (handler: Handler) => {
    session.check = handler;
  },
  setDevicePermissionHandler: (handler: Handler) => {
    session.device = handler;
  },
  webRequest: {
    onBeforeRequest: (handler: Handler) => {
      session.request = handler;
    },
  },
  protocol: {
    handle: (scheme: string, handler: Handler) => {
      session.scheme = [scheme, handler];
    },
  },
};

export const electron = {
  app: new FakeApp(),
  BrowserWindow: FakeWindow,
  ipcMain: { handlers, handle: (name: string, handler: Handler) => void handlers.set(name, handler) },
  session: { defaultSession: session },
  protocol: {
    registered: [] as unknown[],
    registerSchemesAsPrivileged: (schemes: unknown) => void electron.protocol.registered.push(schemes),
  },
  Menu: {
    shown: undefined as unknown,
    buildFromTemplate: (template: unknown) => template,
    setApplicationMenu: (menu: unknown) => {
      electron.Menu.shown = menu;
    },
  },
  dialog: {
    showOpenDialog: vi.fn(async (): Promise<{ canceled: boolean; filePaths: string[] }> => ({ canceled: true, filePaths: [] })),
    showSaveDialog: vi.fn(async (): Promise<{ canceled: boolean; filePath: string }> => ({ canceled: true, filePath: '' })),
  },
  shell: { openPath: vi.fn(async () => ''), openExternal: vi.fn() },
  utilityProcess: { fork: (script: string, _args: unknown, options: unknown) => new FakeChild(script, options) },
  contextBridge: {
    exposed: {} as Record<string, unknown>,
    exposeInMainWorld: (name: string, api: unknown) => {
      electron.contextBridge.exposed[name] = api;
    },
  },
  ipcRenderer: Object.assign(new EventEmitter(), { invoke: vi.fn(async (..._words: unknown[]) => ({ ok: true, value: {}, issues: [] })) }),
};
