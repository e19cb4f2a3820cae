/** The last stage of an ensemble's parts: one copy as a finished edition, which can be painted and proved. */

import { good, type Issue, isError, type Result } from '../base/issue.js';
import type { Fonts } from '../engrave/metrics.js';
import { type Copy, chairSpec, type EnsembleBook, ofExercise } from '../ensemble/ensemble-book.js';
import { partLine } from '../ensemble/part-lines.js';
import type { Match } from '../layout/edition.js';
import { editionDocument } from '../layout/edition-pages.js';
import { exercisePaths, pageIssues } from '../layout/page/page-issues.js';
import type { Line } from '../player/line.js';
import type { BuiltEdition } from './edition.js';
import { type CopyExercise, copyExercises, type ExerciseLayout } from './ensemble-layout.js';
import { type PartBreathing, partBreathing } from './part-breaths.js';
import { type SharedPages, sharedPages } from './shared-pages.js';

/** A copy and what it has of each exercise. */
export type CopyContent = { readonly copy: Copy; readonly exercises: readonly CopyExercise[] };

/** An edition as built; `part` is the name of the copy. */
export type BuiltPart = Omit<BuiltEdition, 'breathing'> & { readonly part: string; readonly breathing: PartBreathing | undefined };

/** One copy on the pages that all share. */
export function buildPart(
  ensembleBook: EnsembleBook,
  { copy, exercises }: CopyContent,
  pages: SharedPages,
  fonts: Fonts,
): Result<BuiltPart> {
  const { book, ensemble } = ensembleBook;
  const { chair, name: part } = copy;
  const own = ensembleBook.exercises.map((one) => ({ ...ofExercise(exercises, one), exercise: one.exercise }));
  const lines = new Map<string, Line>();
  for (const { id, exercise, plan } of own) {
    const line = partLine(exercise, { chair, plan });
    if (!line.ok) return line;
    lines.set(id, line.value);
  }
  const match: Match = {
    part,
    systems: new Map(own.map(({ id, systems }) => [id, systems])),
    notes: new Map(own.map(({ id, plan }) => [id, plan.shared.notes])),
    ...pages,
  };
  const { player } = chair;
  const spec = chairSpec(book, chair);
  const breathing = partBreathing(ensemble, copy, own);
  const document = editionDocument({ book, spec, player, lines, breathing, match }, fonts);
  // What is uneven was told of once for all parts.
  const issues = pageIssues(document, exercisePaths(book)).filter(({ code }) => code !== 'uneven-systems');
  return issues.some(isError) ? { ok: false, issues } : good({ part, spec, player, document, lines, breathing }, issues);
}

/** All copies, in their order. */
export function buildParts(ensembleBook: EnsembleBook, layouts: readonly ExerciseLayout[], fonts: Fonts): Result<readonly BuiltPart[]> {
  const pages = sharedPages(ensembleBook, layouts, fonts);
  const parts: BuiltPart[] = [];
  const issues: Issue[] = [];
  for (const copy of ensembleBook.copies) {
    const part = buildPart(ensembleBook, { copy, exercises: copyExercises(layouts, copy) }, pages, fonts);
    issues.push(...part.issues);
    if (part.ok) parts.push(part.value);
  }
  return issues.some(isError) ? { ok: false, issues } : good(parts, issues);
}
