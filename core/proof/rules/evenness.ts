/** Rule 19: systems of one exercise hold comparable amounts and are set alike, in an edition and in the parts of a set. */
import type { Fault } from '../fault.js';
import { alike, type Bars, leastUneven } from '../least-uneven.js';
import { type PlacedExercise, type PlacedSystem, round, systemFault } from '../placed-system.js';
import { LIMIT } from '../tolerance.js';
import { type Advance, factorOf, justified, ratioOf } from './spacing.js';

/** What is uneven in the systems of an exercise in one part, and its bars as they can be broken. */
export type UnevenSystems = { readonly faults: readonly Fault[]; readonly bars: () => Bars };

const classOf = (ratio: number): number => LIMIT.fitness.filter((border) => ratio > border).length;

/** Fitness classes between two ratios, each taken toward the other by what reading them may be off. */
function classesApart(a: number, b: number): number {
  const toward = Math.sign(b - a) * LIMIT.classBorder;
  return Math.abs(classOf(a + toward) - classOf(b - toward));
}

const barsOf = (at: PlacedSystem): number => at.reading.barlines.length;

/** A last system left at natural width is no neighbour to compare with. `bars` are asked for only where something is uneven. */
export function unevenSystems(exercise: PlacedExercise, advances: readonly (readonly Advance[])[], bars: () => Bars): UnevenSystems {
  const faults: Fault[] = [];
  const filled = exercise.systems
    .map((at, i) => ({ at, factor: factorOf(advances[i] as readonly Advance[]) }))
    .filter(({ at }) => justified(at));
  const [least, most] = LIMIT.ratio;
  const ratios = filled.map(({ factor }) => (factor === undefined ? undefined : ratioOf(factor)));
  filled.forEach(({ at }, i) => {
    const ratio = ratios[i];
    if (ratio !== undefined && (ratio < least - LIMIT.classBorder || ratio > most + LIMIT.classBorder)) {
      const what = `The system is set too ${ratio < least ? 'tight' : 'loose'}.`;
      faults.push(systemFault(19, at, undefined, what, { amount: round(ratio), limit: ratio < least ? least : most, unit: 'ratio' }));
    }
    const next = filled[i + 1];
    const other = ratios[i + 1];
    if (!next) return;
    if (ratio !== undefined && other !== undefined && classesApart(ratio, other) > 1) {
      const what = 'The next system is set much tighter or looser than this one.';
      faults.push(systemFault(19, at, undefined, what, { amount: round(Math.abs(ratio - other)), limit: 1, unit: 'ratio' }));
    }
    const apart = Math.abs(barsOf(at) - barsOf(next.at));
    if (apart > LIMIT.barCount && alike(bars(), at.firstBar, next.at.firstBar + barsOf(next.at))) {
      const what = 'The next system has many more or fewer bars than this one, and they are alike.';
      faults.push(systemFault(19, at, undefined, what, { amount: apart, limit: LIMIT.barCount, unit: 'count' }));
    }
  });
  return { faults, bars };
}

/**
 * Rule 19, by part; an edition is a set of one. Where no breaking is even, the one that departs least is right, and the
 * build tells why. The parts of a set break at the same bars: then that counts which departs least in all parts together.
 */
export function evenness(parts: readonly UnevenSystems[]): (readonly Fault[])[] {
  const found = parts.reduce((sum, { faults }) => sum + faults.length, 0);
  const excused = found > 0 && found <= leastUneven(parts.map(({ bars }) => bars()));
  return parts.map(({ faults }) => (excused ? [] : faults));
}
