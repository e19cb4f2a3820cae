/** Disks and folders that fail in the middle of the work: a sentence, and the old file whole. */
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { fileIssue, writeSafely, writeTextSafely } from '../../core/disk/files.js';
import { smallBook } from '../book/small-book.js';
import { workbench } from '../cli/run.js';
import { runInLimit, smallDisk } from './disk.js';

let bench: ReturnType<typeof workbench>;
beforeEach(() => {
  bench = workbench();
  bench.write('book.twelvefold', smallBook());
});
afterEach(() => bench.clear());

const PDF = 'a-small-book-flute.pdf';
const refusal = (work: Promise<unknown>) =>
  work.then(
    () => undefined,
    (failure: unknown) => fileIssue(failure, 'file')?.code,
  );

describe('a full disk', () => {
  it('in a build: the old PDF stays, and nothing half-written', () => {
    mkdirSync(join(bench.folder, 'out'));
    writeFileSync(join(bench.folder, 'out', PDF), 'old');
    const { code, err } = runInLimit(8, bench.folder, ['build', 'book.twelvefold', '--out', 'out']);
    expect(err).toContain('grew too large for its disk; choose another folder.');
    expect(code).toBe(1);
    expect(readdirSync(join(bench.folder, 'out'))).toEqual([PDF]);
    expect(readFileSync(join(bench.folder, 'out', PDF), 'utf8')).toBe('old');
  });

  it('that is really full, or a stream that says so', async () => {
    const disk = smallDisk(64);
    try {
      const folder = disk?.folder ?? bench.folder;
      const path = join(folder, 'file');
      await writeTextSafely(path, 'old');
      const full = disk
        ? writeTextSafely(path, 'x'.repeat(200_000))
        : writeSafely(path, (sink) => void sink.destroy(Object.assign(new Error('full'), { code: 'ENOSPC' })));
      expect(await refusal(full)).toBe('file-enospc');
      expect(readFileSync(path, 'utf8')).toBe('old');
      expect(readdirSync(folder).filter((name) => name.endsWith('.tmp'))).toEqual([]);
    } finally {
      disk?.remove();
    }
  });
});

describe('a folder that is taken away', () => {
  /** Does something when the build says for the first time that it writes a page. */
  async function onFirstPage(deed: () => void) {
    let done = false;
    let words = '';
    const answer = await bench.run(['build', 'book.twelvefold', '--out', 'out'], {
      watched: true,
      err: (text) => {
        words += text;
        if (done || !/page \d+ of/.test(text)) return;
        done = true;
        deed();
      },
    });
    return { code: answer.code, done, words };
  }

  it('while its PDF is written', async () => {
    const { code, done, words } = await onFirstPage(() => rmSync(join(bench.folder, 'out'), { recursive: true }));
    expect(done).toBe(true);
    expect(words).toContain(`There is no file or folder "${join('out', PDF)}"; check the name and the folder.`);
    expect(code).toBe(1);
    expect(bench.names()).toEqual(['book.twelvefold']);
  });

  it('and becomes a file', async () => {
    const { code, words } = await onFirstPage(() => {
      rmSync(join(bench.folder, 'out'), { recursive: true });
      writeFileSync(join(bench.folder, 'out'), 'in the way');
    });
    expect(words).toContain('a part of it is a file and not a folder; choose another folder.');
    expect(code).toBe(1);
    expect(bench.names()).toEqual(['book.twelvefold', 'out']);
    expect(readFileSync(join(bench.folder, 'out'), 'utf8')).toBe('in the way');
  });

  it('in which a folder stands where the PDF shall be', async () => {
    mkdirSync(join(bench.folder, 'out', PDF, 'inner'), { recursive: true });
    const { code, err } = await bench.run(['build', 'book.twelvefold', '--out', 'out']);
    expect(err).toMatch(/error: .*; (?:name a file|choose another name, or move it away first)\./);
    expect(code).toBe(1);
    expect(bench.names()).toEqual(['book.twelvefold', 'out', join('out', PDF), join('out', PDF, 'inner')]);
  });
});

