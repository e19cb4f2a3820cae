/** Opening a book together with a file that stands beside it. */
import { resolve } from 'node:path';
import { good, type Result } from '../base/issue.js';
import type { Book } from '../book/book.js';
import { MAX_LENGTH } from '../book/json.js';
import { readText } from '../disk/files.js';
import { openFile } from './open.js';
import { type Terminal, tellIssues } from './terminal.js';

export type BookAnd<T> = { readonly book: Book; readonly other: T };

/** Faults of the book are told with the book's own text; those of the other file come back. Warnings of the book are the business of `check`. */
export async function openBookAnd<T>(
  bookName: string,
  otherName: string,
  what: string,
  read: (text: string, book: Book) => Result<T>,
  terminal: Terminal,
  quiet: boolean,
): Promise<Result<BookAnd<T>>> {
  const { book, file } = await openFile(bookName, terminal);
  if (!book.ok) {
    if (!quiet) tellIssues(terminal, book.issues, file);
    return { ok: false, issues: quiet ? book.issues : [] };
  }
  const text = await readText(resolve(terminal.cwd, otherName), 3 * MAX_LENGTH, otherName, what);
  if (!text.ok) return text;
  const other = read(text.value, book.value);
  return other.ok ? good({ book: book.value, other: other.value }, other.issues) : other;
}
