/** A job whose parts could not be loaded: whoever asks is told why. */
import { failureLine } from '../../../core/base/failure-line.js';
import { bad, error } from '../../../core/base/issue.js';
import type { JobPort } from '../contract/job-messages.js';

/** Answers every question with issue `job-broken`. */
export function serveBroken({ post, listen }: JobPort, failure: unknown): void {
  const words = `The work in the background did not start because of a fault of Twelvefold; please report it with this line: ${failureLine(failure)}`;
  const answer = bad(error('job-broken', [], words));
  listen((message) => {
    if (message.kind === 'ask') post({ kind: 'answer', id: message.id, answer });
  });
}
