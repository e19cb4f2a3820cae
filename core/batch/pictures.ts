/** Pictures painted on all cores: threads that hold the rasteriser and nothing else, so that they start at once. */
import type { PaintPicture } from '../output/picture/png.js';
import { threadsFor } from './pool.js';
import { startThread } from './start-thread.js';

export type PictureJob = { readonly svg: string; readonly width: number };

type Waiting = { readonly resolve: (png: Uint8Array) => void; readonly reject: (failure: unknown) => void };

/** Opens threads for about so many pictures, does the work, and ends the threads whatever happens. */
export async function withPictures<T>(pictures: number, signal: AbortSignal, work: (paint: PaintPicture) => Promise<T>): Promise<T> {
  signal.throwIfAborted();
  const lanes = Array.from({ length: threadsFor(pictures) }, () => {
    const worker = startThread('picture-worker');
    // Each thread answers in the order in which it was asked.
    const waiting: Waiting[] = [];
    let failed: { readonly reason: unknown } | undefined;
    const fail = (reason: unknown): void => {
      failed ??= { reason };
      for (const { reject } of waiting.splice(0)) reject(reason);
    };
    worker.on('message', (png: Uint8Array) => waiting.shift()?.resolve(png));
    worker.on('error', fail);
    worker.on('exit', () => fail(new Error('a thread that paints pictures ended early')));
    const ask: PaintPicture = (svg, width) =>
      new Promise((resolve, reject) => {
        if (failed) return reject(failed.reason);
        waiting.push({ resolve, reject });
        worker.postMessage({ svg, width } satisfies PictureJob);
      });
    return { worker, waiting, ask, fail };
  });
  const stop = (): void => {
    for (const { fail } of lanes) fail(signal.reason);
  };
  signal.addEventListener('abort', stop, { once: true });
  try {
    return await work((svg, width) => {
      const [idlest] = [...lanes].sort((a, b) => a.waiting.length - b.waiting.length) as [(typeof lanes)[number]];
      return idlest.ask(svg, width);
    });
  } finally {
    signal.removeEventListener('abort', stop);
    await Promise.all(lanes.map(({ worker }) => worker.terminate()));
  }
}
