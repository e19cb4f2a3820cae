/**
 * Stands in for core/batch/start-thread.ts in the tests: a thread runs the same sources, bundled. What the sources start by
 * themselves is tested by the command line as a program of its own.
 */
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { ThreadFile } from '../core/batch/start-thread.js';
import { bundled } from './bundled.js';

const ENTRIES: Readonly<Record<ThreadFile, string>> = {
  worker: 'core/batch/worker.ts',
  'picture-worker': 'core/batch/picture-worker.ts',
};
let folder: string | undefined;

export function startThread(file: ThreadFile, workerData?: unknown): Worker {
  folder ??= bundled(ENTRIES);
  return new Worker(join(folder, `${file}.js`), { workerData });
}
