/** A job in a worker thread of this process: for the loopback host and the tests. */
import { Worker } from 'node:worker_threads';
import type { RunningJob } from '../services/host/job-client.js';

/** Room for what is made and thrown away while someone types, in megabytes: with less, more time goes into tidying than into pages. */
const YOUNG = 96;

/** `script`: the bundled job. */
export function threadJob(script: URL): RunningJob {
  const worker = new Worker(script, { resourceLimits: { maxYoungGenerationSizeMb: YOUNG } });
  worker.unref();
  let over = false;
  // An uncaught fault is followed by the end of the thread, which is what counts.
  worker.on('error', () => undefined);
  worker.once('exit', () => {
    over = true;
  });
  return {
    post: (message) => worker.postMessage(message),
    listen: (receive) => void worker.on('message', receive),
    // One that ended before anyone listened has ended too.
    ended: (tell) => (over ? queueMicrotask(tell) : void worker.once('exit', tell)),
    stop: () => void worker.terminate(),
  };
}
