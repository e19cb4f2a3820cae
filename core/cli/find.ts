/** The exercise, the edition and the line that a command's options name. */

import { bad, error, good, type Result, under } from '../base/issue.js';
import { didYouMean } from '../base/nearest.js';
import type { Book, EditionSpec } from '../book/book.js';
import { LEVEL_DEFAULT } from '../book/defaults.js';
import type { Exercise, Level } from '../exercise/exercise.js';
import { instrumentById } from '../player/catalogue.js';
import type { Line } from '../player/line.js';
import { realise } from '../player/realise.js';
import { editionPlayer } from './check.js';

/** One exercise for one instrument; the level chooses among the book's editions or stands for a missing one. */
export type LineOptions = { readonly exercise: string; readonly player: string; readonly level?: Level };

export function findExercise(book: Book, id: string): Result<{ exercise: Exercise; path: readonly (string | number)[] }> {
  const all = book.chapters.flatMap((chapter, c) =>
    chapter.exercises.map((exercise, e) => ({ exercise, path: ['chapters', c, 'exercises', e] })),
  );
  const found = all.find((it) => it.exercise.id === id);
  if (found) return good(found);
  const ids = all.map((it) => it.exercise.id);
  const remedy = didYouMean(id, ids) || `; choose one of ${ids.slice(0, 12).join(', ')}${ids.length > 12 ? ' …' : '.'}`;
  return bad(error('unknown-exercise', [], `The book has no exercise "${id}"${remedy}`));
}

/** The edition of the book for this instrument (and level, if one is given); one with the program's defaults if the book has none. */
export function findEdition(book: Book, instrument: string, level: Level | undefined): EditionSpec {
  const own = book.editions.find((edition) => edition.instrument === instrument && (level === undefined || edition.level === level));
  const plain = { compass: undefined, spelling: book.spelling, staff: undefined, page: undefined, breath: book.breath };
  return own ?? { instrument, level: level ?? LEVEL_DEFAULT, ...plain };
}

export function lineOf(book: Book, options: LineOptions): Result<Line> {
  const instrument = instrumentById(options.player);
  if (!instrument.ok) return instrument;
  const found = findExercise(book, options.exercise);
  if (!found.ok) return found;
  const player = editionPlayer(findEdition(book, instrument.value.id, options.level));
  if (!player.ok) return player;
  const line = realise(found.value.exercise, player.value);
  return { ...line, issues: under(found.value.path, line.issues) };
}
