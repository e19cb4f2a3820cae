import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fileIssue, inFolder, readText, readyFolder, removeUnfinished, writeSafely, writeTextSafely } from '../../core/disk/files.js';

let folder = '';
beforeEach(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'twelvefold-')));
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});

const names = () => readdirSync(folder).sort();
const content = (name: string) => readFileSync(join(folder, name), 'utf8');
const codeOf = (promise: Promise<unknown>) =>
  promise.then(
    () => 'done',
    (failure: { code?: string; message: string }) => failure.code ?? failure.message,
  );

describe('a file that is written', () => {
  it('has everything, and replaces the old one', async () => {
    writeFileSync(join(folder, 'a.txt'), 'old');
    await writeSafely(join(folder, 'a.txt'), (sink) => {
      for (let i = 0; i < 50_000; i++) sink.write('line of text\n');
    });
    expect(content('a.txt')).toBe('line of text\n'.repeat(50_000));
    expect(names()).toEqual(['a.txt']);
  });

  it('may be ended by whoever fills it', async () => {
    await writeSafely(join(folder, 'a.txt'), (sink) => void sink.end('x'));
    expect(content('a.txt')).toBe('x');
  });

  it('is not seen before it is whole', async () => {
    await writeSafely(join(folder, 'a.txt'), async (sink) => {
      await new Promise((done) => sink.write('half', done));
      expect(names().filter((name) => !name.endsWith('.tmp'))).toEqual([]);
      expect(names()).toHaveLength(1);
    });
    expect(names()).toEqual(['a.txt']);
  });

  it('keeps a link to it a link', async () => {
    mkdirSync(join(folder, 'far'));
    writeFileSync(join(folder, 'far/real.txt'), 'old');
    symlinkSync(join(folder, 'far/real.txt'), join(folder, 'link.txt'));
    await writeTextSafely(join(folder, 'link.txt'), 'new');
    expect(content('far/real.txt')).toBe('new');
    expect(realpathSync(join(folder, 'link.txt'))).toBe(join(folder, 'far/real.txt'));
  });
});

describe('a write that fails leaves the old file and nothing else', () => {
  beforeEach(() => writeFileSync(join(folder, 'a.txt'), 'old'));
  afterEach(() => {
    expect(names()).toEqual(['a.txt']);
    expect(content('a.txt')).toBe('old');
  });
  const path = () => join(folder, 'a.txt');

  it('when the filling fails half way', async () => {
    const failing = writeSafely(path(), async (sink) => {
      await new Promise((done) => sink.write('half', done));
      throw new Error('no ink');
    });
    expect(await codeOf(failing)).toBe('no ink');
  });

  it('when the filling fails at once', async () => {
    const failing = writeSafely(path(), () => {
      throw new Error('no ink');
    });
    expect(await codeOf(failing)).toBe('no ink');
  });

  it('when the stream fails while the filling waits for ever', async () => {
    const failing = writeSafely(path(), (sink) => {
      sink.destroy(new Error('disk gone'));
      return new Promise(() => {});
    });
    expect(await codeOf(failing)).toBe('disk gone');
  });

  it('when it is stopped before, during and after the filling', async () => {
    const stop = new AbortController();
    const during = writeSafely(path(), (sink) => void sink.write('x', () => stop.abort(new Error('stopped'))), { signal: stop.signal });
    expect(await codeOf(during)).toBe('stopped');
    expect(await codeOf(writeTextSafely(path(), 'x', { signal: stop.signal }))).toBe('stopped');
  });

  it('when the file may not be replaced', async () => {
    expect(await codeOf(writeTextSafely(path(), 'new', { replace: false }))).toBe('EEXIST');
  });

  it('when the file appears while it is being written', async () => {
    rmSync(path());
    const late = writeSafely(path(), () => writeFileSync(path(), 'old'), { replace: false });
    expect(await codeOf(late)).toBe('EEXIST');
  });
});

it('removes what is unfinished when the process must end', async () => {
  let seen: string[] = [];
  const cut = writeSafely(join(folder, 'a.txt'), async (sink) => {
    await new Promise((done) => sink.write('half', done));
    removeUnfinished();
    seen = names();
  });
  expect(await codeOf(cut)).toBe('ENOENT');
  expect(seen).toEqual([]);
  expect(names()).toEqual([]);
});

