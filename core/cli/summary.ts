/** `twelvefold summary`: the teacher's page of students, exercises and tempos. */
import { resolve } from 'node:path';
import { slug } from '../base/file-name.js';
import { doJob } from '../batch/work.js';
import { fileIssue, inFolder, writeSafely } from '../disk/files.js';
import { openedFonts } from '../disk/fonts.js';
import { readRoster } from '../people/read.js';
import { type BatchOptions, tellResults } from './batch.js';
import { printDate, tellAndFail } from './booklets.js';
import { openBookAnd } from './companion.js';
import { type ExitCode, type Terminal, tellIssues } from './terminal.js';

export async function summaryCommand(
  bookName: string,
  rosterName: string,
  options: BatchOptions & { readonly date?: string },
  terminal: Terminal,
): Promise<ExitCode> {
  const opened = await openBookAnd(bookName, rosterName, 'a roster', readRoster, terminal, options.json === true);
  if (!opened.ok) return tellAndFail(opened.issues, options, terminal);
  const { book, other: roster } = opened.value;
  const date = printDate(options.date, terminal);
  if (!date.ok) return tellAndFail(date.issues, options, terminal);
  const out = options.out ?? '.';
  if (!options.json) tellIssues(terminal, opened.issues);
  const fonts = openedFonts();
  const done = await doJob({ kind: 'booklets', book, roster, date: date.value }, { kind: 'summary' }, fonts, () => {});
  const { bytes } = done;
  const file = `${slug(book.title)}-summary.pdf`;
  if (!bytes) return tellAndFail(done.issues, options, terminal);
  const write = (folder: string) =>
    writeSafely(resolve(folder, file), (sink) => void sink.end(bytes), { signal: terminal.signal, inFolder: true });
  try {
    const written = await inFolder(resolve(terminal.cwd, out), out, write);
    if (!written.ok) return tellAndFail(written.issues, options, terminal);
  } catch (failure) {
    const issue = fileIssue(failure, file);
    if (!issue) throw failure;
    return tellAndFail([issue], options, terminal);
  }
  const result = { label: 'summary', file, pages: done.pages, issues: done.issues };
  return tellResults([result], opened.issues, 'summary', terminal, { ...options, files: true });
}
