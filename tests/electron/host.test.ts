/** What stands behind a window: nothing unchecked gets through, a job that falls is started again. */
import { mkdir, mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, it } from 'vitest';
import { bad, error, good, type Result } from '../../core/base/issue.js';
import { fileIssue } from '../../core/disk/files.js';
import type { FromJob, ToJob } from '../../electron/services/contract/job-messages.js';
import { CHANNELS } from '../../electron/services/contract/questions.js';
import { folderList } from '../../electron/services/disk/folders.js';
import { isInside, realPath } from '../../electron/services/disk/paths.js';
import { type Host, startHost } from '../../electron/services/host/host.js';
import { jobClient, type RunningJob } from '../../electron/services/host/job-client.js';
import type { Client } from '../../electron/services/host/platform.js';

const demo = fileURLToPath(new URL('../../assets/books/small-wheels.twelvefold', import.meta.url));

type Fake = RunningJob & { readonly got: ToJob[]; readonly say: (message: unknown) => void; readonly fall: () => void; stopped: boolean };

function fakeJob(): Fake {
  let say: (message: FromJob) => void = () => undefined;
  let fall: () => void = () => undefined;
  const got: ToJob[] = [];
  const job: Fake = {
    got,
    stopped: false,
    post: (message) => void got.push(message),
    listen: (receive) => {
      say = receive;
    },
    ended: (tell) => {
      fall = tell;
    },
    stop: () => {
      job.stopped = true;
    },
    say: (message) => say(message as FromJob),
    fall: () => fall(),
  };
  return job;
}

describe('the near side of a job', () => {
  const watch = () => ({ progress: [] as unknown[], restarts: 0 });
  function client() {
    const jobs: Fake[] = [];
    const seen = watch();
    const own = jobClient(
      () => {
        const job = fakeJob();
        jobs.push(job);
        return job;
      },
      { progress: (event) => void seen.progress.push(event), restarted: () => void seen.restarts++ },
    );
    // Whatever is asked and answered is handed on as it is.
    return { jobs, seen, own: { ...own, ask: (channel: string, ask: unknown) => own.ask({ channel, ask } as never) } };
  }

  it('gives every question its own answer, in whatever order they come', async () => {
    const { jobs, own } = client();
    const [a, b] = [own.ask('lists', 1), own.ask('show', 2)];
    jobs[0]?.say({ kind: 'answer', id: 2, answer: good('second') });
    jobs[0]?.say({ kind: 'answer', id: 1, answer: good('first') });
    expect([await a, await b]).toEqual([good('first'), good('second')]);
    expect(jobs).toHaveLength(1);
  });

  it('a job that falls: open questions are answered with an issue, and the next one starts it again', async () => {
    const { jobs, seen, own } = client();
    const lost = own.ask('show', 1);
    jobs[0]?.fall();
    expect(await lost).toMatchObject({ ok: false, issues: [{ code: 'job-ended' }] });
    expect(seen.restarts).toBe(1);
    const next = own.ask('show', 2);
    jobs[1]?.say({ kind: 'answer', id: 2, answer: good('well') });
    expect(await next).toEqual(good('well'));
  });

  it('a job that always falls is given up', async () => {
    const { jobs, own } = client();
    for (let i = 0; i < 5; i++) {
      const lost = own.ask('show', i);
      jobs[i]?.fall();
      await lost;
    }
    expect(await own.ask('show', 9)).toMatchObject({ ok: false });
    expect(jobs).toHaveLength(5);
  });

  it('passes progress and the wish to stop', () => {
    const { jobs, seen, own } = client();
    void own.ask('build', {});
    jobs[0]?.say({ kind: 'progress', ticket: 't', done: 1, total: 2, words: 'x' });
    own.cancel('t');
    expect(seen.progress).toEqual([{ ticket: 't', done: 1, total: 2, words: 'x' }]);
    expect(jobs[0]?.got.at(-1)).toEqual({ kind: 'cancel', ticket: 't' });
  });
});

