/** The pipeline: a book and one of its editions → lines → pages. Painting them is the caller's last step. */
import type { Book, EditionSpec } from './book/book.js';
import type { Fonts } from './engrave/metrics.js';
import { good, type Issue, isError, type Result, under } from './issue.js';
import { editionDocument } from './layout/edition-pages.js';
import type { Document } from './layout/page.js';
import { playerOf } from './player/compass.js';
import type { Line } from './player/line.js';
import type { Player } from './player/player.js';
import { realise } from './player/realise.js';

export type BuiltEdition = {
  readonly spec: EditionSpec;
  readonly player: Player;
  readonly document: Document;
  /** By exercise id. */
  readonly lines: ReadonlyMap<string, Line>;
};

/** Every exercise of the book realised for one player. An exercise that cannot be played is an error with its place. */
export function realiseBook(book: Book, player: Player): Result<ReadonlyMap<string, Line>> {
  const lines = new Map<string, Line>();
  const issues: Issue[] = [];
  book.chapters.forEach((chapter, c) => {
    chapter.exercises.forEach((exercise, e) => {
      const line = realise(exercise, player);
      issues.push(...under(['chapters', c, 'exercises', e], line.issues));
      if (line.ok) lines.set(exercise.id, line.value);
    });
  });
  return issues.some(isError) ? { ok: false, issues } : good(lines, issues);
}

export function buildEdition(book: Book, spec: EditionSpec, fonts: Fonts): Result<BuiltEdition> {
  const player = playerOf(spec);
  if (!player.ok) return player;
  const lines = realiseBook(book, player.value);
  if (!lines.ok) return lines;
  const document = editionDocument({ book, spec, player: player.value, lines: lines.value }, fonts);
  return good({ spec, player: player.value, document, lines: lines.value }, [...player.issues, ...lines.issues]);
}
