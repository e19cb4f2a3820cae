/** What a command is given of the world outside, and how it answers: lines, issues, exit codes. */

import { type Issue, isError, pathText } from '../base/issue.js';
import { isObject, type JsonObject } from '../book/json.js';

export type Terminal = {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Relative names are seen from here. */
  readonly cwd: string;
  /** Whether a person watches the error stream: progress is shown only then. */
  readonly watched: boolean;
  /** Stops the work. */
  readonly signal: AbortSignal;
  /** ISO date of today, for new books. */
  readonly today: string;
};

/** 70 is EX_SOFTWARE of sysexits.h, 130 is 128 + SIGINT. */
export const EXIT = { ok: 0, mistakes: 1, usage: 2, proofFaults: 3, bug: 70, stopped: 130 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** The text in the book that an issue's path leads to. */
function textAt(file: JsonObject, path: Issue['path']): string | undefined {
  let value: unknown = file;
  for (const part of path) {
    if (Array.isArray(value) && typeof part === 'number') value = value[part];
    else if (isObject(value) && typeof part === 'string' && Object.hasOwn(value, part)) value = value[part];
    else return undefined;
  }
  return typeof value === 'string' ? value : undefined;
}

/** The caret line under a text; signs of two UTF-16 units take one column. */
function caretLine(text: string, span: readonly [number, number]): string {
  const columns = (part: string) => [...part].length;
  const wide = Math.max(1, columns(text.slice(span[0], span[1])));
  return ' '.repeat(columns(text.slice(0, span[0]))) + '^'.repeat(wide);
}

/** `error: chapter 2, exercise 3, figure: …`, and for a part of a text that part with carets under it. */
export function issueText(issue: Issue, file: JsonObject | undefined): string {
  const place = issue.path.length > 0 ? `${pathText(issue.path)}: ` : '';
  const first = `${issue.severity}: ${place}${issue.message}`;
  const text = issue.span && file ? textAt(file, issue.path) : undefined;
  if (!issue.span || text === undefined || text.includes('\n')) return first;
  return `${first}\n    ${text}\n    ${caretLine(text, issue.span)}`;
}

/** Errors before warnings before notes; each in the order found. */
export function tellIssues(terminal: Terminal, issues: readonly Issue[], file?: JsonObject): void {
  for (const severity of ['error', 'warning', 'note'] as const) {
    for (const issue of issues) if (issue.severity === severity) terminal.err(`${issueText(issue, file)}\n`);
  }
}

export function tellJson(terminal: Terminal, value: object): void {
  terminal.out(`${JSON.stringify(value, null, 2)}\n`);
}

/** `1 edition`, `2 editions`. */
export const count = (number: number, noun: string): string => `${number} ${noun}${number === 1 ? '' : 's'}`;

/** `2 errors, 1 warning`; empty when there is neither. */
export function countText(issues: readonly Issue[]): string {
  const errors = issues.filter(isError).length;
  const warnings = issues.filter((issue) => issue.severity === 'warning').length;
  return [...(errors ? [count(errors, 'error')] : []), ...(warnings ? [count(warnings, 'warning')] : [])].join(', ');
}

/** Columns of a table, as wide as their widest cell; the last column is not padded. */
export function table(rows: readonly (readonly string[])[]): string {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, i) => Math.max(...rows.map((row) => [...(row[i] ?? '')].length)));
  const lines = rows.map((row) =>
    row
      .map((cell, i) => (i === row.length - 1 ? cell : cell + ' '.repeat((widths[i] as number) - [...cell].length)))
      .join('  ')
      .trimEnd(),
  );
  return `${lines.join('\n')}\n`;
}