describe('the host', () => {
  let folder = '';
  let host: Host;
  let jobs: Fake[] = [];
  /** The job that was asked this, as soon as it is. */
  async function jobAsked(channel: string): Promise<Fake> {
    const found = () => jobs.find((job) => job.got.some((it) => it.kind === 'ask' && it.channel === channel));
    await expect.poll(found).toBeDefined();
    const job = found();
    if (!job) throw new Error(`a job was asked for ${channel}`);
    return job;
  }
  const told: [string, unknown][] = [];
  const client = (id: string): Client => ({ id, tell: (name, event) => void told.push([name, event]) });
  const one = client('window-one');
  const two = client('window-two');
  const allowed = new Set<string>();

  const begin = (ahead?: string): Host =>
    startHost({
      data: join(folder, 'own'),
      demo,
      ahead,
      now: () => '2026-03-01T10:00:00.000Z',
      launch: () => {
        const job = fakeJob();
        jobs.push(job);
        return job;
      },
      platform: {
        about: () => good({ version: '1', host: 'loopback', mac: false, today: '2026-03-01', firstRun: true, open: undefined }),
        'choose-book': () => good({ path: undefined }),
        'choose-place': () => good({ path: undefined }),
        'choose-folder': () => good({ path: undefined }),
        'folder-list': () => bad(error('none', [], 'None.')),
        'folder-open': () => good({ shown: true }),
        'file-print': () => {
          throw new Error('no printer');
        },
        'close-now': () => good({}),
        'window-title': () => good({}),
        mayUse: (path) => allowed.has(path),
        allow: (path) => void allowed.add(path),
      },
    });

  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
    jobs = [];
    told.length = 0;
    allowed.clear();
    host = begin();
    host.join(one);
  });

  const code = (result: Result<unknown>) => (result.ok ? undefined : result.issues[0]?.code);

  it.each([
    ['toString', {}, 'unknown-channel'],
    ['__proto__', {}, 'unknown-channel'],
    ['show', undefined, 'wrong-ask'],
    ['show', { source: 'x' }, 'wrong-ask'],
    ['book-open', { path: 3 }, 'wrong-ask'],
    ['book-open', { path: '/x.twelvefold', more: 1 }, 'wrong-ask'],
    ['recovery-drop', { document: '../../etc/passwd' }, 'wrong-ask'],
    ['preferences-write', { theme: 'pink' }, 'wrong-ask'],
    ['roster-save', { source: 'x', path: '/x.roster', force: false }, 'wrong-ask'],
    ['build', { source: {}, editions: [], folder: '/x', kinds: [], ticket: 't' }, 'wrong-ask'],
    ['export', { source: {}, edition: 0, focus: { chapter: 0, exercise: 0 }, format: 'exe', folder: '/x', ticket: 't' }, 'wrong-ask'],
    ['import', { bytes: 'x'.repeat(45_000_001) }, 'wrong-ask'],
    ['build', { source: {}, editions: [], folder: '/x', kinds: ['pdf'], ticket: 't' }, 'wrong-ask'],
    ['build', { source: {}, editions: [0], folder: '/x', kinds: ['exe'], ticket: 't' }, 'wrong-ask'],
    ['cancel', { ticket: '' }, 'wrong-ask'],
  ])('%s %j is refused: %s', async (channel, ask, wanted) => {
    expect(code(await host.call(channel, ask, one))).toBe(wanted);
  });

  it('has the first book set before a window asks, and asks for the lists once for all windows', async () => {
    const early = begin(demo);
    await expect.poll(() => jobs.at(-1)?.got).toHaveLength(2);
    const [lists, show] = (jobs.at(-1)?.got ?? []) as unknown as { id: number; channel: string; ask: { source: { title: string } } }[];
    expect([lists?.channel, show?.channel]).toEqual(['lists', 'show']);
    expect(show?.ask.source.title).toBe('Small Wheels');
    early.join(one);
    const asked = [early.call('lists', {}, one), early.call('lists', {}, one)];
    jobs.at(-1)?.say({ kind: 'answer', id: lists?.id ?? -1, answer: good('all lists') });
    expect(await Promise.all(asked)).toEqual([good('all lists'), good('all lists')]);
    expect(jobs.at(-1)?.got).toHaveLength(2);
    early.stop();
  });

  it('every channel refuses a number', async () => {
    for (const channel of CHANNELS) expect(code(await host.call(channel, 7, one)), channel).toBe('wrong-ask');
  });

  it.each([
    ['book-open', { path: '/etc/x.twelvefold' }],
    ['folder-open', { path: '/etc' }],
    ['file-print', { path: '/etc/passwd' }],
    ['build', { source: {}, editions: [0], folder: '/etc', kinds: ['pdf'], ticket: 't' }],
    ['preferences-write', { theme: 'dark', text: 100, notes: 1, click: 1, countIn: true, folder: '/etc' }],
    ['roster-open', { path: '/etc/x.roster' }],
    ['ensemble-open', { path: '/etc/x.ensemble' }],
    ['roster-save', { source: {}, path: '/etc/x.roster', force: true }],
    ['ensemble-save', { source: {}, path: '/etc/x.ensemble', force: true }],
    ['beside-read', { book: '/etc/x.twelvefold' }],
    ['beside-write', { book: '/etc/x.twelvefold', roster: '/etc/x.roster' }],
  ])('%s touches no place that the user did not choose', async (channel, ask) => {
    expect(code(await host.call(channel, ask, one))).toBe('not-allowed');
  });

  it('a fault of the program is an issue, not the end', async () => {
    allowed.add('/x.pdf');
    const answer = await host.call('file-print', { path: '/x.pdf' }, one);
    expect(answer).toMatchObject({ ok: false, issues: [{ code: 'fault-of-the-program', message: expect.stringContaining('no printer') }] });
  });

  it('one book in two windows: the second is warned', async () => {
    const path = join(folder, 'x.twelvefold');
    allowed.add(path);
    const opened = await host.call('book-demo', {}, one);
    if (!opened.ok) throw new Error('opens');
    const { source } = opened.value as { source: object };
    await host.call('book-save', { source, path, stamp: undefined, force: false, document: 'document-1' }, one);
    expect((await host.call('book-open', { path }, one)).issues).toEqual([]);
    expect((await host.call('book-open', { path }, two)).issues[0]?.code).toBe('open-twice');
    host.leave(two);
    host.leave(one);
    expect((await host.call('book-open', { path }, two)).issues).toEqual([]);
  });

  it('long work has a job of its own, and its progress goes to the window that asked', async () => {
    allowed.add(folder);
    const built = host.call('build', { source: {}, editions: [0], folder, kinds: ['pdf'], ticket: 'mine' }, one);
    const press = await jobAsked('build');
    expect(host.busy(one)).toBe(true);
    expect(host.busy(two)).toBe(false);
    press.say({ kind: 'progress', ticket: 'mine', done: 1, total: 2, words: 'flute' });
    expect(told).toEqual([['progress', { ticket: 'mine', done: 1, total: 2, words: 'flute' }]]);
    await host.call('cancel', { ticket: 'mine' }, two);
    expect(press.got.filter((it) => it.kind === 'cancel')).toEqual([]);
    await host.call('cancel', { ticket: 'mine' }, one);
    expect(press.got.at(-1)).toEqual({ kind: 'cancel', ticket: 'mine' });
    const id = press.got.find((it) => it.kind === 'ask')?.id;
    press.say({ kind: 'answer', id, answer: good({ files: [] }) });
    expect((await built).ok).toBe(true);
    expect(host.busy(one)).toBe(false);
  });

  it('a window that closes stops its writing first, and waits until it has stopped', async () => {
    allowed.add(folder);
    void host.call('build', { source: {}, editions: [0], folder, kinds: ['pdf'], ticket: 'mine' }, one);
    const press = await jobAsked('build');
    let closed = false;
    const closing = host.call('close-now', {}, one).then(() => {
      closed = true;
    });
    await expect.poll(() => press.got.at(-1)).toEqual({ kind: 'cancel', ticket: 'mine' });
    expect(closed).toBe(false);
    press.say({ kind: 'answer', id: press.got.find((it) => it.kind === 'ask')?.id, answer: bad(error('stopped', [], 'Stopped.')) });
    await closing;
    expect(host.busy(one)).toBe(false);
  });

  it('a roster and an ensemble are kept beside their book', async () => {
    const [book, roster] = [join(folder, 'x.twelvefold'), join(folder, 'x.roster')];
    for (const path of [book, roster]) allowed.add(path);
    expect(await host.call('beside-read', { book }, one)).toMatchObject({ value: {} });
    expect((await host.call('beside-write', { book, roster }, one)).ok).toBe(true);
    allowed.delete(roster);
    expect(await host.call('beside-read', { book }, one)).toMatchObject({ value: { roster } });
    // It was chosen by the user when it was written down.
    expect(allowed.has(roster)).toBe(true);
  });

  it('the demo book has a roster and an ensemble, which have no place of their own', async () => {
    for (const channel of ['roster-demo', 'ensemble-demo']) {
      const opened = await host.call(channel, {}, one);
      expect(opened).toMatchObject({ ok: true, issues: [] });
      expect(opened.ok && (opened.value as { path: unknown }).path).toBeUndefined();
    }
  });

  it('one roster in two windows: the second is warned, and the later save asks first', async () => {
    const path = join(folder, 'x.roster');
    allowed.add(path);
    const source = { format: 'twelvefold-roster', version: 1, students: [{ name: 'A. B.', instrument: 'flute' }] };
    await host.call('roster-save', { source, path, stamp: undefined, force: false }, one);
    const first = await host.call('roster-open', { path }, one);
    const second = await host.call('roster-open', { path }, two);
    expect([first.issues.length, second.issues[0]?.code]).toEqual([0, 'open-twice']);
    const stamp = first.ok ? (first.value as { stamp: string }).stamp : '';
    const saved = await host.call('roster-save', { source: { ...source, weeks: 6 }, path, stamp, force: false }, one);
    expect(saved.ok).toBe(true);
    expect(code(await host.call('roster-save', { source, path, stamp, force: false }, two))).toBe('changed-on-disk');
  });

  it('a remedy of the command line is told in words of a window', async () => {
    allowed.add(folder);
    const built = host.call('build', { source: {}, editions: [0], folder, kinds: ['pdf'], ticket: 'mine' }, one);
    const press = await jobAsked('build');
    const words = 'The disk is full; choose another folder with --out.';
    press.say({ kind: 'answer', id: press.got.find((it) => it.kind === 'ask')?.id, answer: bad(error('file-erofs', [], words)) });
    expect((await built).issues[0]?.message).toBe('The disk is full; choose another folder.');
  });

  it.each([
    ['book-open', 'x.twelvefold', 'choose a file in it whose name ends in .twelvefold.'],
    ['roster-open', 'x.roster', 'choose a file in it whose name ends in .roster.'],
    ['ensemble-open', 'x.ensemble', 'choose a file in it whose name ends in .ensemble.'],
  ])('%s of a folder says what to choose in a window', async (channel, name, remedy) => {
    const path = join(folder, name);
    await mkdir(path);
    allowed.add(path);
    expect((await host.call(channel, { path }, one)).issues[0]?.message).toBe(`"${name}" is a folder; ${remedy}`);
  });

  it('the words of a file that could not be written are those of a window too, and others stay as they are', async () => {
    allowed.add(folder);
    const built = host.call('build', { source: {}, editions: [0], folder, kinds: ['pdf'], ticket: 'mine' }, one);
    const press = await jobAsked('build');
    const issue = fileIssue(Object.assign(new Error('x'), { code: 'EISDIR' }), 'x.pdf');
    const other = error('layout', [], 'A folder; name a file.');
    const answer = good({ files: [], missing: [{ label: 'Flute', issues: [issue, other] }] });
    press.say({ kind: 'answer', id: press.got.find((it) => it.kind === 'ask')?.id, answer });
    const told = await built;
    const words = '"x.pdf" is a folder; give that folder another name, or choose another place for the files.';
    expect(told).toMatchObject({ value: { missing: [{ label: 'Flute', issues: [{ message: words }, other] }] } });
  });

  it('a window that goes takes its long work with it', async () => {
    void host.call('prove', { source: {}, edition: 0, ticket: 'mine' }, one);
    const press = await jobAsked('prove');
    host.leave(one);
    expect(press.got.at(-1)).toEqual({ kind: 'cancel', ticket: 'mine' });
  });

  it('preferences come back; a damaged file counts as none', async () => {
    await host.call('preferences-write', { theme: 'dark', text: 120, notes: 1, click: 0, countIn: false }, one);
    expect(await host.call('preferences-read', {}, one)).toMatchObject({ value: { theme: 'dark', text: 120 } });
    await writeFile(join(folder, 'own', 'preferences.json'), '{');
    expect(await host.call('preferences-read', {}, one)).toMatchObject({ value: { theme: 'system', text: 100 } });
  });

  it('stops its jobs', () => {
    host.stop();
    expect(jobs.every((job) => job.stopped)).toBe(true);
  });
});

describe('folders', () => {
  it.each([
    ['/a', '/a', true],
    ['/a', '/a/b/c', true],
    ['/a', '/a/../b', false],
    ['/a', '/ab', false],
    ['/a', '/', false],
    ['/a', '/a/..b', true],
  ])('%s holds %s: %s', (root, path, inside) => {
    expect(isInside(root, path)).toBe(inside);
  });

  it('lists folders and files of one kind only, and nothing outside the root', async () => {
    const root = await realPath(await mkdtemp(join(tmpdir(), 'twelvefold-')));
    for (const name of ['b.twelvefold', 'a.txt', 'c.roster', '.hidden.twelvefold']) await writeFile(join(root, name), '');
    const list = await folderList(root, root);
    expect(list.ok && list.value.entries.map((it) => it.name)).toEqual(['b.twelvefold']);
    const rosters = await folderList(root, root, 'roster');
    expect(rosters.ok && rosters.value.entries.map((it) => it.name)).toEqual(['c.roster']);
    expect((await folderList(root, join(root, '..'))).ok).toBe(false);
  });
});
