/** `twelvefold progress`: writes a tempo that was reached into a roster. */
import { resolve } from 'node:path';
import { good, type Issue } from '../base/issue.js';
import { fileIssue, writeTextSafely } from '../disk/files.js';
import { withProgress } from '../people/progress.js';
import { printDate } from './booklets.js';
import { openBookAnd } from './companion.js';
import { EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from './terminal.js';

export type ProgressOptions = {
  /** Number in the roster from 1, or the name. */
  readonly student: string;
  readonly exercise: string;
  readonly tempo: string;
  readonly date?: string;
  readonly json?: boolean;
};

export async function progressCommand(
  bookName: string,
  rosterName: string,
  options: ProgressOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const fail = (issues: readonly Issue[]): ExitCode => {
    if (options.json) tellJson(terminal, { ok: false, issues });
    else tellIssues(terminal, issues);
    return EXIT.mistakes;
  };
  const date = printDate(options.date, terminal);
  if (!date.ok) return fail(date.issues);
  const entry = { student: options.student, exercise: options.exercise, tempo: Number(options.tempo), date: date.value };
  const opened = await openBookAnd(
    bookName,
    rosterName,
    'a roster',
    (text, book) => {
      const changed = withProgress(text, book, entry);
      return changed.ok ? good(changed.value, changed.issues) : changed;
    },
    terminal,
    options.json === true,
  );
  if (!opened.ok) return fail(opened.issues);
  const { text, student } = opened.value.other;
  try {
    await writeTextSafely(resolve(terminal.cwd, rosterName), text, { signal: terminal.signal });
  } catch (failure) {
    const issue = fileIssue(failure, rosterName);
    if (!issue) throw failure;
    return fail([issue]);
  }
  if (options.json)
    tellJson(terminal, { ok: true, issues: opened.issues, student, exercise: entry.exercise, tempo: entry.tempo, date: entry.date });
  else {
    tellIssues(terminal, opened.issues);
    terminal.out(`Student ${student}: ${entry.exercise} at ${entry.tempo} on ${entry.date}.\n`);
  }
  return EXIT.ok;
}
