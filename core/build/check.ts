/** The quick part of a check: every exercise realised for the players of a book, without a page. */

import { type Issue, under } from '../base/issue.js';
import type { Book, EditionSpec } from '../book/book.js';
import { playerOf } from '../player/compass.js';
import { realiseBook } from './edition.js';

/** What goes wrong when the book is carried through the keys for the player of one edition, with paths into the book. */
export function checkEdition(book: Book, index: number): Issue[] {
  const player = playerOf(book.editions[index] as EditionSpec);
  const before = under(['editions', index], player.issues);
  return player.ok ? [...before, ...realiseBook(book, player.value).issues] : before;
}

export const checkLines = (book: Book): Issue[] => book.editions.flatMap((_, i) => checkEdition(book, i));
