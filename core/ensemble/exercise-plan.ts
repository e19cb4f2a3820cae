/** One exercise for a whole ensemble: the same keys in the same order for all, each playable by all or dealt with for all. */

import { good, note, type Result } from '../base/issue.js';
import { first } from '../base/list.js';
import type { Exercise } from '../exercise/exercise.js';
import { keyId, planRoute } from '../exercise/route.js';
import { sungTones } from '../player/fit.js';
import { firstChroma } from '../player/realise.js';
import { chroma, midi } from '../theory/pitch.js';
import type { Ensemble } from './ensemble.js';
import { type ChairFit, fitChairs, placesOf, remedied } from './misfits.js';
import { type PlannedPart, ROOT, type SharedPlan, sharedRoute } from './part-plan.js';
import { type PartPlaces, planRegisters } from './part-registers.js';

export type ExercisePlan = {
  readonly shared: SharedPlan;
  /** In the order of the chairs. */
  readonly parts: readonly PlannedPart[];
};

type Players = Pick<Ensemble, 'chairs' | 'remedy' | 'start' | 'bonds'>;

/** Chroma above concert C that the ensemble begins on. */
function startOf(exercise: Exercise, { chairs, start }: Players): number {
  if (exercise.start.kind !== 'concert' && start) return chroma(start);
  return firstChroma(exercise, first(chairs).player);
}

/** Every place of every statement that the chair can choose from. */
function partPlaces(exercise: Exercise, shared: SharedPlan, fit: ChairFit, held: readonly string[]): PartPlaces {
  const stops = sharedRoute(exercise, shared).statements.map((statement) => {
    const id = keyId(statement.key);
    const tones = held.includes(id) ? ROOT : (shared.turned[id] ?? sungTones(exercise, statement.key.mode));
    return { statement, options: placesOf(tones, fit, statement.key).map((root) => ({ root, tones })) };
  });
  return { chair: fit.chair, player: fit.player, stops };
}

/**
 * Plans an exercise for the chairs. Issues: `set-does-not-fit` or `root-cannot-be-held` at ['figure'] when the remedy does
 * not help; note `set-changed` when it changed the exercise; warning `bond-broken` where chairs cannot stay together.
 */
export function planExercise(exercise: Exercise, players: Players): Result<ExercisePlan> {
  const from = startOf(exercise, players);
  const keys = [...new Map(planRoute(exercise, from).statements.map(({ key }) => [keyId(key), key])).values()];
  const all = fitChairs(exercise, keys, players.chairs);
  const found = remedied(all, players.remedy);
  if (!found.ok) return found;
  const { leftOut, turned, held, notes } = found.value;
  const shared: SharedPlan = { from, leftOut, turned, notes };
  const parts = all.chairs.map((fit) => {
    const own = held.get(fit.chair.id) ?? [];
    return { ...partPlaces(exercise, shared, fit, own), held: own, level: fit.level };
  });
  const registers = planRegisters(exercise, parts, players.bonds);
  const planned = registers.parts.map(
    ({ chair, roots, held, level }): PlannedPart => ({ chair, plan: { shared, roots: roots.map(midi), held, level } }),
  );
  const told = notes.map((words) => note('set-changed', [], `"${exercise.title || exercise.id}": ${words}`));
  return good({ shared, parts: planned }, [...told, ...registers.issues]);
}
