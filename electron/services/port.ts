/** A port to a job, whatever carries it: a worker thread, a utility process, or a channel in a test. */
export type Port = {
  readonly post: (message: unknown) => void;
  readonly listen: (receive: (message: unknown) => void) => void;
};

/** To the job: a question, or the wish to stop one. */
export type ToJob =
  | { readonly kind: 'ask'; readonly id: number; readonly channel: string; readonly ask: unknown }
  | { readonly kind: 'cancel'; readonly ticket: string };

/** From the job: an answer (a Result), or how far a ticket has come. */
export type FromJob =
  | { readonly kind: 'answer'; readonly id: number; readonly answer: unknown }
  | { readonly kind: 'progress'; readonly ticket: string; readonly done: number; readonly total: number; readonly words: string };
