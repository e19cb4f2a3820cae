/** Breathing together: one plan for the whole ensemble, for the shortest lungs among its players. */

import { assert, good, type Result } from '../base/issue.js';
import type { BreathMark } from '../breath/ladder.js';
import type { LungTime } from '../breath/lung-time.js';
import { breathPlan } from '../breath/plan.js';
import type { Beats } from '../exercise/tempo.js';
import type { Line } from '../player/line.js';
import { add, text } from '../theory/fraction.js';
import type { BreathingPlayer } from './air-timeline.js';

/** The shortest lungs, with a breath long enough for whoever must breathe out first. */
export function commonLung(lungs: readonly LungTime[]): LungTime {
  const [first, ...others] = lungs;
  assert(first, 'an ensemble has a player who breathes');
  const shortest = others.reduce((a, b) => (b.seconds < a.seconds ? b : a), first);
  const leastBreath = Math.max(...lungs.map((lung) => lung.leastBreath));
  return { ...shortest, leastBreath, words: `${shortest.words}; the shortest in the ensemble` };
}

/**
 * Marks for each player at the same places, with `common` the line whose notes all can breathe after: where some part
 * holds a root, the held notes of all. Missing air does not depend on the size of the lungs, so a plan that serves the
 * shortest serves all. Fails as `breathPlan` does.
 */
export function breatheTogether(
  players: readonly BreathingPlayer[],
  common: Line,
  tempo: Beats,
): Result<readonly (readonly BreathMark[])[]> {
  const lung = commonLung(players.map((player) => player.lung));
  const plan = breathPlan(common, tempo, lung, { manner: 'in-time' });
  if (!plan.ok) return plan;
  const marks = players.map(({ line }) => {
    const ends = new Map(line.events.map((event) => [text(add(event.onset, event.duration)), event.index]));
    return plan.value.breaths.map((breath): BreathMark => {
      const afterEvent = ends.get(text(breath.onset));
      assert(afterEvent !== undefined, 'every part has a note that ends where all breathe');
      return { ...breath, afterEvent, fallsAway: false };
    });
  });
  return good(marks, plan.issues);
}
