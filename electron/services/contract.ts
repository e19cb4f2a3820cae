/**
 * The one contract between the window and what stands behind it. Two hosts keep it: the Electron shell (through the
 * preload script) and the loopback host (through HTTP on 127.0.0.1). Every answer is a Result: what goes wrong is an Issue.
 */
import type { BookSource } from '../../core/book/schema.js';
import type { Issue, Result } from '../../core/issue.js';
import type { Lists } from './lists.js';
import type { Preferences } from './preferences.js';
import type { Person } from './roster.js';
import type { FigureAsk, FigureView, Fits, PerformAsk, Performance, ProofView, ShowAsk, Shown } from './views.js';

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

export type BuildAsk = {
  readonly source: unknown;
  /** Indices of the editions. */
  readonly editions: readonly number[];
  readonly folder: string;
  readonly kinds: readonly ('pdf' | 'svg' | 'midi')[];
};

export type BuiltFile = { readonly path: string; readonly name: string; readonly pages: number; readonly edition: number };
export type Built = { readonly files: readonly BuiltFile[] };

export type PlaceEntry = { readonly name: string; readonly path: string; readonly kind: 'folder' | 'book' };
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
  'recovery-keep': [
    { readonly document: string; readonly source: BookSource; readonly path: string | undefined; readonly name: string },
    Nothing,
  ];
  'recovery-drop': [{ readonly document: string }, Nothing];
  'recovery-list': [Nothing, readonly Recovered[]];
  'recovery-open': [{ readonly document: string }, Opened];
  /** Undefined: the window was closed without a choice. Electron only. */
  'choose-book': [Nothing, { readonly path: string | undefined }];
  'choose-place': [{ readonly name: string }, { readonly path: string | undefined }];
  'choose-folder': [Nothing, { readonly path: string | undefined }];
  /** For the window's own file chooser. Loopback only. */
  places: [{ readonly folder: string | undefined }, PlaceList];
  'roster-read': [Nothing, readonly Person[]];
  'roster-write': [{ readonly people: readonly Person[] }, Nothing];
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
export const JOB_CHANNELS = ['lists', 'show', 'figure', 'staff', 'perform', 'fits', 'build', 'prove'] as const satisfies readonly Channel[];
export type JobChannel = (typeof JOB_CHANNELS)[number];

/** Long work: done in a job of its own, so that the pages follow the typing meanwhile. */
export const LONG_CHANNELS: readonly JobChannel[] = ['build', 'prove'];

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
  'roster-read',
  'roster-write',
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
