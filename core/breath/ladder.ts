/** The same line at faster and faster tempos: how many breaths it needs at each, and which fall away on the climb. */
import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import type { Line } from '../player/line.js';
import type { Fraction } from '../theory/fraction.js';
import type { LungTime } from './lung-time.js';
import { type Breath, type BreathOptions, type BreathPlan, breathPlan } from './plan.js';

/** `plan` is undefined where the air does not last however often one breathes. */
export type Rung = { readonly bpm: number; readonly plan: BreathPlan | undefined };

/** A breath of the working tempo; `fallsAway` when the goal tempo does without it: printed in parentheses. */
export type BreathMark = Breath & { readonly fallsAway: boolean };

export type Ladder = {
  readonly beat: Fraction;
  /** From slow to fast, each tempo once. */
  readonly rungs: readonly Rung[];
  /** Breaths of the working tempo, the slowest rung that has a plan. */
  readonly marks: readonly BreathMark[];
};

/**
 * Plans at each tempo. A faster rung never needs more breaths than a slower one, and it keeps to the places of the rung
 * below as far as that costs no further breath: number of breaths first, then places outside that set, then cost.
 * A rung whose air runs out is left without a plan and told as a warning; if that is so on every rung, the ladder fails.
 */
export function ladder(line: Line, beat: Fraction, tempos: readonly number[], lung: LungTime, options: BreathOptions): Result<Ladder> {
  if (tempos.length === 0) return bad(error('ladder-empty', ['tempo'], 'The ladder has no tempos: give at least one.'));
  const rungs: Rung[] = [];
  const issues: Issue[] = [];
  let below: BreathPlan | undefined;
  for (const bpm of [...new Set(tempos)].sort((a, b) => a - b)) {
    const found: Result<BreathPlan> = breathPlan(
      line,
      { beat, bpm },
      lung,
      options,
      below && { within: below.breaths, most: below.breaths.length },
    );
    if (!found.ok && found.issues.some((issue) => issue.code !== 'air-runs-out')) return found;
    issues.push(...found.issues);
    const plan = found.ok ? found.value : undefined;
    rungs.push({ bpm, plan });
    below = plan ?? below;
  }
  const planned = rungs.flatMap(({ plan }) => plan ?? []);
  const working = planned[0];
  if (!working) return bad(...issues);
  const atGoal = new Set(planned.at(-1)?.breaths.map((breath) => breath.afterEvent));
  const marks = working.breaths.map((breath) => ({ ...breath, fallsAway: !atGoal.has(breath.afterEvent) }));
  return good(
    { beat, rungs, marks },
    issues.map((issue) => ({ ...issue, severity: 'warning' })),
  );
}
