/**
 * The one bridge between the window and what stands behind it. Two hosts keep it: the Electron shell (through the
 * preload script) and the loopback host (through HTTP on 127.0.0.1). Every answer is a Result: what goes wrong is an Issue.
 */
import type { Result } from '../../../core/base/issue.js';
import type { Answer, Ask, Channel, Nothing } from './questions.js';

/** What the host tells without being asked. */
export type Events = {
  progress: { readonly ticket: string; readonly done: number; readonly total: number; readonly words: string };
  'open-book': { readonly path: string };
  command: { readonly id: string };
  'close-asked': Nothing;
  /** The job ended by itself and was started again; what it was doing has failed. */
  'job-restarted': Nothing;
};

export type EventName = keyof Events;

export const EVENT_NAMES = ['progress', 'open-book', 'command', 'close-asked', 'job-restarted'] as const satisfies readonly EventName[];

/** What the window holds in its hands. */
export type Bridge = {
  call<C extends Channel>(channel: C, ask: Ask<C>): Promise<Result<Answer<C>>>;
  /** Gives a function that stops the listening. */
  on<E extends EventName>(name: E, listen: (event: Events[E]) => void): () => void;
};
