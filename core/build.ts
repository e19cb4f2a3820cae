/** The pipeline: a book and one of its editions → lines → pages. Painting them is the caller's last step. */
import type { Book, EditionSpec } from './book/book.js';
import { type BreathedExercise, breatheExercise } from './breath/breathe.js';
import { lungTime } from './breath/lung-time.js';
import type { Fonts } from './engrave/metrics.js';
import { good, type Issue, isError, type Result, under } from './issue.js';
import type { EditionBreathing } from './layout/edition.js';
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
  readonly breathing: EditionBreathing | undefined;
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

/** Breath marks for every exercise that has a tempo; undefined for an instrument without breath or an edition without marks. */
export function breatheBook(
  book: Book,
  spec: EditionSpec,
  player: Player,
  lines: ReadonlyMap<string, Line>,
): Result<EditionBreathing | undefined> {
  const { print, manner, added, breather } = spec.breath;
  if (print === 'none') return good(undefined);
  const lung = lungTime(breather, player.instrument);
  if (!lung.ok) return lung;
  if (!lung.value) return good(undefined);
  const exercises = new Map<string, BreathedExercise>();
  const issues: Issue[] = [];
  book.chapters.forEach((chapter, c) => {
    chapter.exercises.forEach(({ id, dynamic }, e) => {
      const line = lines.get(id);
      if (!line) return;
      const own = lungTime(breather, player.instrument, { dynamic });
      if (!own.ok || !own.value) return;
      const found = breatheExercise(line, own.value, { manner, added });
      issues.push(...under(['chapters', c, 'exercises', e], found.issues));
      if (found.ok && found.value) exercises.set(id, found.value);
    });
  });
  return good({ lung: lung.value, manner, added, ladders: print === 'marks-and-ladders', exercises }, issues);
}

export function buildEdition(book: Book, spec: EditionSpec, fonts: Fonts): Result<BuiltEdition> {
  const player = playerOf(spec);
  if (!player.ok) return player;
  const lines = realiseBook(book, player.value);
  if (!lines.ok) return lines;
  const breathing = breatheBook(book, spec, player.value, lines.value);
  if (!breathing.ok) return breathing;
  const document = editionDocument({ book, spec, player: player.value, lines: lines.value, breathing: breathing.value }, fonts);
  return good({ spec, player: player.value, document, lines: lines.value, breathing: breathing.value }, [
    ...player.issues,
    ...lines.issues,
    ...breathing.issues,
  ]);
}
