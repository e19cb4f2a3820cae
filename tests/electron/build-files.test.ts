/** Files made on threads for the window: the command line's files, stopped without a trace, each failure told by itself. */
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Result } from '../../core/base/issue.js';
import { bookletsCommand } from '../../core/cli/booklets.js';
import { buildCommand } from '../../core/cli/build.js';
import { ensembleCommand } from '../../core/cli/ensemble.js';
import { summaryCommand } from '../../core/cli/summary.js';
import type { Terminal } from '../../core/cli/terminal.js';
import type { Built } from '../../electron/services/contract/answers/written.js';
import { type BuildAsk, buildFiles, LIGHT } from '../../electron/services/job/build-files.js';
import { testFonts } from '../fonts.js';
import { rosterFile, student } from '../people/class.js';

const asset = fileURLToPath(new URL('../../assets/books/small-wheels.twelvefold', import.meta.url));
const demo = JSON.parse(await readFile(asset, 'utf8'));
/** Its first chapter: short files are stopped and refused like long ones. */
const source = { ...demo, chapters: demo.chapters.slice(0, 1) };
const names = ['Zephyrine Oakley', 'Ida P.', 'Bo', 'Mabel T.', 'Ottoline'];
const roster = rosterFile(
  names.map((name, i) =>
    student({ name, assignments: [{ exercises: ['three-steps', 'down-home'] }], ...(i === 1 ? { instrument: 'tuba' } : {}) }),
  ),
);
const trio = {
  format: 'twelvefold-ensemble',
  version: 1,
  name: 'Mill Trio',
  chairs: [{ instrument: 'flute', players: 2 }, { instrument: 'clarinet-in-bb' }, { instrument: 'trombone' }],
  exercises: ['three-steps', 'long-home'],
};
const date = '2026-03-31';
const everything = {
  source,
  editions: [0, 1, 2, 3, 4],
  kinds: ['pdf'] as const,
  booklets: { roster, students: [0, 1, 2, 3, 4], summary: true, date },
  set: { ensemble: trio, chairs: [0, 1, 2], score: true },
};
const out = () => mkdtemp(join(tmpdir(), 'twelvefold-press-'));

type Told = { readonly done: number; readonly total: number; readonly words: string };
/** On threads, whatever the load; or on none. */
type Where = 'on threads' | 'without threads';

async function pressed(ask: Omit<BuildAsk, 'folder'>, folder: string, where: Where, stopAt?: RegExp) {
  const stop = new AbortController();
  const told: Told[] = [];
  const tell = (done: number, total: number, words: string): void => {
    told.push({ done, total, words });
    if (stopAt?.test(words)) stop.abort();
  };
  const answer: Result<Built> = await buildFiles({ ...ask, folder }, testFonts(), stop.signal, tell, where === 'on threads' ? 0 : LIGHT);
  return { answer, told };
}

async function filesIn(folder: string): Promise<Map<string, string>> {
  const files = new Map<string, string>();
  for (const entry of (await readdir(folder, { withFileTypes: true, recursive: true })).filter((it) => it.isFile())) {
    const path = join(entry.parentPath, entry.name);
    files.set(path.slice(folder.length + 1), await readFile(path, 'latin1'));
  }
  return new Map([...files].sort());
}

/** What the command line writes of the same. */
async function byCommandLine(): Promise<Map<string, string>> {
  const folder = await out();
  let said = '';
  const hear = (text: string): void => {
    said += text;
  };
  const terminal: Terminal = { out: hear, err: hear, cwd: folder, watched: false, signal: new AbortController().signal, today: date };
  await writeFile(join(folder, 'b.twelvefold'), JSON.stringify(source));
  await writeFile(join(folder, 'r.roster'), JSON.stringify(roster));
  await writeFile(join(folder, 'e.ensemble'), JSON.stringify(trio));
  const codes = [
    await buildCommand('b.twelvefold', { out: 'out' }, terminal),
    await bookletsCommand('b.twelvefold', 'r.roster', { out: 'out' }, terminal),
    await summaryCommand('b.twelvefold', 'r.roster', { out: 'out' }, terminal),
    await ensembleCommand('b.twelvefold', 'e.ensemble', { out: 'out' }, terminal),
  ];
  expect(codes, said).toEqual([0, 0, 0, 0]);
  return filesIn(join(folder, 'out'));
}

