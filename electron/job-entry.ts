/**
 * Where the job begins, as a worker thread or as a utility process of the shell. What it consists of is loaded behind this, so
 * that a fault at the load can be told.
 */
import { parentPort } from 'node:worker_threads';
import { assert } from '../core/base/issue.js';
import type { JobPort } from './services/contract/job-messages.js';
import { serveBroken } from './services/job/broken-job.js';

function portHere(): JobPort {
  // In a utility process only; messages arrive in events.
  const utility: Electron.ParentPort | undefined = process.parentPort;
  if (utility) {
    return {
      post: (message) => utility.postMessage(message),
      listen: (receive) => void utility.on('message', (event) => receive(event.data)),
    };
  }
  const thread = parentPort;
  assert(thread, 'a job is started as a thread or as a utility process');
  return { post: (message) => thread.postMessage(message), listen: (receive) => void thread.on('message', receive) };
}

const port = portHere();
try {
  const { serveInstalled } = await import('./services/job/installed-job.js');
  serveInstalled(port);
} catch (failure) {
  serveBroken(port, failure);
}
