/** A book of the project's own as its readers get it: one edition of it, laid out whole. */
import { readFileSync } from 'node:fs';
import { readBookSource } from '../../core/book/read.js';
import { resolveBook } from '../../core/book/resolve.js';
import type { BookSource } from '../../core/book/schema.js';
import { type BuiltEdition, buildEdition } from '../../core/build/edition.js';
import { testFonts } from '../fonts.js';

/** An edition of `assets/books/<name>.twelvefold`, with other house rules where some are given. */
export function realEdition(name: string, instrument: string, house: BookSource['house'] = {}): BuiltEdition {
  const source = readBookSource(readFileSync(new URL(`../../assets/books/${name}.twelvefold`, import.meta.url), 'utf8'));
  if (!source.ok) throw new Error(`${name} cannot be read`);
  const book = resolveBook({ ...source.value, house: { ...source.value.house, ...house } });
  const spec = book.ok ? book.value.editions.find((edition) => edition.instrument === instrument) : undefined;
  if (!book.ok || !spec) throw new Error(`${name} has no edition for ${instrument}`);
  const built = buildEdition(book.value, spec, testFonts());
  if (!built.ok) throw new Error(built.issues.map(({ message }) => message).join('\n'));
  return built.value;
}
