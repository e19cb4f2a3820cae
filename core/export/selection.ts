/** What is exported for one player: exercises of a book as an edition has them. */
import { error, type Issue, isError, type Result, under } from '../base/issue.js';
import type { Book, EditionSpec } from '../book/book.js';
import { buildEdition } from '../build/edition.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Exercise } from '../exercise/exercise.js';
import { type Breaks, breaksOf } from '../output/breaks.js';
import { playerOf } from '../player/compass.js';
import type { Line } from '../player/line.js';
import { realise } from '../player/realise.js';

export type Selection = {
  readonly book: Book;
  readonly edition: EditionSpec;
  readonly lines: readonly Line[];
  /** Of the chapter or the book when it is all of one; else of the exercise. */
  readonly title: string;
  /** Begins every file name. */
  readonly stem: string;
  readonly fonts: Fonts;
};

/** Exercises with their places in the book. */
export type PlacedExercises = readonly { readonly exercise: Exercise; readonly path: Issue['path'] }[];

/**
 * The lines of an edition's player. What this player cannot play is an error where it is `asked` for by name, else it is told
 * and left out; error `nothing-to-export` where nothing is left.
 */
export function linesOf(exercises: PlacedExercises, edition: EditionSpec, asked: boolean): Result<readonly Line[]> {
  const player = playerOf(edition);
  if (!player.ok) return player;
  const issues: Issue[] = [...player.issues];
  const lines: Line[] = [];
  for (const { exercise, path } of exercises) {
    const line = realise(exercise, player.value);
    const told = under(path, line.issues);
    issues.push(...(asked ? told : told.map((issue): Issue => (isError(issue) ? { ...issue, severity: 'warning' } : issue))));
    if (line.ok) lines.push(line.value);
  }
  if (lines.length > 0) return { ok: true, value: lines, issues };
  const words = 'None of the exercises can be played by this player; choose another player or level.';
  return { ok: false, issues: asked ? issues : [...issues, error('nothing-to-export', [], words)] };
}

/** Where the edition's systems and pages begin, by exercise id; nothing for one that cannot be printed. */
export function printedBreaks({ book, edition, fonts }: Selection): ReadonlyMap<string, Breaks> {
  const built = buildEdition(book, edition, fonts);
  return built.ok ? breaksOf(built.value.document) : new Map();
}
