/** Starts a thread that runs a file of this folder. (The tests put a faster way of the same kind in its place.) */
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';

export type ThreadFile = 'worker' | 'picture-worker';

/** From the built program; from its sources by way of the loader that runs them in development. */
export function startThread(file: ThreadFile, workerData?: unknown): Worker {
  if (!import.meta.url.endsWith('.ts')) return new Worker(new URL(`./${file}.js`, import.meta.url), { workerData });
  const loader = new URL('./esm/api/index.mjs', pathToFileURL(createRequire(import.meta.url).resolve('tsx'))).href;
  const script = new URL(`./${file}.ts`, import.meta.url).href;
  const boot = `import(${JSON.stringify(loader)}).then(({ register }) => { register(); return import(${JSON.stringify(script)}); });`;
  return new Worker(boot, { eval: true, workerData });
}
