/** Rosters and ensembles of the window are the files of the command line: opened, saved without loss, refused when damaged. */
import { chmod, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, it } from 'vitest';
import { readBook } from '../../core/book/read.js';
import { readEnsemble } from '../../core/ensemble/read.js';
import { readRoster } from '../../core/people/read.js';
import { companionsOnDisk } from '../../electron/services/disk/companions.js';

const asset = (name: string) => fileURLToPath(new URL(`../../assets/books/${name}`, import.meta.url));
const disk = companionsOnDisk();
let folder = '';

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
});

async function copied(name: string, change = (text: string) => text): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, change(await readFile(asset(name), 'utf8')));
  return path;
}

describe('companions', () => {
  it('a roster that is opened and saved says the same to the command line', async () => {
    const path = await copied('harrow-lane.roster');
    const opened = await disk.open('roster', path);
    if (!opened.ok) throw new Error('opens');
    const { source, stamp } = opened.value;
    const students = source.students.map((one, i) => (i === 0 ? { ...one, breath: { longTone: 12.5 } } : one));
    const saved = await disk.save('roster', { source: { ...source, students }, path, stamp, force: false });
    expect(saved.ok).toBe(true);
    const book = readBook(await readFile(asset('small-wheels.twelvefold'), 'utf8'));
    if (!book.ok) throw new Error('reads');
    const before = readRoster(await readFile(asset('harrow-lane.roster'), 'utf8'), book.value);
    const after = readRoster(await readFile(path, 'utf8'), book.value);
    if (!before.ok || !after.ok) throw new Error('both read');
    expect(after.value.students[0]?.breather).toEqual({ longTone: { seconds: 12.5 } });
    expect(after.value.students.slice(1)).toEqual(before.value.students.slice(1));
  });

  it('an ensemble too', async () => {
    const path = await copied('harrow-lane-band.ensemble');
    const opened = await disk.open('ensemble', path);
    if (!opened.ok) throw new Error('opens');
    await disk.save('ensemble', { ...opened.value, path, force: false });
    const book = readBook(await readFile(asset('small-wheels.twelvefold'), 'utf8'));
    if (!book.ok) throw new Error('reads');
    const [a, b] = [asset('harrow-lane-band.ensemble'), path].map(async (it) => readEnsemble(await readFile(it, 'utf8'), book.value));
    expect(await b).toEqual(await a);
  });

  it('a field that is not known is told, kept, and saved again', async () => {
    const path = await copied('harrow-lane.roster', (text) => text.replace('"weeks": 8', '"weeks": 8, "room": "B 12"'));
    const opened = await disk.open('roster', path);
    expect(opened.issues.map((issue) => issue.code)).toEqual(['unknown-field']);
    if (!opened.ok) throw new Error('opens');
    await disk.save('roster', { ...opened.value, path, force: false });
    expect(JSON.parse(await readFile(path, 'utf8')).room).toBe('B 12');
  });

  it.each<[string, string, string]>([
    ['x.roster', '', 'file-empty'],
    ['x.roster', '{"format": "twelvefold-roster", "version": 1, ', 'file-cut-short'],
    ['x.roster', '{"format": "twelvefold-roster", "version": 2, "students": []}', 'newer-version'],
    ['x.roster', '{"format": "twelvefold-ensemble", "version": 1}', 'not-this-format'],
    ['x.roster', '{"format": "twelvefold-roster", "version": 1, "students": 3}', 'wrong-field'],
    ['x.txt', '{}', 'not-a-roster-name'],
  ])('%s with %j: %s', async (name, text, code) => {
    await writeFile(join(folder, name), text);
    expect((await disk.open('roster', join(folder, name))).issues[0]?.code).toBe(code);
  });

  const small = { format: 'twelvefold-roster', version: 1, students: [{ name: 'A. B.', instrument: 'flute' }] } as const;
  const plain = { source: { ...small, students: [...small.students] }, stamp: undefined, force: false };

  it('nothing is written that could not be opened again', async () => {
    const path = join(folder, 'x.roster');
    const source = { ...plain.source, students: [{ name: 3, instrument: 'flute' }] } as never;
    expect((await disk.save('roster', { ...plain, source, path })).issues[0]?.code).toBe('not-saveable');
    await expect(readFile(path)).rejects.toThrow();
  });

  it('a file that another program changed, may only be read, or whose folder is gone: told, and what was there stays', async () => {
    const path = join(folder, 'x.roster');
    const saved = await disk.save('roster', { ...plain, path });
    if (!saved.ok) throw new Error('saves');
    await writeFile(path, 'someone else');
    expect((await disk.save('roster', { ...plain, path, stamp: saved.value.stamp })).issues[0]?.code).toBe('changed-on-disk');
    expect(await readFile(path, 'utf8')).toBe('someone else');
    await chmod(path, 0o444);
    expect((await disk.save('roster', { ...plain, path, force: true })).issues[0]?.code).toBe('file-read-only');
    expect(await readFile(path, 'utf8')).toBe('someone else');
    await rm(folder, { recursive: true });
    expect((await disk.save('roster', { ...plain, path })).issues[0]?.code).toBe('folder-gone');
  });
});
