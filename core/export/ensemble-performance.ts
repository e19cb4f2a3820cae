/** An exercise as an ensemble sounds: a performance with one voice a chair, which breathes as its copy says. */

import { assert, bad, good, type Result, under } from '../base/issue.js';
import { heardMarks } from '../breath/policy.js';
import { breatheParts, breathTempo } from '../ensemble/copy-breathing.js';
import type { Chair, Ensemble } from '../ensemble/ensemble.js';
import type { NumberedExercise } from '../ensemble/ensemble-book.js';
import { planExercise } from '../ensemble/exercise-plan.js';
import { playedParts } from '../ensemble/part-lines.js';
import { tempoIssues, tempoOf } from '../exercise/tempo.js';
import { type Performance, type PerformanceOptions, perform } from '../output/sound/performance.js';

export type EnsembleSound = Pick<PerformanceOptions, 'countIn' | 'click'> & {
  /** Beats a minute; those at which the copies' breaths are printed when not said, 80 where nothing names a tempo. */
  readonly bpm?: number | undefined;
};

/**
 * One exercise as these chairs sound together, in their order, each with the breaths that its copy shows at this tempo. A
 * chair whose players breathe by turns sounds through: while one of them breathes, the others play. Issues with their place
 * in the book; what cannot be breathed is a warning and sounds without breaths.
 */
export function ensemblePerformances(
  ensemble: Ensemble,
  one: NumberedExercise,
  chairs: readonly Chair[],
  options: EnsembleSound = {},
): Result<readonly Performance[]> {
  const { exercise, path } = one;
  const { bpm, ...rest } = options;
  const asked: Ensemble = {
    ...ensemble,
    breathing: { ...ensemble.breathing, tempo: bpm ?? ensemble.breathing.tempo ?? tempoOf(exercise).bpm },
  };
  const tempo = breathTempo(exercise, asked);
  assert(tempo, 'a tempo is named');
  const wrong = tempoIssues(tempo);
  if (wrong.length > 0) return bad(...wrong);
  const plan = planExercise(exercise, ensemble);
  if (!plan.ok) return bad(...under(path, plan.issues));
  const played = playedParts(exercise, plan.value.parts);
  if (!played.ok) return bad(...under(path, played.issues));
  const breathed = breatheParts(exercise, asked, played.value);
  assert(breathed.ok, 'breaths that cannot be planned are warnings');
  const performances: Performance[] = [];
  for (const chair of chairs) {
    const part = breathed.value.find((one) => one.chair === chair);
    assert(part, 'the ensemble has this chair');
    const breathing = part.copies.length === 1 ? part.copies[0]?.breathing : undefined;
    const { line } = part;
    const performance = perform(line, { ...rest, tempo, ...(breathing ? { breaths: heardMarks(line, breathing) } : {}) });
    if (!performance.ok) return performance;
    performances.push(performance.value);
  }
  return good(performances, under(path, [...plan.issues, ...breathed.issues]));
}
