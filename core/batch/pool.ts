/** Worker threads that share a list of jobs. A thread that breaks down takes only its own job with it. */
import { createRequire } from 'node:module';
import { availableParallelism } from 'node:os';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { Context, Done, Job, Step } from './work.js';

export type FromWorker =
  | { readonly kind: 'step'; readonly step: Step }
  | { readonly kind: 'done'; readonly done: Done }
  | { readonly kind: 'failed'; readonly name: string; readonly where: string };

export type Pool = {
  /** `onStep` hears undefined when a thread begins with the job. Rejects with a `JobFailure` if the program fails, and with the signal's reason when it is aborted. */
  readonly run: (job: Job, onStep?: (step: Step | undefined) => void) => Promise<Done>;
  readonly close: () => Promise<void>;
};

/** A fault of the program, met in a thread. */
export class JobFailure extends Error {}

type Waiting = {
  readonly job: Job;
  readonly onStep: ((step: Step | undefined) => void) | undefined;
  readonly resolve: (done: Done) => void;
  readonly reject: (failure: unknown) => void;
};

type Thread = { readonly worker: Worker; busy: Waiting | undefined };

/** From the built program; from its sources by way of the loader that runs them in development. */
function startWorker(context: Context): Worker {
  if (!import.meta.url.endsWith('.ts')) return new Worker(new URL('./worker.js', import.meta.url), { workerData: context });
  const loader = new URL('./esm/api/index.mjs', pathToFileURL(createRequire(import.meta.url).resolve('tsx'))).href;
  const script = new URL('./worker.ts', import.meta.url).href;
  const boot = `import(${JSON.stringify(loader)}).then(({ register }) => { register(); return import(${JSON.stringify(script)}); });`;
  return new Worker(boot, { eval: true, workerData: context });
}

export const threadsFor = (jobs: number): number => Math.max(1, Math.min(jobs, availableParallelism()));

/** Threads are started as jobs come, up to `size`. On abort they are ended at once: they write no files, so none stays half-written. */
export function openPool(context: Context, size: number, signal: AbortSignal): Pool {
  const threads = new Set<Thread>();
  const queue: Waiting[] = [];
  let closed = false;

  function finish(thread: Thread, settle: (waiting: Waiting) => void): void {
    const { busy } = thread;
    thread.busy = undefined;
    if (busy) settle(busy);
    next();
  }

  function hear(thread: Thread, message: FromWorker): void {
    if (message.kind === 'step') thread.busy?.onStep?.(message.step);
    else if (message.kind === 'done') finish(thread, ({ resolve }) => resolve(message.done));
    else finish(thread, ({ reject }) => reject(new JobFailure(`${message.name} ${message.where}`.trim())));
  }

  function start(): Thread {
    const thread: Thread = { worker: startWorker(context), busy: undefined };
    threads.add(thread);
    thread.worker.on('message', (message: FromWorker) => hear(thread, message));
    const gone = (words: string) => {
      if (!threads.delete(thread)) return;
      void thread.worker.terminate();
      finish(thread, ({ reject }) => reject(signal.aborted ? signal.reason : new JobFailure(words)));
    };
    thread.worker.on('error', (failure) => gone(`the thread broke down: ${failure.name}`));
    thread.worker.on('exit', () => gone('the thread ended early'));
    return thread;
  }

  function next(): void {
    while (!closed && queue.length > 0) {
      const idle = [...threads].find((thread) => !thread.busy) ?? (threads.size < size ? start() : undefined);
      if (!idle) return;
      const waiting = queue.shift() as Waiting;
      idle.busy = waiting;
      waiting.onStep?.(undefined);
      idle.worker.postMessage(waiting.job);
    }
  }

  async function end(): Promise<void> {
    closed = true;
    const running = [...threads];
    threads.clear();
    await Promise.all(running.map(({ worker }) => worker.terminate()));
  }

  function stop(): void {
    const stopped = [...queue.splice(0), ...[...threads].flatMap(({ busy }) => (busy ? [busy] : []))];
    void end();
    for (const { reject } of stopped) reject(signal.reason);
  }
  signal.addEventListener('abort', stop, { once: true });

  return {
    run(job, onStep) {
      if (signal.aborted) return Promise.reject(signal.reason);
      return new Promise((resolve, reject) => {
        queue.push({ job, onStep, resolve, reject });
        next();
      });
    },
    async close() {
      signal.removeEventListener('abort', stop);
      await end();
    },
  };
}
