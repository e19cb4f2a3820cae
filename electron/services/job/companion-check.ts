/** Rosters and ensembles held against the book that is open: faults at their place, and what follows for each player. */

import { bad, error, good, type Result } from '../../../core/base/issue.js';
import type { Book } from '../../../core/book/book.js';
import { breatherOf } from '../../../core/book/breath.js';
import type { JsonObject } from '../../../core/book/json.js';
import { lungTime } from '../../../core/breath/lung-time.js';
import type { Ensemble } from '../../../core/ensemble/ensemble.js';
import { copiesOfChair } from '../../../core/ensemble/ensemble-book.js';
import { resolveEnsemble } from '../../../core/ensemble/read.js';
import { assignedTo } from '../../../core/people/assignment.js';
import { resolveRoster } from '../../../core/people/read.js';
import type { Roster } from '../../../core/people/roster.js';
import type { StudentSource } from '../../../core/people/schema.js';
import { instrumentById } from '../../../core/player/catalogue.js';
import type { EnsembleView, ExerciseName, RosterView, StudentView } from '../contract/answers/people.js';
import { companionShape } from '../disk/companion-shape.js';

const noBook = () => error('no-book', [], 'The book has faults that hide its exercises; mend them first.');

function exerciseNames(book: Book): ExerciseName[] {
  const all = book.chapters.flatMap((chapter) => chapter.exercises);
  return all.map(({ id, title }, i) => ({ id, title, number: i + 1 }));
}

function lungWords({ instrument: id, breath }: StudentSource): string {
  const instrument = instrumentById(id);
  const lung = instrument.ok ? lungTime(breath ? breatherOf(breath) : {}, instrument.value) : undefined;
  return lung?.ok ? (lung.value?.words ?? '') : '';
}

/** A roster as it stands in the window → the roster for this book. */
export function rosterOf(file: Readonly<JsonObject>, book: Book | undefined): Result<Roster> {
  const shape = companionShape('roster', file);
  if (!shape.ok) return shape;
  return book ? resolveRoster(shape.value, book) : bad(noBook());
}

export function ensembleOf(file: Readonly<JsonObject>, book: Book | undefined): Result<Ensemble> {
  const shape = companionShape('ensemble', file);
  if (!shape.ok) return shape;
  return book ? resolveEnsemble(shape.value, book) : bad(noBook());
}

export function checkRoster(file: Readonly<JsonObject>, book: Book | undefined): Result<RosterView> {
  const shape = companionShape('roster', file);
  const sources: readonly StudentSource[] = shape.ok ? shape.value.students : [];
  const roster = rosterOf(file, book);
  const whole = roster.ok && book ? roster.value.students.map((_, i) => assignedTo(book, roster.value, i)) : [];
  const students = sources.map((student, i): StudentView => {
    const assigned = (whole[i]?.assigned ?? []).map(({ exercise, tempo }) => ({ id: exercise.id, now: tempo?.now, goal: tempo?.goal }));
    return { lung: lungWords(student), assigned };
  });
  const unknown = shape.ok ? shape.issues : [];
  const issues = [...unknown, ...roster.issues, ...whole.flatMap((one) => one.issues)];
  return good({ issues, exercises: book ? exerciseNames(book) : [], students });
}

export function checkEnsemble(file: Readonly<JsonObject>, book: Book | undefined): Result<EnsembleView> {
  const shape = companionShape('ensemble', file);
  const ensemble = ensembleOf(file, book);
  const chairs = ensemble.ok
    ? ensemble.value.chairs.map((chair) => ({
        id: chair.id,
        name: chair.name,
        short: chair.short,
        copies: copiesOfChair(chair, ensemble.value).length,
      }))
    : [];
  return good({ issues: [...(shape.ok ? shape.issues : []), ...ensemble.issues], exercises: book ? exerciseNames(book) : [], chairs });
}
