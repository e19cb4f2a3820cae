/**
 * Many outputs in a process of their own, from its start to its end. Prints JSON: CPU and time in ms, pages, outputs, peak
 * memory in MB. `node dist/bench/batch-child.js booklets 60`, `ensemble 30`, or `editions 38 2`, with a number of threads.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Output, runBatch } from '../core/batch/batch.js';
import { openPool } from '../core/batch/pool.js';
import { readBook } from '../core/book/read.js';
import { growGently, optimiseLater } from '../core/cli/gentle-heap.js';
import type * as CommandLine from '../core/cli/main.js';
import { allEditions, bandSource, classSource, setSource } from './people.js';
import { cpuNow } from './timing.js';

const [kind = 'booklets', size = '10', threads = '1'] = process.argv.slice(2);
const { signal } = new AbortController();

/** The program as it is built; in a folder of its own beside this one's. */
const program = new URL('../cli/cli.js', import.meta.url).href;

type Made = { readonly pages: number; readonly outputs: number };

/** As the command line does. */
async function byCommand(folder: string): Promise<Made> {
  const { run } = (await import(program)) as typeof CommandLine;
  writeFileSync(join(folder, 'set.twelvefold'), setSource());
  writeFileSync(join(folder, 'people'), kind === 'booklets' ? classSource(Number(size)) : bandSource(Number(size)));
  let answer = '';
  const out = (text: string): void => {
    answer += text;
  };
  const terminal = { out, err: out, cwd: folder, watched: false, signal, today: '2026-03-01' };
  const code = await run([kind, 'set.twelvefold', 'people', '--out', join(folder, 'out'), '--json'], terminal);
  if (code !== 0) throw new Error(answer);
  const { outputs } = JSON.parse(answer) as { outputs: { pages: number }[] };
  return { pages: outputs.reduce((sum, { pages }) => sum + pages, 0), outputs: outputs.length };
}

/** On so many threads, which the command line does not let one choose. */
async function editions(folder: string): Promise<Made> {
  const book = readBook(allEditions());
  if (!book.ok) throw new Error(book.issues.map(({ message }) => message).join('\n'));
  const outputs = book.value.editions
    .slice(0, Number(size))
    .map((spec, i): Output => ({ job: { kind: 'edition', spec }, file: `${i}.pdf`, label: spec.instrument }));
  const pool = openPool({ kind: 'editions', book: book.value }, Number(threads), signal);
  const results = await runBatch(outputs, pool, folder, signal, { onProgress: () => {} });
  await pool.close();
  const failed = results.filter(({ file }) => file === undefined);
  if (failed.length > 0) throw new Error(failed.flatMap(({ issues }) => issues.map(({ message }) => message)).join('\n'));
  return { pages: results.reduce((sum, { pages }) => sum + pages, 0), outputs: results.length };
}

// As the command line does.
growGently();
optimiseLater();
const folder = mkdtempSync(join(tmpdir(), 'twelvefold-bench-'));
try {
  const made = await (kind === 'editions' ? editions(folder) : byCommand(folder));
  const result = { ...made, cpu: cpuNow(), wall: performance.now(), peak: process.resourceUsage().maxRSS / 1024 };
  process.stdout.write(`${JSON.stringify(result)}\n`);
} finally {
  rmSync(folder, { recursive: true });
}
