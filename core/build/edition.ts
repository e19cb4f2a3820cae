/** The pipeline: a book and one of its editions → lines → pages. Painting them is the caller's last step. */

import { assert, good, type Issue, isError, type Result, under } from '../base/issue.js';
import { recomputedMap } from '../base/recomputed-map.js';
import type { Book, EditionSpec } from '../book/book.js';
import { type BreathedExercise, breatheExercise } from '../breath/breathe.js';
import { lungTime } from '../breath/lung-time.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Exercise } from '../exercise/exercise.js';
import type { EditionBreathing } from '../layout/edition.js';
import { editionDocument } from '../layout/edition-pages.js';
import type { Document } from '../layout/page/page.js';
import { exercisePaths, pageIssues } from '../layout/page/page-issues.js';
import { playerOf } from '../player/compass.js';
import type { Line } from '../player/line.js';
import type { Player } from '../player/player.js';
import { realise } from '../player/realise.js';

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

type Played = { readonly lines: ReadonlyMap<string, Line>; readonly breathing: EditionBreathing | undefined };

/**
 * Every exercise realised, and breathed where it has a tempo: no marks for an instrument without breath or an edition that
 * wants none. The first `HELD` exercises are held, the others made again when they are asked for.
 */
function playThrough(book: Book, { breath }: EditionSpec, player: Player): Result<Played> {
  const { print, manner, added, breather } = breath;
  const { instrument } = player;
  const general = print === 'none' ? good(undefined) : lungTime(breather, instrument);
  const exercises = new Map<string, Exercise>();
  const lines = new Map<string, Line>();
  const breaths = new Map<string, BreathedExercise>();
  const breathing: string[] = [];
  const issues: Issue[] = [];
  const breathIssues: Issue[] = [];

  function breathe(line: Line): Result<BreathedExercise | undefined> {
    const { dynamic } = line.exercise;
    const own = dynamic && general.ok && general.value ? lungTime(breather, instrument, { dynamic }) : general;
    return own.ok && own.value ? breatheExercise(line, own.value, { manner, added }) : good(undefined);
  }

  book.chapters.forEach((chapter, c) => {
    chapter.exercises.forEach((exercise, e) => {
      const { id } = exercise;
      const path = ['chapters', c, 'exercises', e];
      const line = realise(exercise, player);
      issues.push(...under(path, line.issues));
      if (!line.ok) return;
      exercises.set(id, exercise);
      if (lines.size < HELD) lines.set(id, line.value);
      const found = breathe(line.value);
      breathIssues.push(...under(path, found.issues));
      if (!found.ok || !found.value) return;
      breathing.push(id);
      if (breaths.size < HELD) breaths.set(id, found.value);
    });
  });
  if (!general.ok) issues.push(...general.issues);
  if (issues.some(isError)) return { ok: false, issues };

  const again = <T>(made: Result<T>): T => {
    assert(made.ok, 'what was made once can be made again');
    return made.value;
  };
  const allLines = recomputedMap([...exercises.keys()], (id) => again(realise(exercises.get(id) as Exercise, player)), lines);
  const allBreaths = recomputedMap(breathing, (id) => again(breathe(allLines.get(id) as Line)) as BreathedExercise, breaths);
  const lung = general.ok ? general.value : undefined;
  return good(
    { lines: allLines, breathing: lung && { lung, manner, added, ladders: print === 'marks-and-ladders', exercises: allBreaths } },
    [...issues, ...breathIssues],
  );
}

/** So many exercises of an edition are held as they were realised; those of a longer book are realised again when they are needed. */
const HELD = 256;

export function buildEdition(book: Book, spec: EditionSpec, fonts: Fonts): Result<BuiltEdition> {
  const player = playerOf(spec);
  if (!player.ok) return player;
  const played = playThrough(book, spec, player.value);
  if (!played.ok) return played;
  const { lines, breathing } = played.value;
  const document = editionDocument({ book, spec, player: player.value, lines, breathing }, fonts);
  const issues = [...player.issues, ...played.issues, ...pageIssues(document, exercisePaths(book))];
  return issues.some(isError) ? { ok: false, issues } : good({ spec, player: player.value, document, lines, breathing }, issues);
}
