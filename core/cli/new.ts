/** `twelvefold new`: writes a small book to begin from; never over a file that exists. */
import { resolve } from 'node:path';
import { newBook } from '../book/template.js';
import { writeBook } from '../book/write.js';
import { fileIssue, writeTextSafely } from '../disk/files.js';
import { EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from './terminal.js';

export const BOOK_EXTENSION = '.twelvefold';
export const NEW_NAME = `my-book${BOOK_EXTENSION}`;

export async function newCommand(name: string, options: { readonly json?: boolean }, terminal: Terminal): Promise<ExitCode> {
  const shown = name.endsWith(BOOK_EXTENSION) ? name : `${name}${BOOK_EXTENSION}`;
  try {
    await writeTextSafely(resolve(terminal.cwd, shown), writeBook(newBook(terminal.today)), { replace: false, signal: terminal.signal });
  } catch (failure) {
    const issue = fileIssue(failure, shown);
    if (!issue) throw failure;
    if (options.json) tellJson(terminal, { ok: false, issues: [issue] });
    else tellIssues(terminal, [issue]);
    return EXIT.mistakes;
  }
  if (options.json) tellJson(terminal, { ok: true, issues: [], file: shown });
  else terminal.out(`Wrote ${shown}. Next: twelvefold build ${shown}\n`);
  return EXIT.ok;
}
