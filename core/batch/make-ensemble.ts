/** The work of an ensemble on a pool: every exercise laid out for all chairs, the score fitted, then an output for each file. */

import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import { mustGet } from '../base/list.js';
import { copyExercises, type ExerciseLayout } from '../build/ensemble-layout.js';
import { scorePlan } from '../build/score-staves.js';
import { sharedPages } from '../build/shared-pages.js';
import type { Fonts } from '../engrave/metrics.js';
import { type Copy, type EnsembleBook, ensembleStems } from '../ensemble/ensemble-book.js';
import type { Proof } from '../proof/proof.js';
import { FAILED, type Output, type OutputResult, outputFailed } from './batch.js';
import { fitScoreOn } from './fit-score.js';
import { JobFailure } from './job-failure.js';
import type { Pool } from './pool.js';

export type LaidOut = { readonly layouts: readonly ExerciseLayout[]; readonly issues: readonly Issue[] };

/** `onDone` hears how many exercises are laid out. Layouts are missing where an exercise has an error. */
export async function layOutEnsemble(
  pool: Pool,
  { exercises }: EnsembleBook,
  onDone: (done: number, total: number) => void,
): Promise<LaidOut> {
  let done = 0;
  const all = await Promise.all(
    exercises.map(async ({ path }, index) => {
      try {
        return await pool.run({ kind: 'exercise', index });
      } catch (failure) {
        if (!(failure instanceof JobFailure)) throw failure;
        const words = `This exercise could not be laid out because of a fault of Twelvefold; please report it with the book file and this line: ${failure.message}`;
        return { layout: undefined, issues: [error(FAILED, path, words)] };
      } finally {
        onDone(++done, exercises.length);
      }
    }),
  );
  return { layouts: all.flatMap(({ layout }) => layout ?? []), issues: all.flatMap(({ issues }) => issues) };
}

/** The parts of the copies that are wanted. All chairs are laid out, whichever are printed: their systems and pages are the same. */
export function partOutputs(
  ensembleBook: EnsembleBook,
  layouts: readonly ExerciseLayout[],
  fonts: Fonts,
  isWanted: (copy: Copy) => boolean = () => true,
): Output[] {
  const pages = sharedPages(ensembleBook, layouts, fonts);
  const stems = ensembleStems(ensembleBook).copies;
  return ensembleBook.copies.filter(isWanted).map((copy): Output => {
    const job = { kind: 'part', copy: copy.id, exercises: copyExercises(layouts, copy), pages } as const;
    return { job, file: `${mustGet(stems, copy.id)}.pdf`, label: copy.name };
  });
}

/** The systems of the score on all threads, then the score as an output; a score that failed is a result already. */
export async function scoreOutput(
  pool: Pool,
  ensembleBook: EnsembleBook,
  layouts: readonly ExerciseLayout[],
  fonts: Fonts,
  onSet: () => void,
): Promise<Output | OutputResult> {
  const plans = layouts.map((layout) => scorePlan(layout, ensembleBook.ensemble));
  const label = 'Score';
  try {
    const fitted = await fitScoreOn(pool, ensembleBook, plans, fonts, onSet);
    return { job: { kind: 'score', plans, fitted }, file: `${ensembleStems(ensembleBook).score}.pdf`, label };
  } catch (failure) {
    if (!(failure instanceof JobFailure)) throw failure;
    return { label, file: undefined, pages: 0, issues: [outputFailed(label, failure)] };
  }
}

/** The proofs of all parts, by copy; undefined where a part cannot be made, which its own output tells. */
export async function partProofs(pool: Pool, layouts: readonly ExerciseLayout[]): Promise<Result<readonly Proof[] | undefined>> {
  try {
    const { proofs } = await pool.run({ kind: 'parts-proof', layouts });
    return good(proofs);
  } catch (failure) {
    if (!(failure instanceof JobFailure)) throw failure;
    const words = `The parts were not proved because of a fault of Twelvefold; please report it with the book file and this line: ${failure.message}`;
    return bad(error(FAILED, [], words));
  }
}
