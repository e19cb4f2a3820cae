/**
 * The one table of what a window may ask: for each question its shape, who answers it, and with what. Types, lists of
 * channels and the check at run time all come from it. The window and its bridge load the table without the checker.
 */
import type { About } from './answers/about.js';
import type { FigureView, ImportView } from './answers/figure.js';
import type { Beside, FolderList, Opened, OpenedCompanion, OpenedRecovery, RecentBook, Recovered, Saved } from './answers/files.js';
import type { Fits } from './answers/fits.js';
import type { Lists } from './answers/lists.js';
import type { Shown } from './answers/pages.js';
import type { EnsembleView, RosterView } from './answers/people.js';
import type { Playback } from './answers/playback.js';
import type { ProofView } from './answers/proof.js';
import type { Built } from './answers/written.js';
import type { Preferences } from './fields.js';
import type { Frozen } from './frozen.js';
import { type Answerer, type Question, question } from './question.js';

export type Nothing = Readonly<Record<string, never>>;

/** Undefined: the window was closed without a choice. */
type Chosen = { readonly path: string | undefined };

export const QUESTIONS = {
  about: question(({ nothing }) => nothing, 'platform')<About>(),
  lists: question(({ nothing }) => nothing, 'job')<Lists>(),
  show: question(
    ({ z, source, count, position, breather, bpm, manner }) =>
      z.strictObject({
        source,
        edition: count,
        focus: position.optional(),
        /** Indices of the pages to be drawn; `withFocus` adds the pages of the exercise in focus. */
        pages: z.array(count).max(400),
        withFocus: z.boolean(),
        /** What the window holds already: page index → stamp. A page with the same stamp is not sent again. */
        have: z.record(z.string().regex(/^\d{1,6}$/), z.string().max(64)),
        /** The edition's own player when undefined. */
        breather: breather.optional(),
        bpm,
        manner,
        /** Someone is typing: what nobody looks at (the appendices) may wait for a question that is not hasty. */
        hasty: z.boolean(),
        /** Nothing is shown yet: the first chapter alone is set, so that its page stands there at once. */
        first: z.boolean(),
        /** The exercise in focus is told note by note too. Someone who types sees the page first and asks for this afterwards. */
        tell: z.boolean(),
      }),
    'job',
  )<Shown>(),
  figure: question(({ z, figure, clef }) => z.strictObject({ library: figure, text: figure, clef }), 'job')<FigureView>(),
  /** Notes on a staff, as whole notes with their names: for the compass. */
  staff: question(({ z, clef }) => z.strictObject({ clef, notes: z.array(z.string().max(8)).max(40) }), 'job')<{ readonly svg: string }>(),
  perform: question(
    ({ z, source, count, position, bpm, breather, manner }) =>
      z.strictObject({ source, edition: count, focus: position, bpm, breather: breather.optional(), manner, breaths: z.boolean() }),
    'job',
  )<Playback>(),
  fits: question(({ z, source }) => z.strictObject({ source }), 'job')<Fits>(),
  /** The proof of one edition: every rule over every page. */
  prove: question(({ z, source, count, ticket }) => z.strictObject({ source, edition: count, ticket }), 'long job')<ProofView>(),
  build: question(
    ({ z, source, count, path, ticket }) =>
      z
        .strictObject({
          source,
          /** Indices of the editions, and what is written of each. */
          editions: z.array(count).max(200),
          kinds: z.array(z.enum(['pdf', 'svg', 'midi'])).max(3),
          folder: path,
          /** Booklets of these students, by index, and the teacher's summary. */
          booklets: z
            .strictObject({ roster: source, students: z.array(count).max(2000), summary: z.boolean(), date: z.string().max(10) })
            .optional(),
          /** Parts of these chairs, by index, and the score. */
          set: z.strictObject({ ensemble: source, chairs: z.array(count).max(200), score: z.boolean() }).optional(),
          ticket,
        })
        .refine(({ editions, kinds, booklets, set }) => (editions.length > 0 && kinds.length > 0) || booklets || set),
    'long job',
  )<Built>(),
  export: question(
    ({ z, source, count, position, format, path, bpm, ticket }) =>
      z.strictObject({
        source,
        edition: count,
        focus: position,
        format,
        folder: path,
        bpm,
        /** Runs from the slowest tempo to the goal, for sound. */
        ladder: z.number().int().min(2).max(20).optional(),
        /** Bars. */
        countIn: z.number().int().min(0).max(8).optional(),
        click: z.boolean(),
        drone: z.boolean(),
        /** Hertz. */
        a4: z.number().min(300).max(600).optional(),
        shape: z.enum(['16:9', '9:16']).optional(),
        dark: z.boolean(),
        /** A slide for each key. */
        eachKey: z.boolean(),
        ticket,
      }),
    'long job',
  )<Built>(),
  /** The phrase of a file, read as a figure: in the likeliest key, or in the one that is named. */
  import: question(({ z, bytes }) => z.strictObject({ bytes, key: z.string().max(20).optional() }), 'job')<ImportView>(),
  /** What is wrong with a roster or an ensemble for this book, and what follows from it. */
  'roster-check': question(({ z, source }) => z.strictObject({ source, roster: source }), 'job')<RosterView>(),
  'ensemble-check': question(({ z, source }) => z.strictObject({ source, ensemble: source }), 'job')<EnsembleView>(),
  cancel: question(({ z, ticket }) => z.strictObject({ ticket }), 'host')<Nothing>(),
  'book-demo': question(({ nothing }) => nothing, 'host')<Opened>(),
  'book-open': question(({ z, path }) => z.strictObject({ path }), 'host')<Opened>(),
  'book-save': question(({ z, saved, document }) => z.strictObject({ ...saved, document }), 'host')<Saved>(),
  'book-recent': question(({ nothing }) => nothing, 'host')<readonly RecentBook[]>(),
  'recovery-keep': question(
    ({ z, document, source, path, name, companionKind }) =>
      z.strictObject({
        document,
        source,
        path: path.optional(),
        name,
        /** Unsaved rosters and ensembles beside the book. */
        companions: z
          .array(z.strictObject({ kind: companionKind, source, path: path.optional(), name }))
          .max(2)
          .optional(),
      }),
    'host',
  )<Nothing>(),
  'recovery-drop': question(({ z, document }) => z.strictObject({ document }), 'host')<Nothing>(),
  'recovery-list': question(({ nothing }) => nothing, 'host')<readonly Recovered[]>(),
  'recovery-open': question(({ z, document }) => z.strictObject({ document }), 'host')<OpenedRecovery>(),
  /** The system's file windows. Electron only. */
  'choose-book': question(({ z, fileKind }) => z.strictObject({ kind: fileKind }), 'platform')<Chosen>(),
  'choose-place': question(({ z, name, fileKind }) => z.strictObject({ name, kind: fileKind }), 'platform')<Chosen>(),
  'choose-folder': question(({ nothing }) => nothing, 'platform')<Chosen>(),
  /** For the window's own file chooser. Loopback only. */
  'folder-list': question(({ z, path, fileKind }) => z.strictObject({ folder: path.optional(), kind: fileKind }), 'platform')<FolderList>(),
  'roster-open': question(({ z, path }) => z.strictObject({ path }), 'host')<OpenedCompanion<'roster'>>(),
  'ensemble-open': question(({ z, path }) => z.strictObject({ path }), 'host')<OpenedCompanion<'ensemble'>>(),
  /** Those that belong to the demo book. */
  'roster-demo': question(({ nothing }) => nothing, 'host')<OpenedCompanion<'roster'>>(),
  'ensemble-demo': question(({ nothing }) => nothing, 'host')<OpenedCompanion<'ensemble'>>(),
  'roster-save': question(({ z, saved }) => z.strictObject(saved), 'host')<Saved>(),
  'ensemble-save': question(({ z, saved }) => z.strictObject(saved), 'host')<Saved>(),
  /** Companions that were open beside a book the last time. */
  'beside-read': question(({ z, path }) => z.strictObject({ book: path }), 'host')<Beside>(),
  'beside-write': question(
    ({ z, path }) => z.strictObject({ book: path, roster: path.optional(), ensemble: path.optional() }),
    'host',
  )<Nothing>(),
  'preferences-read': question(({ nothing }) => nothing, 'host')<Preferences>(),
  'preferences-write': question(({ preferences }) => preferences, 'host')<Nothing>(),
  'folder-open': question(({ z, path }) => z.strictObject({ path }), 'platform')<{ readonly shown: boolean }>(),
  /** Hands a finished PDF to the system's viewer, or gives an address where the browser can show it. */
  'file-print': question(({ z, path }) => z.strictObject({ path }), 'platform')<{ readonly address: string | undefined }>(),
  /** The window may close: nothing is unsaved, or the user said so. */
  'close-now': question(({ nothing }) => nothing, 'platform')<Nothing>(),
  /** Title and state for the window's frame. */
  'window-title': question(
    ({ z, name, path }) => z.strictObject({ title: name, edited: z.boolean(), path: path.optional() }),
    'platform',
  )<Nothing>(),
};

type Table = typeof QUESTIONS;
type Asks = { readonly [C in keyof Table]: Table[C] extends Question<infer Asked, unknown, Answerer> ? Frozen<Asked> : never };
type Answers = { readonly [C in keyof Table]: Table[C] extends Question<unknown, infer Answered, Answerer> ? Answered : never };

export type Channel = keyof Table;
export type Ask<C extends Channel> = Asks[C];
export type Answer<C extends Channel> = Answers[C];
/** Channels that one of these answers. */
export type ChannelOf<By extends Answerer> = { [C in Channel]: Table[C]['by'] extends By ? C : never }[Channel];
export type JobChannel = ChannelOf<'job' | 'long job'>;

/** A question as it was asked: the channel tells the type of the rest. */
export type Asked<C extends Channel = Channel> = { readonly [One in C]: { readonly channel: One; readonly ask: Asks[One] } }[C];

export const isChannel = (text: string): text is Channel => Object.hasOwn(QUESTIONS, text);
export const CHANNELS: readonly Channel[] = Object.keys(QUESTIONS).filter(isChannel);

export const isAskedOf = <By extends Answerer>(question: Asked, by: By): question is Asked<ChannelOf<By>> =>
  QUESTIONS[question.channel].by === by;
