/** Reading a book: text → JSON → present version → right shape → right meaning. Each step tells everything it finds wrong. */
import { good, type Result } from '../base/issue.js';
import type { Book } from './book.js';
import { type JsonObject, parseJson } from './json.js';
import { migrate } from './migrations.js';
import { resolveBook } from './resolve.js';
import { type BookSource, checkShape } from './schema.js';

/** Text of a book file of any version → its raw fields in the present version, not yet checked. Paths of issues lead into these fields. */
export function openBook(text: string): Result<JsonObject> {
  const json = parseJson(text);
  return json.ok ? migrate(json.value) : json;
}

/** Text of a book file → its fields, checked for shape only: what an editor holds and saves. */
export function readBookSource(text: string): Result<BookSource> {
  const file = openBook(text);
  return file.ok ? checkShape(file.value) : file;
}

/** Text of a book file → the book, every default filled in. Warnings come with a book that can be used. */
export function readBook(text: string): Result<Book> {
  const source = readBookSource(text);
  if (!source.ok) return source;
  const book = resolveBook(source.value);
  const issues = [...source.issues, ...book.issues];
  return book.ok ? good(book.value, issues) : { ok: false, issues };
}
