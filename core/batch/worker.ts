/** A thread that does jobs one after another. */
import { readFileSync } from 'node:fs';
import { parentPort, workerData } from 'node:worker_threads';
import { openFonts } from '../engrave/metrics.js';
import { fontFiles } from '../fonts-on-disk.js';
import { assert } from '../issue.js';
import type { FromWorker } from './pool.js';
import { type Context, doJob, type Job } from './work.js';

const port = parentPort;
assert(port, 'this file runs as a thread');
const context = workerData as Context;
const fonts = openFonts(fontFiles((path) => readFileSync(path)));
const tell = (message: FromWorker, transfer: ArrayBuffer[] = []): void => port.postMessage(message, transfer);

port.on('message', async (job: Job) => {
  try {
    const done = await doJob(context, job, fonts, (step) => tell({ kind: 'step', step }));
    tell({ kind: 'done', done }, done.bytes ? [done.bytes.buffer as ArrayBuffer] : []);
  } catch (failure) {
    // Only the place in the program is told: the words of a failure may repeat what stands in a roster.
    const where = failure instanceof Error ? (failure.stack?.split('\n').find((line) => line.includes('    at ')) ?? '').trim() : '';
    tell({ kind: 'failed', name: failure instanceof Error ? failure.name : 'failure', where });
  }
});
