/** The heavy work beside the window: reads, sets, draws and writes. It knows nothing of windows; it talks through a port. */

import { bad, error, good, type Result } from '../../core/base/issue.js';
import { type Workshop, workshop } from '../../core/build/workshop.js';
import type { FontFiles, Fonts } from '../../core/engrave/metrics.js';
import { openFonts } from '../../core/engrave/metrics.js';
import { drawSnippet } from '../../core/engrave/snippet.js';
import { parseFigure, toneInterval, toneText } from '../../core/exercise/figure.js';
import { figureById } from '../../core/exercise/figure-library.js';
import type { Rasteriser } from '../../core/output/picture/png.js';
import { drawingSvg } from '../../core/output/picture/svg.js';
import { keyText } from '../../core/theory/key.js';
import { midi, type Pitch, parsePitch, transpose } from '../../core/theory/pitch.js';
import type { Answer, Ask, JobChannel } from './contract.js';
import { listsOf } from './lists.js';
import { checkEnsemble, checkRoster } from './people-check.js';
import type { FromJob, Port, ToJob } from './port.js';
import type { Tell } from './press.js';
import { show } from './show.js';
import { performExercise } from './sound.js';
import type { FigureAsk, FigureView, FitCell, Fits } from './views.js';

type Context = {
  readonly shop: Workshop;
  readonly fonts: Fonts;
  readonly rasteriser: Rasteriser;
  readonly tickets: Map<string, AbortController>;
  readonly progress: (ticket: string, done: number, total: number, words: string) => void;
};

type Handlers = { readonly [C in JobChannel]: (ask: Ask<C>, context: Context) => Result<Answer<C>> | Promise<Result<Answer<C>>> };

/** Middle of each clef, where an example from C stands well. */
const EXAMPLE_ROOT: Readonly<Record<FigureAsk['clef'], Pitch>> = {
  treble: { letter: 0, alter: 0, octave: 4 },
  alto: { letter: 0, alter: 0, octave: 4 },
  tenor: { letter: 0, alter: 0, octave: 3 },
  bass: { letter: 0, alter: 0, octave: 3 },
};

function figureView(ask: FigureAsk, { fonts, shop }: Context): Result<FigureView> {
  const entry = ask.library === undefined ? undefined : figureById(ask.library);
  if (entry && !entry.ok) return entry;
  const figure = entry ? good(entry.value.figure) : parseFigure(ask.text ?? '');
  if (!figure.ok) return figure;
  const scale = entry?.value.scale ?? 'major';
  const tones = figure.value.tones;
  const root = EXAMPLE_ROOT[ask.clef];
  const pitches = tones.map((tone) => (tone.kind === 'note' ? transpose(root, toneInterval(tone, scale)) : undefined));
  const notes = tones.flatMap((tone, i) => {
    const pitch = pitches[i];
    return pitch ? [{ pitch, label: toneText(tone) }] : [];
  });
  const words = `The figure ${figure.value.text} from C`;
  const svg = shop.cache.cached(['figure', figure.value.text, scale, ask.clef], () =>
    drawingSvg(drawSnippet({ clef: ask.clef, fifths: 0, notes, value: 4, step: 2.4 }, fonts), fonts, { title: words, scale: 6 }),
  );
  return good({ svg, keys: pitches.map((pitch) => pitch && midi(pitch)), words });
}

function staffView({ clef, notes }: Ask<'staff'>, { fonts, shop }: Context): Result<Answer<'staff'>> {
  const pitches = notes.map(parsePitch);
  if (!pitches.every((pitch) => pitch !== undefined)) return bad(error('not-a-note', [], 'Write notes with their octave, such as Bb3.'));
  const shown = pitches.map((pitch) => ({ pitch, label: '' }));
  const svg = shop.cache.cached(['staff', clef, notes], () =>
    drawingSvg(drawSnippet({ clef, fifths: 0, notes: shown, value: 1, step: 7 }, fonts), fonts, {
      title: `${notes.join(' to ')} on the staff`,
      scale: 6,
    }),
  );
  return good({ svg });
}

function fits(source: unknown, { shop }: Context): Result<Fits> {
  const read = shop.read(source);
  const { book } = read;
  if (!book) return bad(...read.issues);
  const players = book.editions.map((_, i) => shop.build(read, i));
  const editions = players.map((player, i) => (player.ok ? player.value.player.instrument.name : (book.editions[i]?.instrument ?? '')));
  const rows = [...read.places].map(([id, place]) => {
    const exercise = book.chapters.flatMap((chapter) => chapter.exercises).find((it) => it.id === id);
    const cells = players.map((player): FitCell => {
      if (!player.ok || !exercise) return { state: 'cannot', words: player.ok ? '' : (player.issues[0]?.message ?? ''), sounding: '' };
      const line = shop.line(exercise, player.value.player);
      const words = line.issues.map((issue) => issue.message).join(' ');
      if (!line.ok) return { state: 'cannot', words, sounding: '' };
      const first = line.value.statements[0];
      return { state: line.issues.length > 0 ? 'changed' : 'fits', words, sounding: first ? keyText(first.soundingKey) : '' };
    });
    return { ...place, title: exercise?.title ?? '', cells };
  });
  return good({ editions, rows });
}

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
  show: (ask, { shop, fonts }) => show(ask, shop, fonts),
  figure: figureView,
  staff: staffView,
  perform: (ask, { shop }) => performExercise(ask, shop),
  fits: ({ source }, context) => fits(source, context),
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

/**
 * Answers questions that come through the port until the process ends. A question that fails is answered with an issue,
 * so that one fault does not end the job. Of `show` questions that wait, only the newest is worked on.
 */
export function serveJob(port: Port, files: FontFiles, rasteriser: Rasteriser): void {
  const fonts = openFonts(files);
  // Those of nearly every page are opened before the first is asked for.
  for (const name of ['roman', 'italic', 'bold', 'display', 'music'] as const) fonts.width(name, 'a');
  const post = (message: FromJob) => port.post(message);
  const context: Context = {
    fonts,
    rasteriser,
    shop: workshop(fonts),
    tickets: new Map(),
    progress: (ticket, done, total, words) => post({ kind: 'progress', ticket, done, total, words }),
  };

  async function answer(id: number, channel: JobChannel, ask: unknown): Promise<void> {
    try {
      const handler = handlers[channel] as (ask: unknown, context: Context) => Result<unknown> | Promise<Result<unknown>>;
      post({ kind: 'answer', id, answer: await handler(ask, context) });
    } catch (failure) {
      post({ kind: 'answer', id, answer: failed(failure) });
    }
  }

  let waiting: { id: number; ask: unknown } | undefined;
  let turn = false;
  function showNext(): void {
    turn = false;
    const next = waiting;
    waiting = undefined;
    if (next) void answer(next.id, 'show', next.ask);
  }

  port.listen((received) => {
    const message = received as ToJob;
    if (message.kind === 'cancel') {
      context.tickets.get(message.ticket)?.abort();
      return;
    }
    const channel = message.channel as JobChannel;
    if (channel !== 'show') {
      void answer(message.id, channel, message.ask);
      return;
    }
    if (waiting)
      post({ kind: 'answer', id: waiting.id, answer: bad(error('overtaken', [], 'A newer question came before this one was answered.')) });
    waiting = { id: message.id, ask: message.ask };
    // A turn of the event loop, so that everything that was typed meanwhile is seen before the work begins.
    if (!turn) {
      turn = true;
      setImmediate(showNext);
    }
  });
}
