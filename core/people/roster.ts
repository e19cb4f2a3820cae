/** A teacher's roster: who plays what, what has been assigned, how fast it goes. Kept in a file of its own, never in a book. */

import type { Mm } from '../base/units.js';
import type { PageSize } from '../book/book.js';
import type { Breather } from '../breath/lung-time.js';
import type { Player } from '../player/player.js';
import type { Key } from '../theory/key.js';

/** Beats a minute; what is undefined follows the exercise. */
export type TempoGoal = { readonly now: number | undefined; readonly goal: number | undefined };

/** Some exercises for some weeks. */
export type Assignment = {
  readonly exercises: readonly string[];
  /** Written keys; undefined: the keys learnt. */
  readonly keys: readonly Key[] | undefined;
  /** Weeks of the term, from 1, in order; undefined: all. */
  readonly weeks: readonly number[] | undefined;
};

/** A tempo reached, with its ISO date. */
export type Progress = { readonly exercise: string; readonly tempo: number; readonly date: string };

export type Student = {
  /** Full name, first name, initials or anything else that tells students apart. */
  readonly name: string;
  readonly player: Player;
  readonly staff: Mm | undefined;
  readonly page: PageSize | undefined;
  readonly breather: Breather;
  /** Written keys; undefined: all. */
  readonly keys: readonly Key[] | undefined;
  readonly tempos: ReadonlyMap<string, TempoGoal>;
  readonly assignments: readonly Assignment[];
  /** In the order written down. */
  readonly progress: readonly Progress[];
};

export type Roster = {
  /** As printed on the covers: a class, a studio; may be empty. */
  readonly title: string;
  /** ISO date of the first day of week 1; undefined leaves dates out. */
  readonly begins: string | undefined;
  readonly weeks: number;
  readonly students: readonly Student[];
};
