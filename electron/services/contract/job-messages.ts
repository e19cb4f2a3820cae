/** What goes to a job and comes from it, whatever carries it: a worker thread, a utility process, or a channel in a test. */
import type { Result } from '../../../core/base/issue.js';
import type { Events } from './bridge.js';
import type { Answer, Asked, JobChannel } from './questions.js';

/** One end: what is sent through it, and what comes. */
export type Port<Sent, Received> = {
  readonly post: (message: Sent) => void;
  readonly listen: (receive: (message: Received) => void) => void;
};

/** To the job: a question, or the wish to stop one. */
export type ToJob =
  | ({ readonly kind: 'ask'; readonly id: number } & Asked<JobChannel>)
  | { readonly kind: 'cancel'; readonly ticket: string };

/** From the job: an answer, or how far a ticket has come. */
export type FromJob =
  | { readonly kind: 'answer'; readonly id: number; readonly answer: Result<Answer<JobChannel>> }
  | ({ readonly kind: 'progress' } & Events['progress']);

/** The job's own end. */
export type JobPort = Port<FromJob, ToJob>;