describe('permission that is lost', () => {
  // The superuser may write anywhere, so it is not him who tries.
  const superuser = process.getuid?.() === 0;
  const as = (id: number) => {
    if (superuser) process.seteuid?.(id);
  };
  const NOBODY = 65534;
  let folder = '';
  beforeAll(() => {
    folder = realpathSync(mkdtempSync(join(tmpdir(), 'twelvefold-')));
    chmodSync(folder, 0o777);
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  async function tried<T>(work: () => Promise<T>): Promise<T> {
    as(NOBODY);
    try {
      return await work();
    } finally {
      as(0);
    }
  }

  it('before a save: the old file stays', async () => {
    const path = join(folder, 'file');
    await writeTextSafely(path, 'old');
    chmodSync(folder, 0o555);
    expect(await tried(() => refusal(writeTextSafely(path, 'new')))).toBe('file-eacces');
    chmodSync(folder, 0o777);
    expect(readFileSync(path, 'utf8')).toBe('old');
    expect(readdirSync(folder)).toEqual(['file']);
  });

  it('in the middle of a save: the old file stays, and what is left goes at the next start', async () => {
    const path = join(folder, 'file');
    await writeTextSafely(path, 'old');
    const lost = await tried(() =>
      refusal(
        writeSafely(path, async (sink) => {
          await new Promise((done) => sink.write('half', done));
          as(0);
          chmodSync(folder, 0o555);
          as(NOBODY);
        }),
      ),
    );
    chmodSync(folder, 0o777);
    expect(lost).toBe('file-eacces');
    expect(readFileSync(path, 'utf8')).toBe('old');
  });

  it('of a file to read', async () => {
    const { readText } = await import('../../core/disk/files.js');
    const path = join(folder, 'secret');
    writeFileSync(path, '{}');
    chmodSync(path, 0o000);
    const answer = await tried(() => readText(path, 100));
    expect(answer.issues[0]?.code).toBe('file-eacces');
  });
});

describe('a clock that jumps', () => {
  afterEach(() => void vi.useRealTimers());

  it('changes no byte of what is built', async () => {
    const bytes: string[] = [];
    for (const date of ['1980-01-01', '2026-03-01T23:59:59Z', '2099-12-31']) {
      vi.useFakeTimers({ now: new Date(date), toFake: ['Date'] });
      expect((await bench.run(['build', 'book.twelvefold', '--out', 'out'])).code).toBe(0);
      bytes.push(readFileSync(join(bench.folder, 'out', PDF), 'latin1'));
    }
    expect(new Set(bytes).size).toBe(1);
  });
});

describe('two at one file', () => {
  it('one after the other wins, whole, and nothing else is left', async () => {
    const path = join(bench.folder, 'file');
    const texts = ['a', 'b', 'c', 'd'].map((letter) => letter.repeat(300_000));
    for (let round = 0; round < 10; round++) {
      await Promise.all(texts.map((text) => writeTextSafely(path, text)));
      expect(texts).toContain(readFileSync(path, 'utf8'));
    }
    expect(bench.names()).toEqual(['book.twelvefold', 'file']);
  });

  it('two programs that build into one folder both end well', async () => {
    const { spawn } = await import('node:child_process');
    const words = [
      '--import',
      import.meta.resolve('tsx'),
      join(process.cwd(), 'core/cli/main.ts'),
      'build',
      'book.twelvefold',
      '--out',
      'out',
    ];
    const codes = await Promise.all(
      [1, 2].map(
        () =>
          new Promise((done) => spawn(process.execPath, words, { cwd: bench.folder, stdio: 'ignore' }).once('close', (code) => done(code))),
      ),
    );
    expect(codes).toEqual([0, 0]);
    expect(readdirSync(join(bench.folder, 'out'))).toEqual([PDF]);
    expect(readFileSync(join(bench.folder, 'out', PDF), 'latin1')).toMatch(/^%PDF-[\s\S]*%%EOF\s*$/);
    expect(existsSync(join(bench.folder, 'book.twelvefold'))).toBe(true);
  });
});
