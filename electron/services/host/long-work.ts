/** Work in a job of its own, by its tickets: for which window it is done, and when it has ended. */
import type { Result } from '../../../core/base/issue.js';
import type { Events } from '../contract/bridge.js';
import type { Answer, Asked, ChannelOf, JobChannel } from '../contract/questions.js';
import { jobClient, type RunningJob } from './job-client.js';
import type { Client } from './platform.js';

export type LongChannel = ChannelOf<'long job'>;

export type LongWork = {
  run(question: Asked<LongChannel>, client: Client): Promise<Result<Answer<JobChannel>>>;
  /** Stops one piece of work, if it is this window's. */
  cancel(ticket: string, client: Client): void;
  /** Stops all that is done for this window. */
  leave(client: Client): void;
  /** Stops what is being done, for one window or for all, and waits until nothing half-written is left. */
  settle(client?: Client): Promise<void>;
  busy(client: Client): boolean;
  stop(): void;
};

/** `launch` starts the job; `restarted` hears that it ended by itself. */
export function longWork(launch: () => RunningJob, restarted: () => void): LongWork {
  const works = new Map<string, { readonly client: Client; readonly ended: Promise<unknown> }>();
  const progress = (event: Events['progress']): void => works.get(event.ticket)?.client.tell('progress', event);
  const job = jobClient(launch, { progress, restarted });
  const ticketsOf = (client: Client): string[] => [...works].filter(([, work]) => work.client === client).map(([ticket]) => ticket);

  return {
    async run(question, client) {
      const { ticket } = question.ask;
      const work = job.ask(question);
      works.set(ticket, { client, ended: work });
      try {
        return await work;
      } finally {
        works.delete(ticket);
      }
    },
    cancel(ticket, client) {
      if (works.get(ticket)?.client === client) job.cancel(ticket);
    },
    leave(client) {
      for (const ticket of ticketsOf(client)) job.cancel(ticket);
    },
    async settle(client) {
      const tickets = client === undefined ? [...works.keys()] : ticketsOf(client);
      const ended = tickets.map((ticket) => works.get(ticket)?.ended);
      for (const ticket of tickets) job.cancel(ticket);
      await Promise.all(ended);
    },
    busy: (client) => ticketsOf(client).length > 0,
    stop: () => job.stop(),
  };
}
