/**
 * What no window may do, whatever it shows. Named after the items of Electron's security checklist.
 * 1 only own content is loaded (the scheme), and requests to anywhere else are cancelled. 2 and 9 to 12: see the window's
 * options and below. 15: no address is ever handed to the system. 16: the version of Electron is pinned in package.json.
 */
import type { App, Session, WebContents } from 'electron';
import { isOwnAddress } from './scheme.js';

/** Item 5: no page gets any permission, and none is there before it is asked for. */
export function refusePermissions(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, decide) => decide(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
}

/** Item 1: nothing is fetched but the window's own files; pictures and blobs made by the window itself pass. */
export function refuseNetwork(session: Session): void {
  session.webRequest.onBeforeRequest((details, decide) => {
    const own =
      isOwnAddress(details.url) ||
      details.url.startsWith('blob:') ||
      details.url.startsWith('data:') ||
      details.url.startsWith('devtools:');
    decide({ cancel: !own });
  });
}

/** Items 11 to 14: no webviews, no navigation away, no windows opened by a page. */
export function guardContents(contents: WebContents): void {
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.on('will-navigate', (event) => {
    if (!isOwnAddress(event.url)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => {
    if (!isOwnAddress(event.url)) event.preventDefault();
  });
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}

export function guardAll(app: App): void {
  app.on('web-contents-created', (_event, contents) => guardContents(contents));
}
