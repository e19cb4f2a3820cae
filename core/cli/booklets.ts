/** `twelvefold booklets`: one PDF for each student of a roster. */
import { resolve } from 'node:path';
import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import type { Output } from '../batch/batch.js';
import type { Book } from '../book/book.js';
import { inFolder } from '../disk/files.js';
import { bookletStems } from '../people/booklet-names.js';
import { isDate, readRoster } from '../people/read.js';
import type { Roster } from '../people/roster.js';
import { type BatchOptions, makeOutputs, tellResults, withPool } from './batch.js';
import { openBookAnd } from './companion.js';
import { EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from './terminal.js';

export type BookletOptions = BatchOptions & {
  /** Numbers in the roster from 1, or names; all when none is given. */
  readonly student?: readonly string[];
  /** ISO date for the cover; today when undefined. */
  readonly date?: string;
  readonly prove?: boolean;
};

/** The booklets asked for. Their labels and the issues speak of numbers: names stay in the files. */
export function chooseBooklets(book: Book, roster: Roster, wanted: readonly string[] = [], prove?: boolean): Result<readonly Output[]> {
  const stems = bookletStems(book, roster);
  const outputs = stems.map(
    (stem, i): Output => ({ job: { kind: 'booklet', student: i, prove }, file: `${stem}.pdf`, label: `booklet ${i + 1}` }),
  );
  const issues: Issue[] = [];
  const chosen = wanted.map((who) => {
    const named = roster.students.findIndex(({ name }) => name === who.trim());
    const index = named >= 0 ? named : /^\d{1,4}$/.test(who) ? Number(who) - 1 : -1;
    if (!outputs[index]) {
      const words = `The roster has no such student; give a number from 1 to ${roster.students.length}, or the name as it stands in the roster.`;
      issues.push(error('unknown-student', [], words));
    }
    return index;
  });
  if (issues.length > 0) return bad(...issues);
  return good(wanted.length === 0 ? outputs : outputs.filter((_, i) => chosen.includes(i)));
}

/** The date to print, or why it is none. */
export function printDate(date: string | undefined, terminal: Terminal): Result<string> {
  const wanted = date ?? terminal.today;
  if (isDate(wanted)) return good(wanted);
  return bad(error('date', [], `"${wanted}" is not a date; write year-month-day, such as "2026-03-01".`));
}

export function tellAndFail(issues: readonly Issue[], options: BatchOptions, terminal: Terminal): ExitCode {
  if (options.json) tellJson(terminal, { ok: false, issues, outputs: [] });
  else tellIssues(terminal, issues);
  return EXIT.mistakes;
}

export async function bookletsCommand(
  bookName: string,
  rosterName: string,
  options: BookletOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const opened = await openBookAnd(bookName, rosterName, 'a roster', readRoster, terminal, options.json === true);
  if (!opened.ok) return tellAndFail(opened.issues, options, terminal);
  const { book, other: roster } = opened.value;
  const date = printDate(options.date, terminal);
  if (!date.ok) return tellAndFail(date.issues, options, terminal);
  const outputs = chooseBooklets(book, roster, options.student, options.prove);
  if (!outputs.ok) return tellAndFail(outputs.issues, options, terminal);
  const out = options.out ?? '.';
  if (!options.json) tellIssues(terminal, opened.issues);
  const results = await inFolder(resolve(terminal.cwd, out), out, (folder) =>
    withPool({ kind: 'booklets', book, roster, date: date.value }, outputs.value.length, terminal.signal, (pool) =>
      makeOutputs(outputs.value, pool, folder, terminal, options),
    ),
  );
  if (!results.ok) return tellAndFail(results.issues, options, terminal);
  return tellResults(results.value, opened.issues, 'booklet', terminal, { ...options, files: false });
}
