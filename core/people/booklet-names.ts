/** Names of the files of booklets: safe, distinct, and known before a page is set. */

import { distinct, slug } from '../base/file-name.js';
import type { Book } from '../book/book.js';
import type { Roster } from './roster.js';

/** Stems of the booklets' files, in order: book, student, instrument. */
export const bookletStems = (book: Book, roster: Roster): string[] =>
  distinct(roster.students.map(({ name, player }, i) => `${slug(book.title)}-${nameSlug(name, i)}-${slug(player.instrument.name)}`));

/** Of a name that has no letter for a file name, the number in the roster. */
function nameSlug(name: string, index: number): string {
  const plain = slug(name);
  return /[\p{L}\p{N}]/u.test(name) && plain !== 'book' ? plain.slice(0, 40).replace(/-+$/, '') : `student-${index + 1}`;
}
