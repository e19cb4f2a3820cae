/** Jobs done without threads, one after another: for little work, and where no thread can be started. */
import type { Fonts } from '../engrave/metrics.js';
import { JobFailure, NoThread } from './job-failure.js';
import { openPool, type Pool } from './pool.js';
import { type Context, doJob, failurePlace } from './work.js';

/** A turn of the event loop, so that a wish to stop is heard. */
const turn = () => new Promise<void>((resolve) => setImmediate(resolve));

export function openPoolHere(context: Context, fonts: Fonts, signal: AbortSignal): Pool {
  let last: Promise<unknown> = Promise.resolve();
  const pause = async (): Promise<void> => {
    await turn();
    signal.throwIfAborted();
  };
  const work: Pool['run'] = async (job, onStep, onFile) => {
    await pause();
    onStep?.(undefined);
    let refused: { readonly failure: unknown } | undefined;
    const take: typeof onFile = (file) =>
      onFile?.(file).catch((failure) => {
        refused = { failure };
        throw failure;
      }) ?? Promise.resolve();
    try {
      return await doJob(context, job, fonts, (step) => onStep?.(step), { onFile: take, pause });
    } catch (failure) {
      if (signal.aborted) throw signal.reason;
      throw refused ? refused.failure : new JobFailure(failurePlace(failure));
    }
  };
  return {
    run(...ask) {
      const next = last.then(() => work(...ask));
      last = next.catch(() => undefined);
      return next;
    },
    close: async () => {
      await last;
    },
  };
}

/** Threads, and this one for the jobs whose thread did not start. */
export function openPoolWithHelp(context: Context, size: number, fonts: Fonts, signal: AbortSignal): Pool {
  const threads = openPool(context, size, signal);
  const here = openPoolHere(context, fonts, signal);
  return {
    run: (...ask) =>
      threads.run(...ask).catch((failure) => {
        if (failure instanceof NoThread) return here.run(...ask);
        throw failure;
      }),
    async close() {
      await threads.close();
      await here.close();
    },
  };
}
