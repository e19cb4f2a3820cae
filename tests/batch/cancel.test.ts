/** The built program, interrupted at several moments: no partial file, whatever its threads are at. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
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

function start(...args: readonly string[]): { child: ChildProcess; said: () => string } {
  const child = spawn(process.execPath, [join(root, 'dist/cli/cli.js'), ...args], { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] });
  let words = '';
  child.stderr?.on('data', (chunk) => {
    words += chunk;
  });
  return { child, said: () => words };
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

/** Behind the reading of the book: the folder is there, and the threads begin. */
async function begun(): Promise<void> {
  while (!existsSync(join(folder, 'out'))) await wait(5);
}

const inOut = (): string[] => {
  try {
    return readdirSync(join(folder, 'out'));
  } catch {
    return [];
  }
};

describe('a build that is interrupted', { timeout: 120_000 }, () => {
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

  it.each([0, 300, 1000, 2500])('%d ms after its threads begin ends at once, in the midst of long work', async (after) => {
    writeFileSync(join(folder, 'long.twelvefold'), JSON.stringify(long));
    const { child, said } = start('build', 'long.twelvefold', '--out', 'out');
    await begun();
    await wait(after);
    child.kill('SIGINT');
    const [code] = await once(child, 'close');
    expect(said()).toBe('Stopped; nothing half-written is left.\n');
    expect(code).toBe(130);
    expect(inOut()).toEqual([]);
  });

  it('keeps the files that were whole', async () => {
    writeFileSync(join(folder, 'book.twelvefold'), JSON.stringify({ ...daybook, chapters: [first] }));
    const { child, said } = start('build', 'book.twelvefold', '--out', 'out');
    await once(child.stdout as NonNullable<typeof child.stdout>, 'data');
    child.kill('SIGINT');
    const [code] = await once(child, 'close');
    expect(said()).toContain('Stopped; nothing half-written is left.\n');
    expect(code).toBe(130);
    expect(inOut().length).toBeGreaterThan(0);
    expect(inOut().length).toBeLessThan(daybook.editions.length);
    expect(partial(inOut())).toEqual([]);
  });

  it('leaves nothing of a check either', async () => {
    writeFileSync(join(folder, 'long.twelvefold'), JSON.stringify(long));
    const { child, said } = start('check', 'long.twelvefold');
    // It writes nothing by which its beginning could be seen, and works for much longer than this.
    await wait(4000);
    child.kill('SIGINT');
    const [code] = await once(child, 'close');
    expect([code, said()]).toEqual([130, 'Stopped; nothing half-written is left.\n']);
  });
});
