/** The state of the window, and who listens to it. One value; every change makes a new one. */
import { useSyncExternalStore } from 'react';
import type { Issue } from '../../core/base/issue.js';
import type { BookSource } from '../../core/book/schema.js';
import type { About } from '../../electron/services/contract/answers/about.js';
import type { CompanionSources, Recovered } from '../../electron/services/contract/answers/files.js';
import type { Lists } from '../../electron/services/contract/answers/lists.js';
import type { Shown } from '../../electron/services/contract/answers/pages.js';
import type { EnsembleView, RosterView } from '../../electron/services/contract/answers/people.js';
import type { ProofView } from '../../electron/services/contract/answers/proof.js';
import type { Built } from '../../electron/services/contract/answers/written.js';
import type { ExercisePosition, Preferences } from '../../electron/services/contract/fields.js';
import type { CompanionKind, FileKind } from '../../electron/services/contract/file-kinds.js';
import { PREFERENCES } from '../../electron/services/contract/preferences.js';

export type PlaceName = 'book' | 'exercise' | 'pages' | 'players' | 'print';
export const PLACES: readonly PlaceName[] = ['book', 'exercise', 'pages', 'players', 'print'];

/** What is chosen in the outline, for the page beside it and for commands. */
export type Focus = ExercisePosition;

/** What can be open, by kind: the book, and a roster and an ensemble beside it. */
export type Sources = CompanionSources & { readonly book: BookSource };

/** What stood there before a change: of the book, or of a companion beside it. */
export type Step = {
  readonly name: string;
  readonly focus: Focus | undefined;
  readonly edition: number;
} & { [K in FileKind]: { readonly of: K; readonly source: Sources[K] } }[FileKind];

export type OpenFile<K extends FileKind = FileKind> = {
  readonly source: Sources[K];
  readonly path: string | undefined;
  readonly name: string;
  readonly stamp: string | undefined;
  /** What stands in the file; it is edited while this is another one. */
  readonly saved: Sources[K] | undefined;
};

export type OpenBook = OpenFile<'book'> & {
  /** Name of this opening, for its recovery copy. */
  readonly document: string;
  readonly past: readonly Step[];
  readonly future: readonly Step[];
};

/** The files that are open, by kind. */
type OpenFiles = { readonly [K in FileKind]: OpenFile<K> | undefined };

export type Notice = { readonly id: number; readonly severity: Issue['severity']; readonly words: string };

export type DialogName =
  | { readonly kind: 'start' }
  /** `of`: what would be lost; everything that is unsaved when it is not said. */
  | { readonly kind: 'guard'; readonly of?: CompanionKind; readonly go: () => void; readonly building: boolean }
  | { readonly kind: 'conflict'; readonly of: FileKind; readonly words: string }
  | { readonly kind: 'recovery'; readonly copies: readonly Recovered[] }
  | {
      readonly kind: 'chooser';
      readonly mode: 'open' | 'save' | 'folder';
      readonly of: FileKind;
      readonly name: string;
      readonly chosen: (path: string | undefined) => void;
    }
  | { readonly kind: 'export' }
  | { readonly kind: 'import'; readonly file: File | undefined }
  | { readonly kind: 'search' }
  | { readonly kind: 'keys' }
  | { readonly kind: 'settings' }
  | { readonly kind: 'library' };

export type Work = {
  readonly ticket: string;
  readonly kind: 'build' | 'export' | 'prove';
  readonly stopping: boolean;
  readonly done: number;
  readonly total: number;
  readonly words: string;
};

/** As the one who breathes: whom the edition names, so that what is shown and heard is what its pages print. */
export const OF_EDITION = 'edition';

