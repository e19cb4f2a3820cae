/** Bars of several parts, broken at the same places, checked against every way to break them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Measure } from '../../core/engrave/spacing.js';
import { breakTogether, PENALTY, ratioOf, type SystemBreak } from '../../core/layout/music/systems.js';
import { badness } from '../../core/layout/total-fit.js';
import { leastUneven } from '../../core/proof/least-uneven.js';
import { barOf, breakings, type Problem, problems, type SetBars, sumOfAll, unevenIn, unevenOf } from './bars.js';

describe('parts of a set', () => {
  const sets = fc.array(problems, { minLength: 2, maxLength: 3 }).map((parts) => {
    const count = Math.min(...parts.map(({ measures }) => measures.length));
    return parts.map(
      (part): Problem => ({
        ...part,
        measures: part.measures.slice(0, count),
        fixed: (from, to) => part.fixed(from, to),
        penalties: (parts[0] as Problem).penalties.slice(0, count),
      }),
    );
  });

  const together = (parts: readonly Problem[]): SystemBreak[][] => breakTogether(parts, (parts[0] as Problem).penalties);
  const endsOf = (systems: readonly SystemBreak[] | undefined): number[] => (systems ?? []).map(({ to }) => to);
  /** Demerits of one way to set the last system, in one part. */
  const demeritsIn = (problem: Problem, ends: readonly number[], fill: boolean): number => {
    const { measures, fixed, penalties, width } = problem;
    let from = 0;
    let before: SetBars | undefined;
    let total = 0;
    for (const to of ends) {
      const sum = sumOfAll(measures.slice(from, to));
      const room = width - fixed(from, to);
      if (to - from > 1 && (sum.least > room || sum.tight > room)) return Number.POSITIVE_INFINITY;
      const ratio = ratioOf(sum, room);
      const last = to === measures.length;
      const filled = !last || fill;
      const bad = filled ? Math.min(1e4, badness(ratio)) : PENALTY.looseLast + Math.min(40, ratio * 4);
      total += Math.max(1, 1 + bad + (last ? 0 : (penalties[to - 1] as number))) ** 2;
      const system = { from, to, ratio, filled };
      total += PENALTY.uneven * unevenIn(problem, system, before);
      before = system;
      from = to;
    }
    return total;
  };
  const demeritsOf = (parts: readonly Problem[], ends: readonly number[]): number => {
    const from = ends.at(-2) ?? 0;
    const ratio = Math.min(
      ...parts.map(({ measures, fixed, width }) => ratioOf(sumOfAll(measures.slice(from)), width - fixed(from, measures.length))),
    );
    const of = (fill: boolean): number => parts.reduce((sum, part) => sum + demeritsIn(part, ends, fill), 0);
    return of(ratio <= 1);
  };

  it('break at the same bars, in the best of all ways in which every part fits', () => {
    fc.assert(
      fc.property(sets, (parts) => {
        const [first, ...others] = together(parts).map(endsOf);
        for (const other of others) expect(other).toEqual(first);
        let best = Number.POSITIVE_INFINITY;
        for (const ends of breakings((parts[0] as Problem).measures.length)) best = Math.min(best, demeritsOf(parts, ends));
        expect(Math.abs(demeritsOf(parts, first as number[]) - best)).toBeLessThan(1e-6 * best);
      }),
      { numRuns: 300 },
    );
  });

  it('tell what is uneven in each, no more in all than any breaking has', () => {
    fc.assert(
      fc.property(sets, (parts) => {
        expect(together(parts).reduce((sum, systems) => sum + unevenOf(systems), 0)).toBe(leastUneven(parts));
      }),
      { numRuns: 300 },
    );
  });

  it('all fill their last system, or none where none can', () => {
    const [narrow, wide] = [barOf(11, 2, 0.5), barOf(16, 4, 0.5)];
    const part = (bar: Measure): Problem => ({
      measures: Array.from({ length: 8 }, () => bar),
      fixed: () => 8,
      penalties: Array(8).fill(0),
      width: 88,
    });
    const [open, full] = [part(narrow), part(wide)];
    const justified = (parts: readonly Problem[]): boolean[] => together(parts).map((systems) => systems.at(-1)?.justified === true);
    expect(endsOf(together([full, open])[1])).toEqual([4, 8]);
    expect(justified([full, open])).toEqual([true, true]);
    expect(together([full, open])[1]?.every(({ ratio }) => ratio > 1)).toBe(true);
    const shorter = (one: Problem): Problem => ({ ...one, measures: one.measures.slice(0, 2), penalties: [0, 0] });
    expect(justified([shorter(full), shorter(open)])).toEqual([false, false]);
  });

  it('are not broken by the widest of each bar: that part is nobody’s, and too wide', () => {
    // Each part has its own wide bar, so that none is as wide as both together.
    const [narrow, wide] = [barOf(14, 4, 0.5), barOf(34, 4, 0.5)];
    const part = (place: number): Problem => ({
      measures: Array.from({ length: 6 }, (_, i) => (i % 3 === place ? wide : narrow)),
      fixed: () => 8,
      penalties: [0, 0, 0, 0, 0, 0],
      width: 84,
    });
    const parts = [part(0), part(1), part(2)];
    const merged: Problem = { ...part(0), measures: Array.from({ length: 6 }, () => wide) };
    expect(endsOf(together(parts)[0])).toEqual([3, 6]);
    expect(endsOf(together([merged])[0])).toEqual([2, 4, 6]);
    expect(demeritsOf(parts, [3, 6])).toBeLessThan(demeritsOf(parts, [2, 4, 6]));
  });
});
