/** Books, rosters and ensembles as a window opens and saves them. */
import type { BookSource } from '../../../../core/book/schema.js';
import type { EnsembleSource } from '../../../../core/ensemble/schema.js';
import type { RosterSource } from '../../../../core/people/schema.js';
import type { CompanionKind, FileKind } from '../file-kinds.js';

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

/** Paths of the companions that are open beside a book. */
export type Beside = { readonly roster?: string | undefined; readonly ensemble?: string | undefined };

/** A roster or an ensemble as it stood in the window, with whatever is wrong with it. */
export type RecoveredCompanion = {
  readonly kind: CompanionKind;
  readonly opened: OpenedCompanion;
};

export type OpenedRecovery = Opened & { readonly companions: readonly RecoveredCompanion[] };

export type FolderEntry = { readonly name: string; readonly path: string; readonly kind: 'folder' | FileKind };

export type FolderList = { readonly folder: string; readonly above: string | undefined; readonly entries: readonly FolderEntry[] };
