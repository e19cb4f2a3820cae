/** Books on the disk: nothing is lost, and every refusal says why. */
import { mkdir, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { BookSource } from '../../core/book/schema.js';
import * as files from '../../core/disk/files.js';
import { booksOnDisk } from '../../electron/services/disk/books.js';

vi.mock('../../core/disk/files.js', { spy: true });

const demo = fileURLToPath(new URL('../../assets/books/small-wheels.twelvefold', import.meta.url));
let folder = '';
let books = booksOnDisk({ folder, demo, now: () => '' });
const DOCUMENT = '00000000-aaaa';

beforeEach(async () => {
  vi.restoreAllMocks();
  folder = await mkdtemp(join(tmpdir(), 'twelvefold-'));
  books = booksOnDisk({ folder: join(folder, 'own'), demo, now: () => '2026-03-01T10:00:00.000Z' });
});

async function source(title = 'A book'): Promise<BookSource> {
  const opened = await books.openDemo();
  if (!opened.ok) throw new Error('the demo book opens');
  return { ...opened.value.source, title };
}

const code = (result: { ok: boolean; issues: readonly { code: string }[] }): string | undefined =>
  result.ok ? undefined : result.issues[0]?.code;

describe('opening', () => {
  it('the demo book has no place of its own, so it is never written over', async () => {
    const opened = await books.openDemo();
    expect(opened.ok && opened.value.path).toBeUndefined();
  });

  it.each([
    ['a damaged file', '{"format": "twelvefold", "version": 1, "title": ', 'file-cut-short'],
    ['a newer file', '{"format": "twelvefold", "version": 99}', 'newer-version'],
    ['a foreign file', '{"name": "something", "version": "1.0.0"}', 'not-a-book'],
    ['a file that is no JSON', 'Dear reader', 'not-json'],
    ['an empty file', '', 'file-empty'],
    ['bytes that are no text', Buffer.from([0xff, 0xfe, 0x00, 0xd8]), 'not-text'],
  ])('%s', async (_name, content, wanted) => {
    const path = join(folder, 'x.twelvefold');
    await writeFile(path, content);
    expect(code(await books.open(path))).toBe(wanted);
    expect(await readFile(path)).toEqual(Buffer.from(content as string));
  });

  it.each([
    ['no such file', () => join(folder, 'none.twelvefold'), 'file-enoent'],
    ['another ending', () => join(folder, 'x.json'), 'not-a-book-name'],
    ['a path that is not whole', () => 'x.twelvefold', 'not-a-path'],
    ['a NUL in the path', () => `${folder}/x\0.twelvefold`, 'not-a-path'],
    ['a folder with the ending of a book', () => join(folder, 'own.twelvefold'), 'file-eisdir'],
  ])('%s', async (_name, path, wanted) => {
    await mkdir(join(folder, 'own.twelvefold'));
    expect(code(await books.open(path()))).toBe(wanted);
  });
});

describe('saving', () => {
  const ask = async (part: object = {}) => ({
    source: await source(),
    path: join(folder, 'x.twelvefold'),
    stamp: undefined,
    force: false,
    ...part,
  });

  it('writes what can be opened again, and remembers it', async () => {
    const saved = await books.save(await ask());
    expect(saved.ok && saved.value.name).toBe('x.twelvefold');
    const opened = await books.open(join(folder, 'x.twelvefold'));
    expect(opened.ok && opened.value.source).toEqual(await source());
    const recent = await books.recent();
    expect(recent.ok && recent.value.map((it) => it.name)).toEqual(['x.twelvefold']);
  });

  it('a file that another program changed is not written over, unless the user says so', async () => {
    const first = await books.save(await ask());
    await writeFile(join(folder, 'x.twelvefold'), 'other');
    const stamp = first.ok ? first.value.stamp : undefined;
    expect(code(await books.save(await ask({ stamp })))).toBe('changed-on-disk');
    expect(await readFile(join(folder, 'x.twelvefold'), 'utf8')).toBe('other');
    expect((await books.save(await ask({ stamp, force: true }))).ok).toBe(true);
  });

  it('a file that is there already counts as changed for a book that was never saved there', async () => {
    await writeFile(join(folder, 'x.twelvefold'), 'other');
    expect(code(await books.save(await ask()))).toBe('changed-on-disk');
  });

  it('a file that was deleted meanwhile is simply written again', async () => {
    const first = await books.save(await ask());
    await rm(join(folder, 'x.twelvefold'));
    expect((await books.save(await ask({ stamp: first.ok ? first.value.stamp : undefined }))).ok).toBe(true);
  });

  it('a folder of that name stays, also when the user says to save over what is there', async () => {
    await mkdir(join(folder, 'x.twelvefold'));
    for (const force of [false, true]) expect(code(await books.save(await ask({ force })))).toBe('file-eisdir');
    expect((await stat(join(folder, 'x.twelvefold'))).isDirectory()).toBe(true);
  });

  it('the folder has vanished', async () => {
    expect(code(await books.save(await ask({ path: join(folder, 'gone', 'x.twelvefold') })))).toBe('folder-gone');
  });

  it.each([
    ['the disk is full', 'ENOSPC', /full/],
    ['a read-only disk', 'EROFS', /cannot be written/],
    ['a folder without permission', 'EACCES', /permissions/],
  ])('%s: a sentence, and the old file stays', async (_name, failure, words) => {
    const first = await books.save(await ask());
    const before = await readFile(join(folder, 'x.twelvefold'), 'utf8');
    // Only the book's own write fails: the list of recent books may be written at the same time.
    const real = await vi.importActual<typeof files>('../../core/disk/files.js');
    const spy = vi.spyOn(files, 'writeTextSafely').mockImplementation(async (path, ...rest) => {
      if (path.endsWith('x.twelvefold')) throw Object.assign(new Error('no'), { code: failure });
      return real.writeTextSafely(path, ...rest);
    });
    const saved = await books.save(await ask({ source: await source('Other'), stamp: first.ok ? first.value.stamp : undefined }));
    spy.mockRestore();
    expect(saved.ok ? '' : saved.issues[0]?.message).toMatch(words);
    expect(await readFile(join(folder, 'x.twelvefold'), 'utf8')).toBe(before);
  });

  it('what could not be opened again is not written', async () => {
    const broken = { ...(await source()), title: '' };
    expect(code(await books.save(await ask({ source: broken })))).toBe('not-saveable');
  });

  it('two saves at once end with the later one', async () => {
    const path = join(folder, 'x.twelvefold');
    const [a, b] = await Promise.all([
      books.save(await ask({ force: true })),
      books.save(await ask({ source: await source('Second'), force: true })),
    ]);
    expect([a.ok, b.ok]).toEqual([true, true]);
    expect(await readFile(path, 'utf8')).toContain('"Second"');
  });
});

describe('recovery', () => {
  it('a copy comes back with its place, and goes when it is put away', async () => {
    const kept = { document: DOCUMENT, source: await source('Half done'), path: join(folder, 'x.twelvefold'), name: 'x.twelvefold' };
    expect((await books.keepRecovery(kept)).ok).toBe(true);
    const list = await books.recoveries();
    expect(list.ok && list.value).toEqual([
      { document: DOCUMENT, path: kept.path, name: 'x.twelvefold', time: '2026-03-01T10:00:00.000Z' },
    ]);
    const opened = await books.openRecovery(DOCUMENT);
    expect(opened.ok && opened.value.source.title).toBe('Half done');
    await books.dropRecovery(DOCUMENT);
    expect(await books.recoveries()).toMatchObject({ value: [] });
  });

  it('a damaged copy is passed over in the list and told when it is opened', async () => {
    await mkdir(join(folder, 'own', 'recovery'), { recursive: true });
    await writeFile(join(folder, 'own', 'recovery', `${DOCUMENT}.json`), '{"half');
    expect(await books.recoveries()).toMatchObject({ value: [] });
    expect(code(await books.openRecovery(DOCUMENT))).toBe('recovery-damaged');
  });

  it.each(['../../x', 'a/b', '', 'x'.repeat(80)])('the name %j leads nowhere', async (document) => {
    expect(code(await books.openRecovery(document))).toBe('unknown-document');
    expect(code(await books.dropRecovery(document))).toBe('unknown-document');
  });

  it('a damaged list of recent books counts as empty', async () => {
    await mkdir(join(folder, 'own'), { recursive: true });
    await writeFile(join(folder, 'own', 'recent.json'), '[1, 2');
    expect(await books.recent()).toMatchObject({ value: [] });
  });
});
