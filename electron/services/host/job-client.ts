/** The near side of a job: asks, waits, and starts it again when it has ended by itself. */
import { bad, error, type Result } from '../../../core/base/issue.js';
import type { Events } from '../contract/bridge.js';
import type { FromJob, Port, ToJob } from '../contract/job-messages.js';
import type { Answer, Asked, JobChannel } from '../contract/questions.js';

export type RunningJob = Port<ToJob, FromJob> & {
  /** Called once when the job has ended, whatever the reason. */
  readonly ended: (tell: () => void) => void;
  readonly stop: () => void;
};

export type JobClient = {
  ask(question: Asked<JobChannel>): Promise<Result<Answer<JobChannel>>>;
  cancel(ticket: string): void;
  stop(): void;
};

export type JobWatcher = {
  readonly progress: (event: Events['progress']) => void;
  readonly restarted: () => void;
};

/** More sudden ends than this in a row, without an answer between them, and the job is not started again. */
const MOST_FALLS = 5;

const fallen = (): Result<never> =>
  bad(error('job-ended', [], 'The work in the background ended unexpectedly and was started again; nothing is lost. Please try again.'));

/** `launch` starts the job's process or thread. It is started with the first question. */
export function jobClient(launch: () => RunningJob, watch: JobWatcher): JobClient {
  const open = new Map<number, (answer: Result<Answer<JobChannel>>) => void>();
  let running: RunningJob | undefined;
  let next = 1;
  let falls = 0;
  let over = false;

  function start(): RunningJob {
    const job = launch();
    job.listen((message) => {
      if (message.kind === 'progress') {
        const { ticket, done, total, words } = message;
        watch.progress({ ticket, done, total, words });
        return;
      }
      falls = 0;
      open.get(message.id)?.(message.answer);
      open.delete(message.id);
    });
    job.ended(() => {
      if (running === job) running = undefined;
      if (over) return;
      falls++;
      const unanswered = [...open.values()];
      open.clear();
      for (const answer of unanswered) answer(fallen());
      watch.restarted();
    });
    return job;
  }

  return {
    ask(question) {
      if (over || falls >= MOST_FALLS) return Promise.resolve(fallen());
      running ??= start();
      const id = next++;
      const message: ToJob = { kind: 'ask', id, ...question };
      return new Promise((resolve) => {
        open.set(id, resolve);
        running?.post(message);
      });
    },
    cancel(ticket) {
      const message: ToJob = { kind: 'cancel', ticket };
      running?.post(message);
    },
    stop() {
      over = true;
      running?.stop();
      running = undefined;
    },
  };
}
