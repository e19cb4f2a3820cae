/** The built program, interrupted at several moments: no partial file, whatever its threads are at. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const daybook = JSON.parse(readFileSync(join(root, 'assets/books/keywrights-daybook.twelvefold'), 'utf8'));

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'twelvefold-cancel-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

/** What the program tells of itself on its way, in this order. Its threads inherit this and have nobody to tell. */
const STAGES = ['hears interrupts', 'starts a thread', 'works on threads'] as const;
type Stage = (typeof STAGES)[number];
const TELLS = `
  process.on('newListener', (name) => { if (name === 'SIGINT') process.send?.('hears interrupts'); });
  process.on('worker', (worker) => {
    process.send?.('starts a thread');
    worker.on('message', ({ kind }) => { if (kind === 'ready') process.send?.('works on threads'); });
  });`;

function start(...args: readonly string[]) {
  const tells = `data:text/javascript,${encodeURIComponent(TELLS)}`;
  const child = spawn(process.execPath, ['--import', tells, join(root, 'dist/cli/cli.js'), ...args], {
    cwd: folder,
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
  });
  let words = '';
  child.stderr?.on('data', (chunk) => {
    words += chunk;
  });
  const closed = once(child, 'close');
  const reached = (stage: Stage): Promise<void> =>
    new Promise((resolve, reject) => {
      child.on('message', (told) => told === stage && resolve());
      child.once('close', () => reject(new Error(`the program ended before it ${stage}: ${words}`)));
    });
  /** The exit code and what was said, after an interrupt. */
  const interrupted = async (): Promise<[code: number, said: string]> => {
    child.kill('SIGINT');
    const [code] = await closed;
    return [code, words];
  };
  return { child, reached, interrupted };
}

const partial = (names: readonly string[]): string[] =>
  names.filter(
    (name) =>
      !name.endsWith('.pdf') ||
      !readFileSync(join(folder, 'out', name))
        .toString('latin1')
        .trimEnd()
        .endsWith('%%EOF'),
  );

const inOut = (): string[] => {
  try {
    return readdirSync(join(folder, 'out'));
  } catch {
    return [];
  }
};

describe('a build that is interrupted', () => {
  // One chapter, and with it the layout of all its pages, in a single piece of synchronous work of many seconds.
  const [first] = daybook.chapters;
  const long = {
    ...daybook,
    editions: daybook.editions.slice(0, 3),
    chapters: [
      {
        ...first,
        exercises: Array.from({ length: 400 }, (_, i) => ({ ...first.exercises[i % first.exercises.length], id: `e${i}` })),
      },
    ],
  };

  const STOPPED = [130, 'Stopped; nothing half-written is left.\n'];

  it.each(STAGES)('as soon as it %s ends at once, and leaves nothing', async (stage) => {
    writeFileSync(join(folder, 'long.twelvefold'), JSON.stringify(long));
    const { reached, interrupted } = start('build', 'long.twelvefold', '--out', 'out');
    await reached(stage);
    expect(await interrupted()).toEqual(STOPPED);
    expect(inOut()).toEqual([]);
  });

  it.each(['build', 'check'])('amid the long work of a %s ends at once, and leaves nothing', async (command) => {
    writeFileSync(join(folder, 'long.twelvefold'), JSON.stringify(long));
    const { reached, interrupted } = start(command, 'long.twelvefold', ...(command === 'build' ? ['--out', 'out'] : []));
    await reached('works on threads');
    // Far into the work on a fast machine, less far on a slow one, and never near its end.
    await wait(700);
    expect(await interrupted()).toEqual(STOPPED);
    expect(inOut()).toEqual([]);
  });

  it('keeps the files that were whole', async () => {
    writeFileSync(join(folder, 'book.twelvefold'), JSON.stringify({ ...daybook, chapters: [first] }));
    const { child, interrupted } = start('build', 'book.twelvefold', '--out', 'out');
    await once(child.stdout as NonNullable<typeof child.stdout>, 'data');
    const [code, said] = await interrupted();
    expect(said).toContain('Stopped; nothing half-written is left.\n');
    expect(code).toBe(130);
    expect(inOut().length).toBeGreaterThan(0);
    expect(inOut().length).toBeLessThan(daybook.editions.length);
    expect(partial(inOut())).toEqual([]);
  });
});
