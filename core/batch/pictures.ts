/** Pictures painted on all cores: threads that hold the rasteriser and nothing else, so that they start at once. */
import type { Worker } from 'node:worker_threads';
import { failureLine } from '../base/failure-line.js';
import type { PaintPicture } from '../output/picture/png.js';
import { NoThread } from './job-failure.js';
import { threadsFor } from './pool.js';
import { startThread } from './start-thread.js';

export type PictureJob = { readonly svg: string; readonly width: number };

type Waiting = { readonly resolve: (png: Uint8Array) => void; readonly reject: (failure: unknown) => void };

export type FromPictureWorker =
  /** The rasteriser is loaded: from now on pictures are painted. */
  { readonly kind: 'ready' } | { readonly kind: 'picture'; readonly png: Uint8Array };

type Lane = {
  readonly waiting: () => number;
  readonly ask: PaintPicture;
  readonly fail: (reason: unknown) => void;
  readonly end: () => Promise<unknown>;
};

function openLane(worker: Worker): Lane {
  // Each thread answers in the order in which it was asked.
  const waiting: Waiting[] = [];
  let ready = false;
  let failed: { readonly reason: unknown } | undefined;
  const fail = (reason: unknown): void => {
    failed ??= { reason };
    for (const { reject } of waiting.splice(0)) reject(reason);
  };
  worker.on('message', (message: FromPictureWorker) => {
    if (message.kind === 'ready') ready = true;
    else waiting.shift()?.resolve(message.png);
  });
  worker.on('error', (failure) =>
    fail(ready ? failure : new NoThread(`a thread that paints pictures did not start: ${failureLine(failure)}`)),
  );
  worker.on('exit', () => fail(new Error('a thread that paints pictures ended early')));
  return {
    waiting: () => waiting.length,
    fail,
    end: () => worker.terminate(),
    ask: (svg, width) =>
      new Promise((resolve, reject) => {
        if (failed) return reject(failed.reason);
        waiting.push({ resolve, reject });
        worker.postMessage({ svg, width } satisfies PictureJob);
      }),
  };
}

/** Opens threads for about so many pictures, does the work, and ends the threads whatever happens. `start` gives a thread. */
export async function withPictures<T>(
  pictures: number,
  signal: AbortSignal,
  work: (paint: PaintPicture) => Promise<T>,
  start: () => Worker = () => startThread('picture-worker'),
): Promise<T> {
  signal.throwIfAborted();
  const first = openLane(start());
  const lanes = [first, ...Array.from({ length: threadsFor(pictures) - 1 }, () => openLane(start()))];
  const stop = (): void => {
    for (const { fail } of lanes) fail(signal.reason);
  };
  signal.addEventListener('abort', stop, { once: true });
  try {
    return await work((svg, width) =>
      lanes.reduce((idlest, lane) => (lane.waiting() < idlest.waiting() ? lane : idlest), first).ask(svg, width),
    );
  } finally {
    signal.removeEventListener('abort', stop);
    await Promise.all(lanes.map(({ end }) => end()));
  }
}
