/** Puts the loopback host together: what a browser window lacks of a desktop is done here or not at all. */
import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import { good } from '../../core/base/issue.js';
import type { About } from '../services/contract/answers/about.js';
import { folderList } from '../services/disk/folders.js';
import { isInside, realPath } from '../services/disk/paths.js';
import { startHost } from '../services/host/host.js';
import type { RunningJob } from '../services/host/job-client.js';
import { type Loopback, startLoopback } from './server.js';

export type StartSpec = {
  /** Folder of the built window. */
  readonly window: string;
  /** Books and outputs stand in this folder or inside it. */
  readonly root: string;
  /** Folder of the program's own files. */
  readonly data: string;
  readonly demo: string;
  readonly version: string;
  readonly port: number;
  /** A book to open in the first window. */
  readonly open: string | undefined;
  readonly firstRun: boolean;
  readonly now: () => string;
  readonly launch: (kind: 'live' | 'long') => RunningJob;
};

export async function startInBrowser(spec: StartSpec): Promise<Loopback> {
  const root = await realPath(spec.root);
  const prints = new Map<string, string>();
  const about: About = {
    version: spec.version,
    host: 'loopback',
    mac: false,
    today: spec.now().slice(0, 10),
    firstRun: spec.firstRun,
    open: spec.open,
  };
  const host = startHost({
    data: spec.data,
    demo: spec.demo,
    now: spec.now,
    launch: spec.launch,
    ahead: spec.open ?? spec.demo,
    platform: {
      about: () => good(about),
      'choose-book': () => good({ path: undefined }),
      'choose-place': () => good({ path: undefined }),
      'choose-folder': () => good({ path: undefined }),
      'folder-list': ({ folder, kind }) => folderList(root, folder ?? root, kind),
      // A browser cannot open a folder; the window shows the path instead.
      'folder-open': () => good({ shown: false }),
      'file-print': ({ path }) => {
        const name = `${randomBytes(18).toString('base64url')}.pdf`;
        prints.set(name, path);
        return good({ address: `/print/${name}` });
      },
      'close-now': () => good({}),
      'window-title': () => good({}),
      // Links that lead out of the root are seen.
      mayUse: async (path) => path === spec.open || (isInside(spec.root, path) && isInside(root, await realPath(path))),
      allow: () => undefined,
    },
  });
  const loopback = await startLoopback({ window: spec.window, host, port: spec.port, prints });
  return {
    ...loopback,
    async close() {
      await host.settle();
      host.stop();
      await loopback.close();
    },
  };
}

/** The demo book inside the program's folder. */
export const demoIn = (program: string): string => join(program, 'assets', 'books', 'small-wheels.twelvefold');
