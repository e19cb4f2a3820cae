/** The heavy work beside the window: reads, sets, draws and writes. It knows nothing of windows; it talks through a port. */

import { bad, error, good, type Result } from '../../../core/base/issue.js';
import { type Workshop, workshop } from '../../../core/build/workshop.js';
import type { FontFiles, Fonts } from '../../../core/engrave/metrics.js';
import { openFonts } from '../../../core/engrave/metrics.js';
import type { Rasteriser } from '../../../core/output/picture/png.js';
import type { JobPort } from '../contract/job-messages.js';
import type { Answer, Ask, Asked, JobChannel } from '../contract/questions.js';
import { checkEnsemble, checkRoster } from './companion-check.js';
import { figureView, staffView } from './figure-view.js';
import { fits } from './fits.js';
import { listsOf } from './lists.js';
import { pagesView } from './pages-view.js';
import { performExercise } from './playback.js';
import type { Tell } from './progress.js';

type Context = {
  readonly shop: Workshop;
  readonly fonts: Fonts;
  readonly rasteriser: Rasteriser;
  readonly tickets: Map<string, AbortController>;
  readonly progress: (ticket: string, done: number, total: number, words: string) => void;
};

type Handlers = { readonly [C in JobChannel]: (ask: Ask<C>, context: Context) => Result<Answer<C>> | Promise<Result<Answer<C>>> };

async function withTicket<T>(
  ticket: string,
  { tickets, progress }: Context,
  work: (signal: AbortSignal, tell: Tell) => Promise<T>,
): Promise<T> {
  const stop = new AbortController();
  tickets.set(ticket, stop);
  try {
    return await work(stop.signal, (done, total, words) => progress(ticket, done, total, words));
  } finally {
    tickets.delete(ticket);
  }
}

const handlers: Handlers = {
  lists: () => good(listsOf()),
  show: (ask, { shop, fonts }) => pagesView(ask, shop, fonts),
  figure: figureView,
  staff: staffView,
  perform: (ask, { shop }) => performExercise(ask, shop),
  fits: ({ source }, { shop }) => fits(source, shop),
  'roster-check': ({ source, roster }, { shop }) => checkRoster(roster, shop.read(source).book),
  'ensemble-check': ({ source, ensemble }, { shop }) => checkEnsemble(ensemble, shop.read(source).book),
  // What reads and writes files is loaded when it is asked for: the first page waits for nothing that it does not need.
  import: async (ask, context) => {
    const { importView } = await import('./import-view.js');
    return importView(ask, (text) => figureView({ text, library: undefined, clef: 'treble' }, context));
  },
  export: (ask, context) =>
    withTicket(ask.ticket, context, async (signal, tell) => {
      const { exportExercise } = await import('./export-exercise.js');
      return exportExercise(ask, context, signal, tell);
    }),
  build: (ask, context) =>
    withTicket(ask.ticket, context, async (signal, tell) => {
      const { buildFiles } = await import('./build-files.js');
      return buildFiles(ask, context.fonts, signal, tell);
    }),
  prove: (ask, context) =>
    withTicket(ask.ticket, context, async (signal, tell) => {
      const { proofView } = await import('./proof-view.js');
      return proofView(ask.source, ask.edition, context, signal, tell);
    }),
};

const failed = (failure: unknown): Result<never> =>
  bad(
    error(
      'fault-of-the-program',
      [],
      `This is a fault of Twelvefold, not of your book; nothing is lost. Please report it with this line: ${failure instanceof Error ? failure.message : String(failure)}`,
    ),
  );

/** Of questions that wait, only the newest is worked on: `ask` puts one off till a turn of the event loop is over. */
function newestOnly<Q extends { readonly id: number }>(answer: (question: Q) => void, overtaken: (id: number) => void) {
  let waiting: Q | undefined;
  let turn = false;
  function next(): void {
    turn = false;
    const newest = waiting;
    waiting = undefined;
    if (newest) answer(newest);
  }
  return (question: Q): void => {
    if (waiting) overtaken(waiting.id);
    waiting = question;
    // So that everything that was typed meanwhile is seen before the work begins.
    if (!turn) {
      turn = true;
      setImmediate(next);
    }
  };
}

const overtaken = (): Result<never> => bad(error('overtaken', [], 'A newer question came before this one was answered.'));

/**
 * Answers questions that come through the port until the process ends. A question that fails is answered with an issue,
 * so that one fault does not end the job. Of `show` questions that wait, only the newest is worked on.
 */
export function serveJob({ post, listen }: JobPort, files: FontFiles, rasteriser: Rasteriser): void {
  const fonts = openFonts(files);
  // Those of nearly every page are opened before the first is asked for.
  for (const name of ['roman', 'italic', 'bold', 'display', 'music'] as const) fonts.width(name, 'a');
  const context: Context = {
    fonts,
    rasteriser,
    shop: workshop(fonts),
    tickets: new Map(),
    progress: (ticket, done, total, words) => post({ kind: 'progress', ticket, done, total, words }),
  };

  async function answer<C extends JobChannel>(id: number, { channel, ask }: Asked<C>): Promise<void> {
    try {
      post({ kind: 'answer', id, answer: await handlers[channel](ask, context) });
    } catch (failure) {
      post({ kind: 'answer', id, answer: failed(failure) });
    }
  }

  const show = newestOnly(
    (question: { readonly id: number } & Asked<'show'>) => void answer(question.id, question),
    (id) => post({ kind: 'answer', id, answer: overtaken() }),
  );

  listen((message) => {
    if (message.kind === 'cancel') context.tickets.get(message.ticket)?.abort();
    else if (message.channel === 'show') show(message);
    else void answer(message.id, message);
  });
}
