/** What stands behind the window, the same in both hosts: checks what is asked, and hands it to the job or to the disk. */
import { dirname, join } from 'node:path';
import { bad, error, good, type Result } from '../../core/base/issue.js';
import { checkedAsk } from './asks.js';
import { type BooksOnDisk, booksOnDisk } from './books-on-disk.js';
import { companionsOnDisk } from './companions-on-disk.js';
import {
  type Answer,
  type Ask,
  type Channel,
  type EventName,
  type Events,
  isChannel,
  isJobChannel,
  type JobChannel,
  LONG_CHANNELS,
} from './contract.js';
import { jobClient, type RunningJob } from './job-client.js';
import { PREFERENCES } from './preferences.js';
import { preferencesShape } from './preferences-shape.js';
import { inWindowWords } from './window-words.js';

/** One window. */
export type Client = { readonly id: string; readonly tell: <E extends EventName>(name: E, event: Events[E]) => void };

type Own =
  | 'about'
  | 'choose-book'
  | 'choose-place'
  | 'choose-folder'
  | 'places'
  | 'folder-open'
  | 'file-print'
  | 'close-now'
  | 'window-title';

/** What only the host itself can do. */
export type Platform = {
  readonly [C in Own]: (ask: Ask<C>, client: Client) => Result<Answer<C>> | Promise<Result<Answer<C>>>;
} & {
  /** Whether this window may read or write there: a path that the user chose, or one inside the folders it was started for. */
  readonly mayUse: (path: string, client: Client) => boolean | Promise<boolean>;
  /** A path that the user chose in some way becomes usable. */
  readonly allow: (path: string, client: Client) => void;
};

export type HostSpec = {
  /** Folder of the program's own files. */
  readonly data: string;
  readonly demo: string;
  readonly now: () => string;
  readonly launch: (kind: 'live' | 'press') => RunningJob;
  readonly platform: Platform;
  /** Path of the book that the first window will open: it is set while that window is still being loaded. */
  readonly ahead?: string | undefined;
};

export type Host = {
  /** Never rejects: an unknown channel, a wrong ask and a fault of the program are answered with an issue. */
  call(channel: string, ask: unknown, client: Client): Promise<Result<unknown>>;
  join(client: Client): void;
  leave(client: Client): void;
  /** Whether something long is being done for this window. */
  busy(client: Client): boolean;
  /** Stops what is being written, for one window or for all, and waits until nothing half-written is left. */
  settle(client?: Client): Promise<void>;
  stop(): void;
};

const refused = (): Result<never> =>
  bad(
    error('not-allowed', [], 'This place was not chosen by you in a file window, so it is not touched; choose the file or folder again.'),
  );

/** What a window asks first of all. The answer is thrown away; what was set for it is kept in the job. */
const firstAsk = (source: unknown): Ask<'show'> => ({
  source,
  edition: 0,
  focus: { chapter: 0, exercise: 0 },
  pages: [0],
  withFocus: true,
  have: {},
  breather: {},
  bpm: undefined,
  manner: 'in-time',
  hasty: false,
  first: true,
  tell: true,
});