/** Folders in which the writing was stopped, and what was left in each. */
const stopped: [folder: string, left: readonly string[]][] = [];

let wanted: Map<string, string>;
beforeAll(async () => {
  wanted = await byCommandLine();
});

describe.each<Where>(['on threads', 'without threads'])('files made for the window, %s', (where) => {
  it('have the names and the bytes of those of the command line, and no name of a student is told on the way', async () => {
    const folder = await out();
    const { answer, told } = await pressed(everything, folder, where);
    expect(answer.ok && answer.value.missing).toEqual([]);
    const made = await filesIn(folder);
    expect([...made.keys()]).toEqual([...wanted.keys()]);
    expect(made.size).toBe(15);
    for (const [name, bytes] of wanted) expect(made.get(name) === bytes, name).toBe(true);

    const done = told.map((it) => it.done);
    expect(done).toEqual([...done].sort((a, b) => a - b));
    expect(told.at(-1)?.done).toBe(told[0]?.total);
    const words = told.map((it) => it.words).join('\n');
    for (const part of ['laying out exercise 2 of 2', 'setting the score', 'Score: page', 'Flute: page', 'booklet 2: page']) {
      expect(words).toContain(part);
    }
    for (const name of names) expect(words).not.toContain(name);
  });

  it.each([
    ['a set', { ...everything, editions: [], booklets: undefined }, /^Score|: page/],
    ['pictures', { ...everything, kinds: ['svg'] as const, booklets: undefined, set: undefined }, /pictures\): page 2/],
  ])('stopped amid %s: whole files only, and not all of them', async (_name, ask, when) => {
    const folder = await out();
    const { answer } = await pressed(ask, folder, where, when);
    expect([answer.ok, answer.issues.map(({ code }) => code)]).toEqual([false, ['stopped']]);
    const left = await filesIn(folder);
    expect([...left.keys()].filter((name) => !/\.(pdf|svg)$/.test(name))).toEqual([]);
    for (const [name, bytes] of left) expect(bytes.trimEnd().endsWith(name.endsWith('.pdf') ? '%%EOF' : '</svg>'), name).toBe(true);
    stopped.push([folder, [...left.keys()]]);
  });

  it('what the disk refuses is told output by output, and the rest is written', async () => {
    const folder = await out();
    await mkdir(join(folder, 'small-wheels-trombone.pdf'));
    await writeFile(join(folder, 'small-wheels-flute-pages'), 'a file where a folder is wanted');
    await mkdir(join(folder, 'small-wheels-mill-trio-score.pdf'));
    const { answer } = await pressed({ ...everything, kinds: ['pdf', 'svg'], booklets: undefined }, folder, where);
    if (!answer.ok) throw new Error('most is written');
    const { files, missing } = answer.value;
    expect(missing.map(({ label, issues }) => [label, issues.map(({ code }) => code)]).sort()).toEqual([
      ['Flute (pictures)', ['not-a-folder']],
      ['Score', ['file-eisdir']],
      ['Trombone', ['file-eisdir']],
    ]);
    for (const { label, issues } of missing) expect(issues[0]?.message, label).toContain(folder);
    expect(files).toHaveLength(5 * 2 + 4 - 3);
    const left = [...(await filesIn(folder)).keys()];
    for (const { name } of files)
      expect(
        left.some((path) => path === name || path.startsWith(`${name}/`)),
        name,
      ).toBe(true);
    expect(left.filter((name) => name.includes('.tmp'))).toEqual([]);
  });

  it('a folder that vanishes meanwhile: each file that has no place any more is told', async () => {
    const folder = await out();
    let removed: Promise<void> | undefined;
    const stop = new AbortController();
    const tell = (_done: number, _total: number, words: string): void => {
      if (/: page/.test(words)) removed ??= rm(folder, { recursive: true });
    };
    const again = await buildFiles(
      { ...everything, booklets: undefined, set: undefined, folder },
      testFonts(),
      stop.signal,
      tell,
      where === 'on threads' ? 0 : LIGHT,
    );
    await removed;
    expect(again.issues.every(({ code }) => code === 'file-enoent')).toBe(true);
    expect(again.issues.length).toBeGreaterThan(0);
  });
});

it('nothing was written after it had been stopped', async () => {
  expect(stopped).toHaveLength(4);
  for (const [folder, left] of stopped) expect([...(await filesIn(folder)).keys()]).toEqual(left);
});
