/**
 * The one contract between the window and what stands behind it. Two hosts keep it: the Electron shell (through the
 * preload script) and the loopback host (through HTTP on 127.0.0.1). Every answer is a Result: what goes wrong is an Issue.
 */

import type { Issue, Result } from '../../core/base/issue.js';
import type { BookSource } from '../../core/book/schema.js';
import type { EnsembleSource } from '../../core/ensemble/schema.js';
import type { RosterSource } from '../../core/people/schema.js';
import type { CompanionKind, FileKind } from './file-kinds.js';
import type { Lists } from './lists.js';
import type { EnsembleView, ImportView, RosterView } from './people-views.js';
import type { Preferences } from './preferences.js';
import type { ExercisePlace, FigureAsk, FigureView, Fits, PerformAsk, Performance, ProofView, ShowAsk, Shown } from './views.js';

export type Nothing = Readonly<Record<string, never>>;

export type About = {
  readonly version: string;
  /** Whether the host shows the system's own file windows; if not, the window shows its own. */
  readonly host: 'electron' | 'loopback';
  readonly mac: boolean;
  /** ISO date of today, for new books. */
  readonly today: string;
  readonly firstRun: boolean;
  /** A book that was asked for before the window was there. */
  readonly open: string | undefined;
};

export type Opened = {
  readonly source: BookSource;
  /** Undefined for the demo book and for a recovered book that was never saved. */
  readonly path: string | undefined;
  readonly name: string;
  /** Of the file's text, to notice that another program changed it. */
  readonly stamp: string | undefined;
};

export type Saved = { readonly path: string; readonly name: string; readonly stamp: string };

export type RecentBook = { readonly path: string; readonly name: string; readonly folder: string };

export type Recovered = {
  readonly document: string;
  readonly path: string | undefined;
  readonly name: string;
  /** ISO time of the copy. */
  readonly time: string;
};

/** What a companion file holds, by its kind. */
export type CompanionSources = { readonly roster: RosterSource; readonly ensemble: EnsembleSource };

export type OpenedCompanion<K extends CompanionKind = CompanionKind> = {
  readonly source: CompanionSources[K];
  readonly path: string | undefined;
  readonly name: string;
  readonly stamp: string | undefined;
};

export type SaveCompanion<K extends CompanionKind> = {
  readonly source: CompanionSources[K];
  readonly path: string;
  readonly stamp: string | undefined;
  readonly force: boolean;
};

/** Paths of the companions that are open beside a book. */
export type Beside = { readonly roster?: string | undefined; readonly ensemble?: string | undefined };

export type KeptCompanion = {
  readonly kind: CompanionKind;
  readonly source: object;
  readonly path?: string | undefined;
  readonly name: string;
};

export type KeepRecovery = {
  readonly document: string;
  readonly source: BookSource;
  readonly path?: string | undefined;
  readonly name: string;
  /** Unsaved rosters and ensembles beside the book. */
  readonly companions?: readonly KeptCompanion[] | undefined;
};

export type OpenedRecovery = Opened & {
  readonly companions: readonly { readonly kind: CompanionKind; readonly opened: OpenedCompanion }[];
};

export type BuildAsk = {
  readonly source: unknown;
  /** Indices of the editions. */
  readonly editions: readonly number[];
  readonly folder: string;
  /** Of the editions. */
  readonly kinds: readonly ('pdf' | 'svg' | 'midi')[];
  /** Booklets of these students, by index, and the teacher's summary. */
  readonly booklets?:
    | { readonly roster: unknown; readonly students: readonly number[]; readonly summary: boolean; readonly date: string }
    | undefined;
  /** Parts of these chairs, by index, and the score. */
  readonly set?: { readonly ensemble: unknown; readonly chairs: readonly number[]; readonly score: boolean } | undefined;
};

export type BuiltFile = {
  readonly path: string;
  readonly name: string;
  /** 0 where the file has no pages. */
  readonly pages: number;
};
export type Built = {
  readonly files: readonly BuiltFile[];
  /** What was asked for and not written, and why. */
  readonly missing: readonly { readonly label: string; readonly issues: readonly Issue[] }[];
};

export const EXPORT_FORMATS = ['musicxml', 'mxl', 'midi', 'wav', 'svg', 'png', 'brf', 'braille', 'text'] as const;
export type ExportFormat = (typeof EXPORT_FORMATS)[number];

export type ExportAsk = {
  readonly source: unknown;
  readonly edition: number;
  readonly focus: ExercisePlace;
  readonly format: ExportFormat;
  readonly folder: string;
  /** Beats a minute; the exercise's slowest when undefined. */
  readonly bpm?: number | undefined;
  /** Runs from the slowest tempo to the goal, for sound. */
  readonly ladder?: number | undefined;
  /** Bars. */
  readonly countIn?: number | undefined;
  readonly click: boolean;
  readonly drone: boolean;
  /** Hertz. */
  readonly a4?: number | undefined;
  readonly shape?: '16:9' | '9:16' | undefined;
  readonly dark: boolean;
  /** A slide for each key. */
  readonly eachKey: boolean;
};

export type PlaceEntry = { readonly name: string; readonly path: string; readonly kind: 'folder' | FileKind };
export type PlaceList = { readonly folder: string; readonly above: string | undefined; readonly entries: readonly PlaceEntry[] };

