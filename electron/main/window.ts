/** One window: its options, its title, and the question before it closes. */
import { BrowserWindow } from 'electron';
import type { EventName, Events } from '../services/contract/bridge.js';
import type { Client } from '../services/host/platform.js';
import { START } from './scheme.js';

export type BookWindow = {
  readonly window: BrowserWindow;
  readonly client: Client;
  /** The book that it holds. */
  path: string | undefined;
  edited: boolean;
  mayClose: boolean;
  /** Paths that the user chose in this window. */
  readonly allowed: Set<string>;
  /** A book to open when the window asks for it at its start. */
  open: string | undefined;
};

/**
 * Items 2, 3, 4, 6, 8, 9, 10 of the checklist: no Node in the page, its own context, sandboxed, web security on, no
 * insecure content, no experiments. All are Electron's defaults, and stated so that no other default can creep in.
 */
export const webPreferences = (preload: string) => ({
  preload,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  contextIsolation: true,
  sandbox: true,
  webSecurity: true,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  webviewTag: false,
  navigateOnDragDrop: false,
  spellcheck: false,
});

export function openWindow(spec: {
  readonly preload: string;
  readonly open: string | undefined;
  readonly closed: (own: BookWindow) => void;
}): BookWindow {
  const window = new BrowserWindow({
    width: 1400,
    height: 900,
    minWidth: 640,
    minHeight: 480,
    show: false,
    backgroundColor: '#e9e4da',
    webPreferences: webPreferences(spec.preload),
  });
  const contents = window.webContents;
  const own: BookWindow = {
    window,
    client: {
      id: `window-${contents.id}-electron`,
      tell: <E extends EventName>(name: E, event: Events[E]) => {
        if (!contents.isDestroyed()) contents.send(`event:${name}`, event);
      },
    },
    path: undefined,
    edited: false,
    mayClose: false,
    allowed: new Set(spec.open === undefined ? [] : [spec.open]),
    open: spec.open,
  };
  window.once('ready-to-show', () => window.show());
  window.on('close', (event) => {
    if (own.mayClose) return;
    // The window decides, since only it knows what is unsaved.
    event.preventDefault();
    own.client.tell('close-asked', {});
  });
  window.on('closed', () => spec.closed(own));
  // A page that fell over cannot be asked; what was unsaved is in its recovery copy.
  contents.on('render-process-gone', () => {
    own.mayClose = true;
    window.reload();
    own.mayClose = false;
  });
  void window.loadURL(START);
  return own;
}
