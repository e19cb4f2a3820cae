/** What an edition is made of, and what its pages are before they are numbered. */

import type { Cache } from '../base/cache.js';
import type { Book, EditionSpec } from '../book/book.js';
import type { ReaderBreaths } from '../breath/policy.js';
import type { Line } from '../player/line.js';
import type { Player } from '../player/player.js';
import type { Told } from './music/exercise-block.js';
import type { MatterPage } from './page/geometry.js';
import type { Fill } from './page/matched-pages.js';

/** A page in its place, before numbers are printed on it. `running` is the title at its head; undefined for none. */
export type Leaf = { readonly matter: MatterPage; readonly running: string | undefined; readonly footFolio: boolean };

/** A page without a title at its head and without a number at its foot. */
export const plainLeaf = (matter: MatterPage): Leaf => ({ matter, running: undefined, footFolio: false });

export type EditionContent = {
  readonly book: Book;
  readonly spec: EditionSpec;
  readonly player: Player;
  /** By exercise id; an exercise without a line is left out. */
  readonly lines: ReadonlyMap<string, Line>;
  /** Undefined for an edition without breath marks. */
  readonly breathing: ReaderBreaths | undefined;
  /** For a part of an ensemble: what it shares with the other parts. */
  readonly match?: Match;
  /** Holds what did not change since the last setting; everything is made anew without it. */
  readonly cache?: Pick<Cache, 'cached' | 'identity'>;
  /** Appendices as they were set last, by anchor: taken as they are while someone types, since nobody looks at them. */
  readonly lastBack?: Map<string, readonly MatterPage[]>;
  readonly hasty?: boolean;
  /** Chapters alone: what stands before them can wait. */
  readonly bodyOnly?: boolean;
};

/** What the parts of an ensemble have in common, so that "line 3, bar 2" is one place for everyone. */
export type Match = {
  /** As printed where an edition names its instrument: `Trumpet 2 in B♭`. */
  readonly part: string;
  /** Systems by exercise id: broken alike in all parts. */
  readonly systems: ReadonlyMap<string, Told>;
  /** By chapter: how many pages its opening takes, and how its exercises fill those after it. */
  readonly openings: readonly number[];
  readonly fills: readonly Fill[];
  /** Sentences over an exercise: what the ensemble leaves out or turns. */
  readonly notes: ReadonlyMap<string, readonly string[]>;
};

/** Where an exercise begins: index into the arabic pages. */
export type ExercisePlace = {
  readonly id: string;
  readonly number: string;
  readonly title: string;
  readonly chapter: number;
  readonly page: number;
};

export const chapterAnchor = (id: string): string => `chapter ${id}`;

export const exerciseAnchor = (id: string): string => `exercise ${id}`;
