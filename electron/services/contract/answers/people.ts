/** What the job tells of rosters, ensembles and imported phrases, as plain data. */
import type { Issue } from '../../../../core/base/issue.js';

export type ExerciseName = { readonly id: string; readonly number: number; readonly title: string };

export type StudentView = {
  /** How long the student plays from one breath, in words; empty where the instrument needs none or the facts are wrong. */
  readonly lung: string;
  /** What is to be played, with the tempos that the booklet prints; empty while the roster has faults. */
  readonly assigned: readonly { readonly id: string; readonly now: number | undefined; readonly goal: number | undefined }[];
};

export type RosterView = {
  /** Paths lead into the roster. */
  readonly issues: readonly Issue[];
  readonly exercises: readonly ExerciseName[];
  readonly students: readonly StudentView[];
};

export type EnsembleView = {
  /** Paths lead into the ensemble. */
  readonly issues: readonly Issue[];
  readonly exercises: readonly ExerciseName[];
  /** Chairs with their ids and names filled in; empty while the ensemble has faults. */
  readonly chairs: readonly { readonly id: string; readonly name: string; readonly short: string; readonly copies: number }[];
};
