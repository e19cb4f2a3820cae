/** Where the job begins, as a worker thread or as a utility process of the shell. */
import { parentPort } from 'node:worker_threads';
import { assert } from '../core/base/issue.js';
import { installedFonts } from '../core/disk/fonts.js';
import { installedRasteriser } from '../core/disk/rasteriser.js';
import type { JobPort, ToJob } from './services/contract/job-messages.js';
import { serveJob } from './services/job/serve-job.js';

/** The port of a utility process, as Electron gives it: messages arrive in events. */
type UtilityPort = { postMessage(message: unknown): void; on(name: 'message', listen: (event: { data: ToJob }) => void): void };

function portHere(): JobPort {
  const utility = (process as { parentPort?: UtilityPort }).parentPort;
  if (utility) {
    return {
      post: (message) => utility.postMessage(message),
      listen: (receive) => utility.on('message', (event) => receive(event.data)),
    };
  }
  const thread = parentPort;
  assert(thread, 'a job is started as a thread or as a utility process');
  return { post: (message) => thread.postMessage(message), listen: (receive) => void thread.on('message', receive) };
}

serveJob(portHere(), installedFonts(), installedRasteriser);
