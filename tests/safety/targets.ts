/** The kinds of files that the program reads, each with good ones to be damaged and the way they are read. */
import { readdirSync, readFileSync } from 'node:fs';
import type { Result } from '../../core/base/issue.js';
import type { Book } from '../../core/book/book.js';
import { MAX_LENGTH } from '../../core/book/json.js';
import { readBook } from '../../core/book/read.js';
import { readText } from '../../core/disk/files.js';
import { readEnsemble } from '../../core/ensemble/read.js';
import { readRoster } from '../../core/people/read.js';

const FOLDER = 'assets/books';

const good = (ending: string): string[] =>
  readdirSync(FOLDER)
    .filter((name) => name.endsWith(ending))
    .sort()
    .map((name) => readFileSync(`${FOLDER}/${name}`, 'utf8'));

/** The book that ensembles and rosters are read with. */
export function companionBook(): Book {
  const book = readBook(readFileSync(`${FOLDER}/small-wheels.twelvefold`, 'utf8'));
  if (!book.ok) throw new Error('the demo book cannot be read');
  return book.value;
}

export type Target = { readonly name: string; readonly files: readonly string[]; readonly read: (text: string) => Result<unknown> };

export function targets(): readonly Target[] {
  const book = companionBook();
  return [
    { name: 'book', files: good('.twelvefold'), read: readBook },
    { name: 'ensemble', files: good('.ensemble'), read: (text) => readEnsemble(text, book) },
    { name: 'roster', files: good('.roster'), read: (text) => readRoster(text, book) },
  ];
}

/** Reads a file from the disk as every command does. */
export async function answerTo(target: Target, path: string): Promise<Result<unknown>> {
  const text = await readText(path, 3 * MAX_LENGTH);
  return text.ok ? target.read(text.value) : text;
}
