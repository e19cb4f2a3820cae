/** A thread that does jobs one after another. */
import { parentPort, workerData } from 'node:worker_threads';
import { assert } from '../base/issue.js';
import { openedFonts } from '../disk/fonts.js';
import type { FromWorker, ToWorker } from './lane.js';
import { movable } from './movable.js';
import { type Context, doJob, failurePlace, type Job } from './work.js';

const port = parentPort;
assert(port, 'this file runs as a thread');
const context: Context = workerData;
const fonts = openedFonts();
const tell = (message: FromWorker, transfer: ArrayBuffer[] = []): void => port.postMessage(message, transfer);

/** Waits for the word that a file was taken. */
let taken: (ok: boolean) => void = () => {};

async function work(job: Job): Promise<void> {
  try {
    const done = await doJob(context, job, fonts, (step) => tell({ kind: 'step', step }), {
      onFile: async (file) => {
        const answer = new Promise<boolean>((resolve) => {
          taken = resolve;
        });
        tell({ kind: 'file', file });
        assert(await answer, 'the file was taken');
      },
    });
    tell({ kind: 'done', done }, done.bytes ? movable(done.bytes) : []);
  } catch (failure) {
    tell({ kind: 'failed', place: failurePlace(failure) });
  }
}

port.on('message', (message: ToWorker) => {
  if (message.kind === 'taken') taken(message.ok);
  else void work(message.job);
});
tell({ kind: 'ready' });
