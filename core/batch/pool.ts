/** Worker threads that share a list of jobs. A thread that breaks down takes only its own job with it. */
import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import type { NamedFile } from '../export/edition-files.js';
import { startThread } from './start-thread.js';
import type { Context, Done, Job, Step } from './work.js';

export type ToWorker =
  | { readonly kind: 'job'; readonly job: Job }
  /** The file that came last is written, or could not be. */
  | { readonly kind: 'taken'; readonly ok: boolean };

export type FromWorker =
  | { readonly kind: 'ready' }
  | { readonly kind: 'step'; readonly step: Step }
  | { readonly kind: 'file'; readonly file: NamedFile }
  | { readonly kind: 'done'; readonly done: Done }
  | { readonly kind: 'failed'; readonly place: string };

export type OnStep = (step: Step | undefined) => void;
export type OnFile = (file: NamedFile) => Promise<void>;

export type Pool = {
  /**
   * `onStep` hears undefined when the job is begun; `onFile` takes the files of a job that makes many, and the job ends when
   * it rejects. Rejects with a `JobFailure` if the program fails, with what `onFile` rejected with, and with the signal's
   * reason when it is aborted.
   */
  readonly run: (job: Job, onStep?: OnStep, onFile?: OnFile) => Promise<Done>;
  readonly close: () => Promise<void>;
};

/** A fault of the program, met in a job. */
export class JobFailure extends Error {}

/** The thread for a job did not even start. */
export class NoThread extends JobFailure {}

type Waiting = {
  readonly job: Job;
  readonly onStep: OnStep | undefined;
  readonly onFile: OnFile | undefined;
  readonly resolve: (done: Done) => void;
  readonly reject: (failure: unknown) => void;
  /** What `onFile` rejected with. */
  refused?: { readonly failure: unknown };
};

type Thread = { readonly worker: Worker; busy: Waiting | undefined; ready: boolean };

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

  function take({ worker, busy }: Thread, file: NamedFile): void {
    const answer = (ok: boolean): void => worker.postMessage({ kind: 'taken', ok } satisfies ToWorker);
    busy?.onFile?.(file).then(
      () => answer(true),
      (failure) => {
        busy.refused = { failure };
        answer(false);
      },
    );
  }

  function hear(thread: Thread, message: FromWorker): void {
    if (message.kind === 'ready') thread.ready = true;
    else if (message.kind === 'step') thread.busy?.onStep?.(message.step);
    else if (message.kind === 'file') take(thread, message.file);
    else if (message.kind === 'done') finish(thread, ({ resolve }) => resolve(message.done));
    else finish(thread, ({ reject, refused }) => reject(refused ? refused.failure : new JobFailure(message.place)));
  }

  function start(): Thread {
    const thread: Thread = { worker: startThread('worker', context), busy: undefined, ready: false };
    threads.add(thread);
    thread.worker.on('message', (message: FromWorker) => hear(thread, message));
    const gone = (words: string) => {
      if (!threads.delete(thread)) return;
      void thread.worker.terminate();
      finish(thread, ({ reject }) => reject(signal.aborted ? signal.reason : new (thread.ready ? JobFailure : NoThread)(words)));
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
      idle.worker.postMessage({ kind: 'job', job: waiting.job } satisfies ToWorker);
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
    run(job, onStep, onFile) {
      if (signal.aborted) return Promise.reject(signal.reason);
      return new Promise((resolve, reject) => {
        queue.push({ job, onStep, onFile, resolve, reject });
        next();
      });
    },
    async close() {
      signal.removeEventListener('abort', stop);
      await end();
    },
  };
}
