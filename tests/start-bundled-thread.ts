/**
 * Stands in for core/batch/start-thread.ts in the tests: a thread runs the same sources, bundled once for each state of the
 * sources. What the sources start by themselves is tested by the command line as a program of its own.
 */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { buildSync } from 'esbuild';
import type { ThreadFile } from '../core/batch/start-thread.js';

const program = fileURLToPath(new URL('../', import.meta.url));

/** In milliseconds. Bundles of older sources are thrown away when no run can need them any more. */
const DAY = 24 * 3_600_000;

/** Changes whenever a file of the core does. */
function stateOfSources(): string {
  const state = createHash('sha256');
  for (const entry of readdirSync(join(program, 'core'), { withFileTypes: true, recursive: true })) {
    const path = join(entry.parentPath, entry.name);
    if (entry.isFile()) state.update(`${path} ${statSync(path).mtimeMs}\n`);
  }
  return state.digest('hex').slice(0, 16);
}

let folder: string | undefined;

/** The folder of the bundles. It appears whole, under the name of its state: processes that make it at once do not meet. */
function bundles(): string {
  const all = join(program, 'dist', 'threads');
  const whole = join(all, stateOfSources());
  if (existsSync(whole)) return whole;
  for (const name of existsSync(all) ? readdirSync(all) : []) {
    if ((statSync(join(all, name), { throwIfNoEntry: false })?.mtimeMs ?? 0) < Date.now() - DAY)
      rmSync(join(all, name), { recursive: true, force: true });
  }
  const own = `${whole}-${process.pid}`;
  buildSync({
    entryPoints: ['worker', 'picture-worker'].map((name) => join(program, 'core', 'batch', `${name}.ts`)),
    outdir: own,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    banner: { js: "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);" },
    logLevel: 'warning',
  });
  try {
    renameSync(own, whole);
  } catch {
    // Another process was sooner.
    rmSync(own, { recursive: true });
  }
  return whole;
}

export function startThread(file: ThreadFile, workerData?: unknown): Worker {
  folder ??= bundles();
  return new Worker(join(folder, `${file}.js`), { workerData });
}