it('lets one of two writers of a new file win, whole', async () => {
  const path = join(folder, 'a.txt');
  const results = await Promise.all(['one', 'two'].map((text) => codeOf(writeTextSafely(path, text, { replace: false }))));
  expect(results.sort()).toEqual(['EEXIST', 'done']);
  expect(['one', 'two']).toContain(content('a.txt'));
  expect(names()).toEqual(['a.txt']);
});

describe('refusals of the file system, in sentences', () => {
  it('no such folder', async () => {
    const path = join(folder, 'none/a.txt');
    const failure = await writeTextSafely(path, 'x').catch((problem: unknown) => problem);
    expect(fileIssue(failure, 'none/a.txt')).toMatchObject({
      code: 'file-enoent',
      message: 'There is no file or folder "none/a.txt"; check the name and the folder.',
    });
  });

  it('anything else is not ours to explain', () => {
    expect(fileIssue(new Error('bug'), 'a')).toBeUndefined();
    expect(fileIssue(Object.assign(new Error('x'), { code: 'toString' }), 'a')).toBeUndefined();
  });

  it.each([
    ['missing.txt', 'no file or folder "missing.txt"'],
    ['folder', '"folder" is a folder'],
    ['large', 'too large for a book file'],
    ['latin', 'not UTF-8 text'],
    ['large/inner', 'a part of it is a file'],
  ])('reading %s', async (name, words) => {
    mkdirSync(join(folder, 'folder'));
    writeFileSync(join(folder, 'large'), 'x'.repeat(2000));
    writeFileSync(join(folder, 'latin'), Buffer.from([0x7b, 0xe9, 0x7d]));
    const result = await readText(join(folder, name), 1000, name);
    expect(result.ok).toBe(false);
    expect(result.issues[0]?.message).toContain(words);
  });
});

describe('a folder for output', () => {
  it('is made, with those above it', async () => {
    expect(await readyFolder(join(folder, 'a/b'))).toMatchObject({ ok: true });
    expect(readdirSync(join(folder, 'a/b'))).toEqual([]);
  });

  it.each([
    ['file', 'is a file, not a folder'],
    ['file/below', 'a part of it is a file'],
  ])('cannot be %s', async (name, words) => {
    writeFileSync(join(folder, 'file'), '');
    const result = await readyFolder(join(folder, name), name);
    expect(result.ok).toBe(false);
    expect(result.issues[0]?.message).toContain(words);
  });

  it('is taken away again when nothing was written in it, with those made above it', async () => {
    mkdirSync(join(folder, 'own'));
    const deep = join(folder, 'own/a/b');
    expect(await inFolder(deep, 'a/b', async (path) => existsSync(path))).toEqual({ ok: true, value: true, issues: [] });
    await expect(inFolder(deep, 'a/b', () => Promise.reject(new Error('stopped')))).rejects.toThrow('stopped');
    expect(readdirSync(join(folder, 'own'))).toEqual([]);
    // What was there before stays, empty as it is.
    await inFolder(join(folder, 'own'), 'own', async () => undefined);
    expect(readdirSync(folder)).toContain('own');
  });

  it('stays with what was written in it', async () => {
    await inFolder(join(folder, 'a/b'), 'a/b', async (path) => writeFileSync(join(path, 'file'), ''));
    expect(readdirSync(join(folder, 'a/b'))).toEqual(['file']);
  });

  it('that cannot be used is no place for work', async () => {
    writeFileSync(join(folder, 'file'), '');
    let worked = false;
    const result = await inFolder(join(folder, 'file'), 'file', async () => {
      worked = true;
    });
    expect([result.ok, worked]).toEqual([false, false]);
  });

  it('cannot be one that may not be written (the superuser may write anywhere but in /proc)', async () => {
    const closed = process.getuid?.() === 0 ? '/proc/twelvefold' : join(folder, 'closed');
    if (!closed.startsWith('/proc')) {
      mkdirSync(closed);
      chmodSync(closed, 0o555);
    }
    const result = await readyFolder(closed);
    expect(result.ok).toBe(false);
    expect(result.issues[0]?.code).toMatch(/^file-e(?:noent|acces|perm)$/);
  });
});
