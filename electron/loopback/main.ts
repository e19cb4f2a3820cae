/**
 * `npm run app:browser`, from dist/electron/loopback.js. The job begins to load before anything else does: the first page
 * waits for it.
 */
import { optimiseAsUsual, optimiseLater } from '../../core/cli/gentle-heap.js';
import type { RunningJob } from '../services/host/job-client.js';
import { threadJob } from './thread-job.js';

/** Milliseconds in which host, job and browser start, and the first page is set. */
const STARTING = 2500;

const here = new URL(import.meta.url);
const launch = (): RunningJob => threadJob(new URL('job.js', here));

// What the engine optimises meanwhile is too late for the first page, and takes the processor from those who are to show it.
optimiseLater();
setTimeout(optimiseAsUsual, STARTING).unref();
let ready: RunningJob | undefined = launch();
const { serve } = await import('./serve.js');
await serve(here, () => {
  const job = ready ?? launch();
  ready = undefined;
  return job;
});
