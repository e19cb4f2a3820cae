/** Rule 19: systems of one exercise hold comparable amounts and are set alike, in an edition and in the parts of an ensemble. */
import type { ExerciseSummary, SystemSummary } from '../exercise-summary.js';
import type { Finding } from '../fault.js';
import { alike, type Bars, leastUneven } from '../least-uneven.js';
import { round, systemFinding } from '../placed-system.js';
import type { Rule } from '../rule.js';
import { LIMIT } from '../tolerance.js';

/** What is uneven in the systems of an exercise in one part, and its bars as they can be broken. */
export type UnevenSystems = { readonly findings: readonly Finding[]; readonly bars: () => Bars };

const classOf = (ratio: number): number => LIMIT.fitness.filter((border) => ratio > border).length;

/** Fitness classes between two ratios, each taken toward the other by what reading them may be off. */
function classesApart(a: number, b: number): number {
  const toward = Math.sign(b - a) * LIMIT.classBorder;
  return Math.abs(classOf(a + toward) - classOf(b - toward));
}

/** A last system left at natural width is no neighbour to compare with. */
export function unevenSystems({ systems, bars }: ExerciseSummary): UnevenSystems {
  const filled = systems.filter((system) => system.filled);
  const findings = filled.flatMap((system, i) => {
    const next = filled[i + 1];
    return [...unevenRatio(system), ...(next ? unevenPair(system, next, bars) : [])];
  });
  return { findings, bars };
}

function unevenRatio(system: SystemSummary): Finding[] {
  const { ratio } = system;
  const [least, most] = LIMIT.ratio;
  if (ratio === undefined || (ratio >= least - LIMIT.classBorder && ratio <= most + LIMIT.classBorder)) return [];
  const what = `The system is set too ${ratio < least ? 'tight' : 'loose'}.`;
  return [systemFinding(system, undefined, what, { amount: round(ratio), limit: ratio < least ? least : most, unit: 'ratio' })];
}

function unevenPair(system: SystemSummary, next: SystemSummary, bars: () => Bars): Finding[] {
  const findings: Finding[] = [];
  if (system.ratio !== undefined && next.ratio !== undefined && classesApart(system.ratio, next.ratio) > 1) {
    const what = 'The next system is set much tighter or looser than this one.';
    const amount = round(Math.abs(system.ratio - next.ratio));
    findings.push(systemFinding(system, undefined, what, { amount, limit: 1, unit: 'ratio' }));
  }
  const apart = Math.abs(system.barCount - next.barCount);
  if (apart > LIMIT.barCount && alike(bars(), system.firstBar, next.firstBar + next.barCount)) {
    const what = 'The next system has many more or fewer bars than this one, and they are alike.';
    findings.push(systemFinding(system, undefined, what, { amount: apart, limit: LIMIT.barCount, unit: 'count' }));
  }
  return findings;
}

/**
 * Rule 19, by part; an edition is a part alone. Where no breaking is even, the one that departs least is right, and the
 * build tells why. The parts of an ensemble break at the same bars: then that counts which departs least in all parts together.
 */
export function evenness(parts: readonly UnevenSystems[]): (readonly Finding[])[] {
  const found = parts.reduce((sum, { findings }) => sum + findings.length, 0);
  const excused = found > 0 && found <= leastUneven(parts.map(({ bars }) => bars()));
  return parts.map(({ findings }) => (excused ? [] : findings));
}

export const EVENNESS: Rule = {
  number: 19,
  id: 'evenness',
  title: 'Systems are evenly filled',
  check: { sharedExercise: (parts) => evenness(parts.map(unevenSystems)) },
};
