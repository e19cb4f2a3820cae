/** A job in a utility process: if it falls over, the window stays. */
import { utilityProcess } from 'electron';
import type { RunningJob } from '../services/host/job-client.js';

/** After the app is ready. `script`: path of the bundled job. */
export function utilityJob(script: string, kind: string): RunningJob {
  const child = utilityProcess.fork(script, [], { serviceName: `Twelvefold ${kind}` });
  return {
    post: (message) => child.postMessage(message),
    listen: (receive) => void child.on('message', receive),
    ended: (tell) => void child.once('exit', tell),
    stop: () => void child.kill(),
  };
}