/** Channel → what is asked and what is answered. */
export type Calls = {
  about: [Nothing, About];
  lists: [Nothing, Lists];
  show: [ShowAsk, Shown];
  figure: [FigureAsk, FigureView];
  /** Notes on a staff, as whole notes with their names: for the compass. */
  staff: [{ readonly clef: FigureAsk['clef']; readonly notes: readonly string[] }, { readonly svg: string }];
  perform: [PerformAsk, Performance];
  fits: [{ readonly source: unknown }, Fits];
  /** The proof of one edition: every rule over every page. */
  prove: [{ readonly source: unknown; readonly edition: number; readonly ticket: string }, ProofView];
  build: [BuildAsk & { readonly ticket: string }, Built];
  export: [ExportAsk & { readonly ticket: string }, Built];
  /** The phrase of a file, read as a figure: in the likeliest key, or in the one that is named. `bytes`: base64. */
  import: [{ readonly bytes: string; readonly key?: string | undefined }, ImportView];
  /** What is wrong with a roster or an ensemble for this book, and what follows from it. */
  'roster-check': [{ readonly source: unknown; readonly roster: object }, RosterView];
  'ensemble-check': [{ readonly source: unknown; readonly ensemble: object }, EnsembleView];
  cancel: [{ readonly ticket: string }, Nothing];
  'book-demo': [Nothing, Opened];
  'book-open': [{ readonly path: string }, Opened];
  'book-save': [
    {
      readonly source: BookSource;
      readonly path: string;
      /** Stamp of the text that was opened or saved last; a file with another one was changed by someone else. */
      readonly stamp: string | undefined;
      /** Write over a file that another program changed. */
      readonly force: boolean;
      readonly document: string;
    },
    Saved,
  ];
  'book-recent': [Nothing, readonly RecentBook[]];
  'recovery-keep': [KeepRecovery, Nothing];
  'recovery-drop': [{ readonly document: string }, Nothing];
  'recovery-list': [Nothing, readonly Recovered[]];
  'recovery-open': [{ readonly document: string }, OpenedRecovery];
  /** Undefined: the window was closed without a choice. Electron only. */
  'choose-book': [{ readonly kind?: FileKind | undefined }, { readonly path: string | undefined }];
  'choose-place': [{ readonly name: string; readonly kind?: FileKind | undefined }, { readonly path: string | undefined }];
  'choose-folder': [Nothing, { readonly path: string | undefined }];
  /** For the window's own file chooser. Loopback only. */
  places: [{ readonly folder: string | undefined; readonly kind?: FileKind | undefined }, PlaceList];
  'roster-open': [{ readonly path: string }, OpenedCompanion<'roster'>];
  'ensemble-open': [{ readonly path: string }, OpenedCompanion<'ensemble'>];
  /** Those that belong to the demo book. */
  'roster-demo': [Nothing, OpenedCompanion<'roster'>];
  'ensemble-demo': [Nothing, OpenedCompanion<'ensemble'>];
  'roster-save': [SaveCompanion<'roster'>, Saved];
  'ensemble-save': [SaveCompanion<'ensemble'>, Saved];
  /** Companions that were open beside a book the last time. */
  'beside-read': [{ readonly book: string }, Beside];
  'beside-write': [{ readonly book: string } & Beside, Nothing];
  'preferences-read': [Nothing, Preferences];
  'preferences-write': [Preferences, Nothing];
  'folder-open': [{ readonly path: string }, { readonly shown: boolean }];
  /** Hands a finished PDF to the system's viewer, or gives an address where the browser can show it. */
  'file-print': [{ readonly path: string }, { readonly address: string | undefined }];
  /** The window may close: nothing is unsaved, or the user said so. */
  'close-now': [Nothing, Nothing];
  /** Title and state for the window's frame. */
  'window-title': [{ readonly title: string; readonly edited: boolean; readonly path: string | undefined }, Nothing];
};

export type Channel = keyof Calls;
export type Ask<C extends Channel> = Calls[C][0];
export type Answer<C extends Channel> = Calls[C][1];

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

/** What the window holds in its hands. */
export type Bridge = {
  call<C extends Channel>(channel: C, ask: Ask<C>): Promise<Result<Answer<C>>>;
  /** Gives a function that stops the listening. */
  on<E extends EventName>(name: E, listen: (event: Events[E]) => void): () => void;
};

/** Channels that a job answers; the others are the host's. */
export const JOB_CHANNELS = [
  'lists',
  'show',
  'figure',
  'staff',
  'perform',
  'fits',
  'roster-check',
  'ensemble-check',
  'import',
  'build',
  'export',
  'prove',
] as const satisfies readonly Channel[];
export type JobChannel = (typeof JOB_CHANNELS)[number];

/** Long work: done in a job of its own, so that the pages follow the typing meanwhile. */
export const LONG_CHANNELS: readonly JobChannel[] = ['build', 'export', 'prove'];

export const CHANNELS = [
  ...JOB_CHANNELS,
  'about',
  'cancel',
  'book-demo',
  'book-open',
  'book-save',
  'book-recent',
  'recovery-keep',
  'recovery-drop',
  'recovery-list',
  'recovery-open',
  'choose-book',
  'choose-place',
  'choose-folder',
  'places',
  'roster-open',
  'ensemble-open',
  'roster-demo',
  'ensemble-demo',
  'roster-save',
  'ensemble-save',
  'beside-read',
  'beside-write',
  'preferences-read',
  'preferences-write',
  'folder-open',
  'file-print',
  'close-now',
  'window-title',
] as const satisfies readonly Channel[];

/** Fails to compile when a channel is missing from the list. */
type Missing = Exclude<Channel, (typeof CHANNELS)[number]>;
export type AllChannelsListed = Missing extends never ? true : { readonly missing: Missing };
export const ALL_LISTED: AllChannelsListed = true;

export const EVENT_NAMES = ['progress', 'open-book', 'command', 'close-asked', 'job-restarted'] as const satisfies readonly EventName[];

export const isChannel = (text: string): text is Channel => (CHANNELS as readonly string[]).includes(text);
export const isJobChannel = (channel: Channel): channel is JobChannel => (JOB_CHANNELS as readonly string[]).includes(channel);

export type { Issue };