export type State = {
  readonly about: About | undefined;
  readonly lists: Lists | undefined;
  readonly book: OpenBook | undefined;
  readonly place: PlaceName;
  readonly focus: Focus | undefined;
  readonly edition: number;
  readonly bpm: number | undefined;
  /** As the edition says when undefined. */
  readonly manner: 'in-time' | 'added-beat' | undefined;
  /** `edition`, `student 2` by place in the roster from 0, or a rough class of lungs. */
  readonly breather: string;
  readonly roster: OpenFile<'roster'> | undefined;
  readonly ensemble: OpenFile<'ensemble'> | undefined;
  readonly rosterView: RosterView | undefined;
  readonly ensembleView: EnsembleView | undefined;
  /** What the players' place shows, and the student or chair that is unfolded. */
  readonly company: 'instruments' | 'students' | 'ensemble';
  readonly student: number | undefined;
  readonly chair: number | undefined;
  readonly preferences: Preferences;
  readonly shown: Shown | undefined;
  /** Page index → drawn page. */
  readonly drawn: ReadonlyMap<number, { readonly stamp: string; readonly svg: string }>;
  /** First page of the spread on the screen. */
  readonly spread: number;
  /** Page of a text that is being written, beside its field; undefined: the page of the exercise in focus. */
  readonly beside: number | undefined;
  readonly note: { readonly exercise: string; readonly event: number } | undefined;
  readonly notices: readonly Notice[];
  /** Said to screen readers. */
  readonly said: string;
  readonly dialog: DialogName | undefined;
  readonly work: Work | undefined;
  readonly built:
    | { readonly kind: 'build' | 'export'; readonly folder: string; readonly result: Built; readonly issues: readonly Issue[] }
    | undefined;
  readonly proof: { readonly edition: number; readonly source: BookSource; readonly view: ProofView } | undefined;
  readonly playing: { readonly exercise: string; readonly event: number | undefined; readonly at: number } | undefined;
  readonly loop: boolean;
  readonly click: boolean;
  readonly withBreaths: boolean;
};

const start: State = {
  about: undefined,
  lists: undefined,
  book: undefined,
  place: 'book',
  focus: undefined,
  edition: 0,
  bpm: undefined,
  manner: undefined,
  breather: OF_EDITION,
  roster: undefined,
  ensemble: undefined,
  rosterView: undefined,
  ensembleView: undefined,
  company: 'instruments',
  student: 0,
  chair: 0,
  preferences: PREFERENCES,
  shown: undefined,
  drawn: new Map(),
  spread: -1,
  beside: undefined,
  note: undefined,
  notices: [],
  said: '',
  dialog: undefined,
  work: undefined,
  built: undefined,
  proof: undefined,
  playing: undefined,
  loop: false,
  click: true,
  withBreaths: true,
};

let state = start;
const listeners = new Set<() => void>();

export const now = (): State => state;

/** The file of this kind that is open. */
export const openFile = <K extends FileKind>(files: OpenFiles, of: K): OpenFile<K> | undefined => files[of];

export function change(part: Partial<State> | ((before: State) => Partial<State>)): void {
  const given = typeof part === 'function' ? part(state) : part;
  state = { ...state, ...given };
  for (const listen of listeners) listen();
}

export function listen(heard: () => void): () => void {
  listeners.add(heard);
  return () => void listeners.delete(heard);
}

/** The part of the state that a component shows; it is drawn again only when that part changes. */
export function useWindow<T>(pick: (state: State) => T): T {
  return useSyncExternalStore(listen, () => pick(state));
}

let notices = 0;

export function notify(severity: Issue['severity'], words: string): void {
  notices++;
  const notice = { id: notices, severity, words };
  // Of good news the newest is enough.
  const stays = (it: Notice) => it.words !== words && (severity !== 'note' || it.severity !== 'note');
  change(({ notices: before }) => ({ notices: [...before.filter(stays), notice].slice(-4), said: words }));
  // Good news goes by itself; what went wrong waits to be read.
  if (severity === 'note') setTimeout(() => dismiss(notice.id), 6000);
}

export function dismiss(id: number): void {
  change(({ notices: before }) => ({ notices: before.filter((it) => it.id !== id) }));
}

export function tellIssues(issues: readonly Issue[]): void {
  for (const issue of issues.slice(0, 3)) notify(issue.severity, issue.message.replace(/`([^`]*)`/g, '“$1”'));
}

export const say = (words: string): void => change({ said: words });

export const closeDialog = (): void => change({ dialog: undefined });
