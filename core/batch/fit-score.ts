/** The systems of a score, set on the threads of a pool. */

import { assert } from '../base/issue.js';
import { mustGet } from '../base/list.js';
import { fittingOf } from '../build/score.js';
import type { ScorePlan } from '../build/score-staves.js';
import type { Fonts } from '../engrave/metrics.js';
import type { EnsembleBook } from '../ensemble/ensemble-book.js';
import type { FittedScore } from '../layout/score-fit.js';
import type { Pool } from './pool.js';

/** `onSet` hears of every exercise that is set. Rejects as `Pool.run` does. */
export async function fitScoreOn(
  pool: Pool,
  ensembleBook: EnsembleBook,
  plans: readonly ScorePlan[],
  fonts: Fonts,
  onSet: () => void = () => {},
): Promise<FittedScore> {
  const byId = new Map(plans.map((plan) => [plan.id, plan]));
  const fit = fittingOf(ensembleBook, plans, fonts);
  let next = fit.next();
  while (!next.done) {
    const { exercises, scale } = next.value;
    const systems = exercises.map(async (id) => {
      const done = await pool.run({ kind: 'systems', plan: mustGet(byId, id), scale });
      assert(done.systems, 'an exercise of a score has systems');
      onSet();
      return [id, done.systems] as const;
    });
    next = fit.next(new Map(await Promise.all(systems)));
  }
  return next.value;
}
