/** Kills a program that writes, at a moment given, and looks at what it leaves. */
import { type ChildProcess, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { run } from '../../core/cli/main.js';
import { writeTextSafely } from '../../core/disk/files.js';
import { booksOnDisk } from '../../electron/services/disk/books.js';
import { smallBook } from '../book/small-book.js';
import { bundled } from '../bundled.js';

export type Kind = 'save' | 'build' | 'recovery';

/** Two books with one title, so that each is built over the other. */
export const BOOKS = ['one.twelvefold', 'two.twelvefold'] as const;
const PDF = 'a-small-book-flute.pdf';

const digest = (bytes: Uint8Array | string): string => createHash('sha256').update(bytes).digest('hex');

/** Text number n, of up to 2 MB, that tells by itself whether it is whole. */
export function saved(n: number): string {
  const body = `${n} `.repeat(20_000 + ((n * 7919) % 300_000));
  return `${digest(body)}\n${body}`;
}

const whole = (text: string): boolean => {
  const [sum, ...body] = text.split('\n');
  return digest(body.join('\n')) === sum;
};

const quiet = (cwd: string) => ({
  out: () => {},
  err: () => {},
  cwd,
  watched: false,
  signal: new AbortController().signal,
  today: '2026-03-01',
});

function writeBooks(folder: string): void {
  BOOKS.forEach((name, i) => {
    writeFileSync(join(folder, name), JSON.stringify({ ...smallBook(), author: `Author ${i + 1}` }));
  });
}

let built: Promise<readonly string[]> | undefined;

/** Digests of the two PDF files, built in peace. */
function wholePdfs(): Promise<readonly string[]> {
  built ??= (async () => {
    const folder = mkdtempSync(join(tmpdir(), 'twelvefold-whole-'));
    writeBooks(folder);
    const digests: string[] = [];
    for (const name of BOOKS) {
      await run(['build', name, '--out', 'out'], quiet(folder));
      digests.push(digest(readFileSync(join(folder, 'out', PDF))));
    }
    rmSync(folder, { recursive: true });
    return digests;
  })();
  return built;
}

const victim = (): string => join(bundled({ victim: 'tests/safety/victim.ts', worker: 'core/batch/worker.ts' }), 'victim.js');

async function ready(child: ChildProcess): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    let words = '';
    child.stderr?.on('data', (chunk) => {
      words += chunk;
    });
    child.stdout?.once('data', () => resolve());
    child.once('exit', (code) => reject(new Error(`the program ended before it was killed: ${code} ${words}`)));
  });
}

const temporaries = (folder: string): string[] =>
  readdirSync(folder, { recursive: true })
    .map(String)
    .filter((name) => name.endsWith('.tmp'));

export type Left = {
  /** What is not as it should be. */
  readonly faults: readonly string[];
  /** Temporary files that lay there before the next start. */
  readonly stray: number;
};

/** What the file is after the blow. */
async function look(kind: Kind, folder: string): Promise<string[]> {
  if (kind === 'save')
    return whole(readFileSync(join(folder, 'file'), 'utf8')) ? [] : ['the saved file is neither the old nor the new one'];
  if (kind === 'build') {
    const is = digest(readFileSync(join(folder, 'out', PDF)));
    return (await wholePdfs()).includes(is) ? [] : ['the PDF is neither the old nor the new one'];
  }
  const books = booksOnDisk({ folder, demo: '', now: () => '' });
  const offered = await books.recoveries();
  if (!offered.ok || offered.value.length !== 1) return ['the recovery copy is not offered'];
  const opened = await books.openRecovery('document-1');
  return opened.ok && /^Edit \d+$/.test(opened.value.source.title) ? [] : ['the recovery copy cannot be opened'];
}

/** The next start: something is written in each folder again. */
async function startAgain(kind: Kind, folder: string): Promise<void> {
  if (kind === 'save') await writeTextSafely(join(folder, 'file'), saved(0));
  else if (kind === 'build') await run(['build', BOOKS[0], '--out', 'out'], quiet(folder));
  else await writeTextSafely(join(folder, 'recovery', 'document-2.json'), '{}');
}

/**
 * Starts the program, kills it so many milliseconds after it has written its first file, and looks.
 */
export async function killed(kind: Kind, after: number): Promise<Left> {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'twelvefold-kill-')));
  try {
    if (kind === 'build') {
      writeBooks(folder);
      mkdirSync(join(folder, 'out'));
      await wholePdfs();
    }
    // Started by another file, so that the command line in it does not take itself for the program that was started.
    const start = join(folder, 'start.mjs');
    writeFileSync(start, `await import(${JSON.stringify(pathToFileURL(victim()).href)});`);
    const child = spawn(process.execPath, [start, kind, folder], { stdio: ['ignore', 'pipe', 'pipe'] });
    const ended = new Promise((resolve) => child.once('close', resolve));
    try {
      await ready(child);
      await wait(after);
    } finally {
      child.kill('SIGKILL');
      await ended;
    }
    const stray = temporaries(folder).length;
    const faults = await look(kind, folder);
    await startAgain(kind, folder);
    const rest = temporaries(folder);
    if (rest.length > 0) faults.push(`after the next start there is still ${rest.join(', ')}`);
    return { faults, stray };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
