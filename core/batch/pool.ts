/** Worker threads that share a list of jobs. A thread that breaks down takes only its own job with it. */
import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import { type Lane, type OnFile, type OnStep, openLane, type Waiting } from './lane.js';
import { startThread } from './start-thread.js';
import type { Context, Done, Job } from './work.js';

export type Pool = {
  /**
   * `onStep` hears undefined when the job is begun; `onFile` takes the files of a job that makes many, and the job ends when
   * it rejects. Rejects with a `JobFailure` if the program fails, with what `onFile` rejected with, and with the signal's
   * reason when it is aborted.
   */
  readonly run: (job: Job, onStep?: OnStep, onFile?: OnFile) => Promise<Done>;
  readonly close: () => Promise<void>;
};

export const threadsFor = (jobs: number): number => Math.max(1, Math.min(jobs, availableParallelism()));

/**
 * Threads are started as jobs come, up to `size`. On abort they are ended at once: they write no files, so none stays
 * half-written. `start` gives a thread that was told the context.
 */
export function openPool(
  context: Context,
  size: number,
  signal: AbortSignal,
  start: (context: Context) => Worker = (told) => startThread('worker', told),
): Pool {
  const lanes = new Set<Lane>();
  const queue: Waiting[] = [];
  let closed = false;

  function open(): Lane {
    const lane = openLane(start(context), {
      freed: next,
      gone: () => {
        lanes.delete(lane);
        next();
      },
    });
    lanes.add(lane);
    return lane;
  }

  function next(): void {
    while (!closed && queue.length > 0) {
      const idle = [...lanes].find((lane) => lane.isIdle()) ?? (lanes.size < size ? open() : undefined);
      const waiting = idle && queue.shift();
      if (!waiting) return;
      idle.give(waiting);
    }
  }

  /** Ends all threads, and gives the jobs that they did. */
  function end(): { readonly left: readonly Waiting[]; readonly ended: Promise<unknown> } {
    closed = true;
    const ends = [...lanes].map((lane) => lane.end());
    lanes.clear();
    return { left: ends.flatMap(({ left }) => left ?? []), ended: Promise.all(ends.map(({ ended }) => ended)) };
  }

  function stop(): void {
    const waiting = queue.splice(0);
    for (const { reject } of [...waiting, ...end().left]) reject(signal.reason);
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
      await end().ended;
    },
  };
}