export function startHost({ data, demo, now, launch, platform, ahead }: HostSpec): Host {
  const books: BooksOnDisk = booksOnDisk({ folder: data, demo, now });
  const companions = companionsOnDisk();
  const preferencesFile = join(data, 'preferences.json');
  const clients = new Set<Client>();
  const tickets = new Map<string, Client>();
  /** Ticket → settled when its work has ended. */
  const running = new Map<string, Promise<unknown>>();
  /** Path of a file → the window that holds it. */
  const holders = new Map<string, string>();

  const restarted = () => {
    for (const client of clients) client.tell('job-restarted', {});
  };
  const progress = (event: Events['progress']) => tickets.get(event.ticket)?.tell('progress', event);
  const live = jobClient(() => launch('live'), { progress, restarted });
  const press = jobClient(() => launch('press'), { progress, restarted });
  // Started at once, so that fonts and tables are there when the window is.
  let lists: Promise<Result<unknown>> | undefined = live.ask('lists', {});
  if (ahead !== undefined) {
    void books.read(ahead).then((opened) => {
      if (opened.ok) void live.ask('show', firstAsk(opened.value.source));
    });
  }

  /** The window holds this file now; a warning when another one does too. */
  function held<T extends { readonly path: string | undefined; readonly name: string }>(opened: Result<T>, client: Client): Result<T> {
    if (!opened.ok || opened.value.path === undefined) return opened;
    const holder = holders.get(opened.value.path);
    holders.set(opened.value.path, client.id);
    if (holder === undefined || holder === client.id) return opened;
    const words = `"${opened.value.name}" is open in another window too; save in one of them only, or the later save will ask first.`;
    return good(opened.value, [...opened.issues, { code: 'open-twice', severity: 'warning', path: [], message: words }]);
  }

  async function settle(client?: Client): Promise<void> {
    const own = [...tickets].filter(([, owner]) => client === undefined || owner === client).map(([ticket]) => ticket);
    for (const ticket of own) press.cancel(ticket);
    await Promise.all(own.map((ticket) => running.get(ticket)));
  }

  type Handlers = { readonly [C in Exclude<Channel, Own | JobChannel>]: (ask: Ask<C>, client: Client) => Promise<Result<Answer<C>>> };

  const handlers: Handlers = {
    cancel: async ({ ticket }, client) => {
      if (tickets.get(ticket) === client) press.cancel(ticket);
      return good({});
    },
    'book-demo': async () => books.openDemo(),
    'book-open': async ({ path }, client) => {
      if (!(await platform.mayUse(path, client))) return refused();
      return held(await books.open(path), client);
    },
    'book-save': async (ask, client) => {
      if (!(await platform.mayUse(ask.path, client))) return refused();
      const saved = await books.save(ask);
      if (saved.ok) {
        holders.set(saved.value.path, client.id);
        await books.dropRecovery(ask.document);
      }
      return saved;
    },
    'book-recent': async (_ask, client) => {
      const recent = await books.recent();
      if (recent.ok) for (const { path } of recent.value) platform.allow(path, client);
      return recent;
    },
    'recovery-keep': async (ask) => books.keepRecovery(ask),
    'recovery-drop': async ({ document }) => books.dropRecovery(document),
    'recovery-list': async () => books.recoveries(),
    'recovery-open': async ({ document }, client) => {
      const opened = await books.openRecovery(document);
      if (!opened.ok) return opened;
      for (const { path } of [opened.value, ...opened.value.companions.map((it) => it.opened)]) {
        if (path !== undefined) platform.allow(path, client);
      }
      return opened;
    },
    'roster-open': async ({ path }, client) =>
      (await platform.mayUse(path, client)) ? held(await companions.open('roster', path), client) : refused(),
    'ensemble-open': async ({ path }, client) =>
      (await platform.mayUse(path, client)) ? held(await companions.open('ensemble', path), client) : refused(),
    'roster-demo': async () => companions.openDemo('roster', join(dirname(demo), 'harrow-lane.roster')),
    'ensemble-demo': async () => companions.openDemo('ensemble', join(dirname(demo), 'harrow-lane-band.ensemble')),
    'roster-save': async (ask, client) => ((await platform.mayUse(ask.path, client)) ? companions.save('roster', ask) : refused()),
    'ensemble-save': async (ask, client) => ((await platform.mayUse(ask.path, client)) ? companions.save('ensemble', ask) : refused()),
    'beside-read': async ({ book }, client) => {
      if (!(await platform.mayUse(book, client))) return refused();
      const beside = await books.companionsOf(book);
      // Written only for files that the user had chosen.
      for (const path of [beside.roster, beside.ensemble]) if (path !== undefined) platform.allow(path, client);
      return good(beside);
    },
    'beside-write': async ({ book, ...beside }, client) => {
      for (const path of [book, beside.roster, beside.ensemble]) {
        if (path !== undefined && !(await platform.mayUse(path, client))) return refused();
      }
      return books.rememberCompanions(book, beside);
    },
    'preferences-read': async (_ask, client) => {
      const preferences = (await books.readOwn(preferencesFile, preferencesShape)) ?? PREFERENCES;
      // Chosen by the user in an earlier session: only such a folder is ever written.
      if (preferences.folder !== undefined) platform.allow(preferences.folder, client);
      return good(preferences);
    },
    'preferences-write': async (ask, client) => {
      if (ask.folder !== undefined && !(await platform.mayUse(ask.folder, client))) return refused();
      return books.writeOwn(preferencesFile, ask);
    },
  };

  /** Paths in questions for the job and the platform. */
  function pathOf(channel: Channel, ask: unknown): string | undefined {
    if (channel === 'build' || channel === 'export') return (ask as Ask<'build'>).folder;
    if (channel === 'folder-open' || channel === 'file-print') return (ask as Ask<'folder-open'>).path;
    return undefined;
  }

  async function answer(channel: Channel, ask: unknown, client: Client): Promise<Result<unknown>> {
    const path = pathOf(channel, ask);
    if (path !== undefined && !(await platform.mayUse(path, client))) return refused();
    if (channel === 'lists') {
      // The same for every window and at any time.
      lists ??= live.ask('lists', {});
      const found = await lists;
      if (!found.ok) lists = undefined;
      return found;
    }
    if (isJobChannel(channel)) {
      if (!LONG_CHANNELS.includes(channel)) return live.ask(channel, ask);
      const { ticket } = ask as { ticket: string };
      tickets.set(ticket, client);
      const work = press.ask(channel, ask);
      running.set(ticket, work);
      try {
        const done = await work;
        if (channel !== 'prove' && done.ok) for (const file of (done.value as Answer<'build'>).files) platform.allow(file.path, client);
        return done;
      } finally {
        tickets.delete(ticket);
        running.delete(ticket);
      }
    }
    if (channel === 'close-now') await settle(client);
    const own = { ...handlers, ...platform }[channel] as (ask: unknown, client: Client) => Promise<Result<unknown>>;
    return own(ask, client);
  }

  return {
    async call(channel, ask, client) {
      if (!isChannel(channel)) return bad(error('unknown-channel', [], `There is no service "${channel.slice(0, 40)}".`));
      const checked = checkedAsk(channel, ask);
      if (checked === undefined) return bad(error('wrong-ask', [], `The service "${channel}" was asked in a form that it does not know.`));
      try {
        return inWindowWords(channel, await answer(channel, checked, client));
      } catch (failure) {
        const words = failure instanceof Error ? failure.message : String(failure);
        return bad(
          error('fault-of-the-program', [], `This is a fault of Twelvefold; nothing is lost. Please report it with this line: ${words}`),
        );
      }
    },
    join: (client) => void clients.add(client),
    leave(client) {
      clients.delete(client);
      for (const [path, holder] of holders) if (holder === client.id) holders.delete(path);
      for (const [ticket, owner] of tickets) if (owner === client) press.cancel(ticket);
    },
    settle,
    busy: (client) => [...tickets.values()].includes(client),
    stop() {
      live.stop();
      press.stop();
    },
  };
}
