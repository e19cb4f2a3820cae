/** Problems as data: what a user can get wrong, where it stands, and what to do about it. */

export type Severity = 'error' | 'warning' | 'note';

export type Issue = {
  /** Stable, kebab-case, for scripts and tests: `figure-too-wide`. */
  readonly code: string;
  readonly severity: Severity;
  /** Where in the book (or roster) file: `['chapters', 2, 'exercises', 0, 'figure']`. */
  readonly path: readonly (string | number)[];
  /** One sentence: what is wrong, and what to do. */
  readonly message: string;
  /** For texts such as a figure: the first and one-past-last character that is wrong. */
  readonly span?: readonly [number, number];
};

export type Result<T> =
  | { readonly ok: true; readonly value: T; readonly issues: readonly Issue[] }
  | { readonly ok: false; readonly issues: readonly Issue[] };

export function good<T>(value: T, issues: readonly Issue[] = []): Result<T> {
  return { ok: true, value, issues };
}

export function bad<T = never>(...issues: Issue[]): Result<T> {
  return { ok: false, issues };
}

export function error(code: string, path: readonly (string | number)[], message: string, span?: readonly [number, number]): Issue {
  return span ? { code, severity: 'error', path, message, span } : { code, severity: 'error', path, message };
}

export function warning(code: string, path: readonly (string | number)[], message: string): Issue {
  return { code, severity: 'warning', path, message };
}

export function note(code: string, path: readonly (string | number)[], message: string): Issue {
  return { code, severity: 'note', path, message };
}

export function isError(issue: Issue): boolean {
  return issue.severity === 'error';
}

/** The most faults of one file that are told. A person mends the first ones; only a file that is no work of a person has more. */
const MOST_TOLD = 500;

/** True when there is an error and so much to tell that looking for more is of no use. */
export function enough(issues: readonly Issue[]): boolean {
  const last = issues[issues.length - 1];
  return issues.length >= MOST_TOLD && last !== undefined && isError(last);
}

/** At most 500 of the issues, errors before the others where some must go, and then a note that there are more. */
export function told(issues: readonly Issue[]): readonly Issue[] {
  if (issues.length <= MOST_TOLD) return issues;
  const kept = [...issues.filter(isError), ...issues.filter((issue) => !isError(issue))].slice(0, MOST_TOLD);
  return [...kept, note('more-faults', [], `There are more faults than these ${MOST_TOLD}; correct these first.`)];
}

/** Prefixes the path of every issue: used when a part is checked on its own and then placed in its book. */
export function under(prefix: readonly (string | number)[], issues: readonly Issue[]): Issue[] {
  return issues.map((issue) => ({ ...issue, path: [...prefix, ...issue.path] }));
}

/** Text of a file as it can stand in a sentence: shortened, and without line breaks or signs that steer a terminal. */
export function quotable(text: string, longest = 40): string {
  const plain = text.slice(0, longest + 1).replace(/\p{Cc}|\p{Cs}/gu, '\ufffd');
  return plain.length > longest ? `${plain.slice(0, longest)}…` : plain;
}

/** `chapters[2].exercises[0].figure`, counted from 1 as readers count: `chapter 3, exercise 1, figure`. */
export function pathText(path: readonly (string | number)[]): string {
  const words: string[] = [];
  for (let i = 0; i < path.length; i++) {
    const part = path[i];
    const next = path[i + 1];
    if (typeof part === 'string' && typeof next === 'number') {
      words.push(`${quotable(part.replace(/s$/, ''))} ${next + 1}`);
      i++;
    } else {
      words.push(typeof part === 'number' ? `item ${part + 1}` : quotable(String(part)));
    }
  }
  return words.join(', ');
}

/** A programmer's mistake, never a user's: the message names what was assumed. */
export function assert(condition: unknown, assumption: string): asserts condition {
  if (!condition) throw new Error(`assumption broken: ${assumption}`);
}
