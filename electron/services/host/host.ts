/** What stands behind the window, the same in both hosts: checks what is asked, and hands it to the job or to the disk. */
import { bad, error, good, type Result } from '../../../core/base/issue.js';
import type { JsonObject } from '../../../core/book/json.js';
import { checkedQuestion } from '../contract/check.js';
import { type Ask, type Asked, type ChannelOf, isAskedOf } from '../contract/questions.js';
import { booksOnDisk, readBook } from '../disk/books.js';
import { fileHandlers, refused } from './files.js';
import { holdersOfFiles } from './holders.js';
import { type JobClient, jobClient, type RunningJob } from './job-client.js';
import { type LongChannel, type LongWork, longWork } from './long-work.js';
import type { Access, Client, Handlers, Platform } from './platform.js';
import { inWindowWords } from './window-words.js';

export type HostSpec = {
  /** Folder of the program's own files. */
  readonly data: string;
  readonly demo: string;
  readonly now: () => string;
  readonly launch: (kind: 'live' | 'long') => RunningJob;
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

/** What a window asks first of all. The answer is thrown away; what was set for it is kept in the job. */
const firstAsk = (source: Readonly<JsonObject>): Ask<'show'> => ({
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

/** Paths in questions for the job and the platform. */
function pathOf(question: Asked): string | undefined {
  if (question.channel === 'build' || question.channel === 'export') return question.ask.folder;
  if (question.channel === 'folder-open' || question.channel === 'file-print') return question.ask.path;
  return undefined;
}

async function longAnswer(long: LongWork, question: Asked<LongChannel>, client: Client, { allow }: Access): Promise<Result<unknown>> {
  const done = await long.run(question, client);
  if (done.ok && 'files' in done.value) for (const file of done.value.files) allow(file.path, client);
  return done;
}

type OwnChannel = ChannelOf<'host' | 'platform'>;
type Answering = { readonly live: JobClient; readonly long: LongWork; readonly platform: Platform; readonly own: Handlers<OwnChannel> };

/** Gives a question to whoever answers it. */
function answering({ live, long, platform, own }: Answering) {
  // Asked at once, so that fonts and tables are there when the window is. The same for every window and at any time.
  let lists: Promise<Result<unknown>> | undefined = live.ask({ channel: 'lists', ask: {} });

  async function listsAnswer(): Promise<Result<unknown>> {
    lists ??= live.ask({ channel: 'lists', ask: {} });
    const found = await lists;
    if (!found.ok) lists = undefined;
    return found;
  }

  const ownAnswer = <C extends OwnChannel>({ channel, ask }: Asked<C>, client: Client) => own[channel](ask, client);

  return async (question: Asked, client: Client): Promise<Result<unknown>> => {
    const path = pathOf(question);
    if (path !== undefined && !(await platform.mayUse(path, client))) return refused();
    if (question.channel === 'lists') return listsAnswer();
    if (isAskedOf(question, 'job')) return live.ask(question);
    if (isAskedOf(question, 'long job')) return longAnswer(long, question, client, platform);
    if (question.channel === 'close-now') await long.settle(client);
    return ownAnswer(question, client);
  };
}

const failed = (failure: unknown): Result<never> => {
  const words = failure instanceof Error ? failure.message : String(failure);
  return bad(
    error('fault-of-the-program', [], `This is a fault of Twelvefold; nothing is lost. Please report it with this line: ${words}`),
  );
};

export function startHost({ data, demo, now, launch, platform, ahead }: HostSpec): Host {
  const clients = new Set<Client>();
  const restarted = () => {
    for (const client of clients) client.tell('job-restarted', {});
  };
  const live = jobClient(() => launch('live'), { progress: () => undefined, restarted });
  const long = longWork(() => launch('long'), restarted);
  const books = booksOnDisk({ folder: data, demo, now });
  const holders = holdersOfFiles();
  const own: Handlers<OwnChannel> = {
    ...fileHandlers({ folder: data, demo, books, holders, access: platform }),
    ...platform,
    cancel: ({ ticket }, client) => {
      long.cancel(ticket, client);
      return good({});
    },
  };
  const answer = answering({ live, long, platform, own });
  if (ahead !== undefined) {
    void readBook(ahead).then((opened) => {
      if (opened.ok) void live.ask({ channel: 'show', ask: firstAsk(opened.value.source) });
    });
  }

  return {
    async call(channel, ask, client) {
      const question = checkedQuestion(channel, ask);
      if (!question.ok) return question;
      try {
        return inWindowWords(question.value.channel, await answer(question.value, client));
      } catch (failure) {
        return failed(failure);
      }
    },
    join: (client) => void clients.add(client),
    leave(client) {
      clients.delete(client);
      holders.leave(client);
      long.leave(client);
    },
    settle: long.settle,
    busy: long.busy,
    stop() {
      live.stop();
      long.stop();
    },
  };
}
