/** Opening a book file for a command. */
import { resolve } from 'node:path';
import type { Result } from '../base/issue.js';
import type { Book } from '../book/book.js';
import { type JsonObject, MAX_LENGTH } from '../book/json.js';
import { openBook, readBook } from '../book/read.js';
import { readText } from '../disk/files.js';
import type { Terminal } from './terminal.js';

export type Opened = {
  readonly book: Result<Book>;
  /** The raw fields, for showing the text that an issue points at; undefined when the file is no book at all. */
  readonly file: JsonObject | undefined;
};

export async function openFile(name: string, terminal: Terminal): Promise<Opened> {
  // No UTF-8 text has fewer bytes than UTF-16 units, and none has more than three to a unit.
  const text = await readText(resolve(terminal.cwd, name), 3 * MAX_LENGTH, name);
  if (!text.ok) return { book: text, file: undefined };
  const raw = openBook(text.value);
  return { book: readBook(text.value), file: raw.ok ? raw.value : undefined };
}
