/** A field of a file as a control shows it: its label, what stands there, what is wrong with it, and how it is changed. */
import type { Issue } from '../../core/base/issue.js';
import type { IssuesAt } from './issues-at.js';

export type Bound<V> = {
  readonly label: string;
  readonly value: V;
  readonly issues: readonly Issue[];
  readonly onChange: (value: V) => void;
};

/** Gives a field of the source by its name. `set` gets the label too, for the name of the change. */
export const bind =
  <T extends object>(source: T, at: IssuesAt, set: (part: Partial<T>, label: string) => void) =>
  <K extends keyof T & string>(field: K, label: string): Bound<T[K]> => ({
    label,
    value: source[field],
    issues: at(field),
    onChange: (value) => {
      const part: Partial<T> = {};
      part[field] = value;
      set(part, label);
    },
  });

/** What numbers may be: beats a minute, the height of a staff in millimetres, seconds of breath. */
export const TEMPO = { min: 20, max: 400 };
export const STAFF = { min: 4, max: 12, step: 0.5 };
export const SECONDS = { min: 1, max: 90, step: 0.1 };
