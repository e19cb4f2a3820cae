/** What `twelvefold export` is asked for. */
import type { Issue } from '../../base/issue.js';
import type { Exercise, Level } from '../../exercise/exercise.js';

export type ExportOptions = {
  readonly to: string;
  /** The instrument of a single player; or an ensemble file. */
  readonly player?: string;
  readonly ensemble?: string;
  /** Ids of chairs whose parts are wanted, or all parts; else the score. */
  readonly part?: readonly string[];
  readonly parts?: boolean;
  /** Of the score: concert or transposed; as the ensemble says when not given. */
  readonly pitch?: string;
  readonly level?: Level;
  /** One exercise; else one chapter; else the whole book. */
  readonly exercise?: string;
  readonly chapter?: string;
  readonly out?: string;
  readonly tempo?: string;
  readonly ladder?: string;
  readonly countIn?: string;
  readonly click?: boolean;
  readonly drone?: boolean;
  readonly a4?: string;
  readonly rate?: string;
  readonly shape?: string;
  readonly size?: string;
  readonly dark?: boolean;
  readonly eachKey?: boolean;
  readonly json?: boolean;
};

/** `name` is what a chapter adds to the names of files. */
export type Chosen = {
  readonly title: string;
  readonly name: string;
  readonly exercises: readonly { exercise: Exercise; path: Issue['path'] }[];
};
