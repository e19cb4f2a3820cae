/** The systems of a score, set on the threads of a pool. */

import { assert } from '../base/issue.js';
import type { Book } from '../book/book.js';
import { fittingOf, type ScorePlan } from '../build/score.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Ensemble } from '../ensemble/ensemble.js';
import type { FittedScore } from '../layout/score-fit.js';
import type { Pool } from './pool.js';

/** `onSet` hears of every exercise that is set. Rejects as `Pool.run` does. */
export async function fitScoreOn(
  pool: Pool,
  book: Book,
  ensemble: Ensemble,
  plans: readonly ScorePlan[],
  fonts: Fonts,
  onSet: () => void = () => {},
): Promise<FittedScore> {
  const fit = fittingOf(book, ensemble, plans, fonts);
  let next = fit.next();
  while (!next.done) {
    const { exercises, scale } = next.value;
    const systems = await Promise.all(
      exercises.map(async (index) => {
        const done = await pool.run({ kind: 'systems', index, plan: plans[index] as ScorePlan, scale });
        assert(done.systems, 'an exercise of a score has systems');
        onSet();
        return done.systems;
      }),
    );
    next = fit.next(systems);
  }
  return next.value;
}
