/** Bars broken into systems by total fit (Knuth & Plass, SP&E 11, 1981), checked against every way to break them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barsOf } from '../../core/engrave/bars.js';
import type { Spring } from '../../core/engrave/shape.js';
import { type ScoreShape, shapeScore } from '../../core/engrave/shape.js';
import { fixedWidth, justify, LIMITS, measureBar, place, stretchOf } from '../../core/engrave/spacing.js';
import { STYLE } from '../../core/engrave/style.js';
import { breakMeasures, breakSystems, LOOSE, LOOSEST, PENALTY, ratioOf, type SystemBreak } from '../../core/layout/music/systems.js';
import { badness, fitnessClass } from '../../core/layout/total-fit.js';
import { leastUneven } from '../../core/proof/least-uneven.js';
import { testFonts } from '../fonts.js';
import { player, realised, type Words } from '../player/fixture.js';
import { barOf, breakings, PLAIN, type Problem, problems, type SetBars, sumOfAll, unevenIn, unevenOf } from './bars.js';

/** Demerits of a breaking, given by the ends of its systems; undefined if one of several bars does not fit, or only when set tighter than the style allows. */
function demerits(problem: Problem, ends: readonly number[]): number | undefined {
  const { measures, fixed, penalties, width } = problem;
  let total = 0;
  let before: SetBars | undefined;
  let from = 0;
  for (const to of ends) {
    const sum = sumOfAll(measures.slice(from, to));
    const room = width - fixed(from, to);
    if (to - from > 1 && (sum.least > room || sum.tight > room)) return undefined;
    const ratio = ratioOf(sum, room);
    const last = to === measures.length;
    const system = { from, to, ratio, filled: true };
    const filled =
      Math.max(1, 1 + Math.min(1e4, badness(ratio)) + (last ? 0 : (penalties[to - 1] as number))) ** 2 +
      PENALTY.uneven * unevenIn(problem, system, before);
    const natural = (1 + PENALTY.looseLast + Math.min(40, ratio * 4)) ** 2;
    total += !last || ratio <= LOOSE ? filled : ratio > 1 ? natural : Math.min(filled, natural);
    before = system;
    from = to;
  }
  return total;
}

function leastOf(problem: Problem): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ends of breakings(problem.measures.length)) least = Math.min(least, demerits(problem, ends) ?? least);
  return least;
}

const solved = ({ measures, fixed, penalties, width }: Problem): SystemBreak[] => breakMeasures(measures, fixed, penalties, width);

describe('any bars', () => {
  it('are broken in the best of all ways', () => {
    fc.assert(
      fc.property(problems, (problem) => {
        const own = demerits(
          problem,
          solved(problem).map((s) => s.to),
        );
        const best = leastOf(problem);
        expect(Math.abs((own ?? Number.NaN) - best)).toBeLessThan(1e-6 * best);
      }),
      { numRuns: 400 },
    );
  });

  it('are all there, in order, once', () => {
    fc.assert(
      fc.property(problems, (problem) => {
        const systems = solved(problem);
        expect(systems[0]?.from).toBe(0);
        expect(systems.at(-1)?.to).toBe(problem.measures.length);
        for (const [i, s] of systems.entries()) {
          expect(s.to).toBeGreaterThan(s.from);
          if (i > 0) expect(s.from).toBe(systems[i - 1]?.to);
          expect(s.justified || i === systems.length - 1).toBe(true);
        }
      }),
    );
  });
});

it('a worse breaking is seen to be worse', () => {
  const measures = Array.from({ length: 8 }, () => PLAIN);
  const problem: Problem = { measures, fixed: () => 8, penalties: measures.map(() => 0), width: 88 };
  expect(solved(problem).map((s) => s.to)).toEqual([4, 8]);
  expect(demerits(problem, [3, 8]) ?? Number.POSITIVE_INFINITY).toBeGreaterThan(demerits(problem, [4, 8]) as number);
});

describe('the ratio of a system', () => {
  const springs = fc.array(
    fc.record({ ideal: fc.double({ min: 2, max: 9, noNaN: true }), share: fc.double({ min: 0.4, max: 1.8, noNaN: true }) }),
    { minLength: 1, maxLength: 20 },
  );

  it('is in the class of the factor at which its springs really fill the width', () => {
    fc.assert(
      fc.property(springs, fc.double({ min: 0.85, max: 1.9, noNaN: true }), (wishes, open) => {
        const own = wishes.map(({ ideal, share }): Spring => ({ ideal, allowance: 0, rod: share * ideal }));
        const measure = measureBar({ lead: 1, barline: 0, springs: own });
        const width = Math.max(measure.tight + 1e-6, measure.natural * open);
        const factor = stretchOf(own, width - 1);
        const exact = factor >= 1 ? (factor - 1) / STYLE.stretch : (factor - 1) / STYLE.shrink;
        const ratio = ratioOf(measure, width);
        // On a border either class will do.
        if ([-1, -0.5, 0, 0.5, 1].some((border) => Math.abs(exact - border) < 1e-6) || measure.open <= measure.tight) return;
        expect(fitnessClass(ratio)).toBe(fitnessClass(exact));
        expect(ratio > LOOSEST).toBe(exact > LOOSEST);
      }),
      { numRuns: 500 },
    );
  });

  it('of straight lines between its limits alone would be in another class', () => {
    // One spring that opens at once and one that rests on its rod until far beyond natural.
    const own: readonly Spring[] = [
      { ideal: 5, allowance: 0, rod: 0 },
      { ideal: 20, allowance: 0, rod: 28 },
    ];
    const measure = measureBar({ lead: 0, barline: 0, springs: own });
    const width = measure.natural + 0.4 * (measure.open - measure.natural);
    const exact = (stretchOf(own, width) - 1) / STYLE.stretch;
    expect(fitnessClass(exact)).toBe(2);
    expect(fitnessClass(0.4)).toBe(1);
    expect(fitnessClass(ratioOf(measure, width))).toBe(2);
    expect(LIMITS.most).toBe(1 + STYLE.stretch);
  });
});

describe('even systems', () => {
  it('are found where there are any, and what is told is what no breaking can better', () => {
    fc.assert(
      fc.property(problems, (problem) => {
        expect(unevenOf(solved(problem))).toBe(leastUneven([problem]));
      }),
      { numRuns: 400 },
    );
  });

  it('of seven bars and five are not made of bars that are alike, though a statement ends there', () => {
    const measures = Array.from({ length: 12 }, () => PLAIN);
    const penalties = measures.map((_, i) => (i === 5 ? 3000 : 0));
    const problem: Problem = { measures, fixed: () => 8, penalties, width: 123.5 };
    const systems = solved(problem);
    const counts = systems.map((s) => s.to - s.from);
    for (const [i, count] of counts.entries()) {
      if (i > 0 && systems[i]?.justified) expect(Math.abs(count - (counts[i - 1] as number))).toBeLessThanOrEqual(1);
    }
    expect(unevenOf(systems)).toBe(0);
    expect(demerits(problem, [7, 12])).toBeGreaterThan(PENALTY.uneven);
    // With bars that differ, the same breaking is no fault.
    const mixed = measures.map((bar, i) => (i % 2 ? barOf(13, 4, 0.5) : bar));
    expect(demerits({ ...problem, measures: mixed }, [7, 12])).toBeLessThan(PENALTY.uneven);
  });

  it('cannot be made of bars of which one is too few and two are too many: that is told', () => {
    const wide = barOf(50, 2, 0.9);
    const systems = breakMeasures([wide, wide, wide], () => 8, [0, 0, 0], 98);
    expect(systems.map((s) => s.to)).toEqual([1, 2, 3]);
    expect(systems[0]?.uneven).toEqual(['loose']);
    expect(systems[1]?.uneven).toEqual(['loose']);
  });
});

describe('bars that are alike', () => {
  it.each([
    // bars, of 20 spaces, in a line for 4 and its header: systems
    [4, [4]],
    [8, [4, 4]],
    [12, [4, 4, 4]],
    [9, [3, 3, 3]],
    [10, [4, 3, 3]],
    [1, [1]],
  ])('%i in systems of %j', (count, sizes) => {
    const measures = Array.from({ length: count }, () => PLAIN);
    const systems = breakMeasures(
      measures,
      () => 8,
      measures.map(() => 0),
      88,
    );
    const found = systems.map((s) => s.to - s.from);
    expect([...found].sort()).toEqual([...sizes].sort());
    expect(Math.max(...found) - Math.min(...found)).toBeLessThanOrEqual(1);
  });
});

it('a system had rather end with a statement, and at the turnaround', () => {
  const measures = Array.from({ length: 9 }, () => PLAIN);
  const ends = (bar: number, penalty: number): number[] =>
    breakMeasures(
      measures,
      () => 8,
      measures.map((_, i) => (i === bar - 1 ? penalty : 0)),
      98,
    ).map((s) => s.to);
  expect(ends(4, 60)).toEqual([5, 9]);
  expect(ends(5, 60)).toEqual([4, 9]);
  expect(ends(4, -60)).toEqual([4, 9]);
  expect(ends(5, -60)).toEqual([5, 9]);
});

it('a bar that is too wide has a system to itself', () => {
  const measures = [PLAIN, barOf(160, 40, 0.7), PLAIN];
  const systems = breakMeasures(measures, () => 8, [0, 0, 0], 80);
  expect(systems.map((s) => [s.from, s.to])).toEqual([
    [0, 1],
    [1, 2],
    [2, 3],
  ]);
  expect(systems[1]?.uneven).toContain('overfull');
});

it('a short last system keeps its natural width', () => {
  const measures = Array.from({ length: 1 }, () => PLAIN);
  expect(breakMeasures(measures, () => 8, [0], 88)[0]?.justified).toBe(false);
});

describe('real exercises', () => {
  const shapeOf = (words: Words, who: string): ScoreShape => {
    const line = realised({ ending: 'long-root', ...words }, player(who));
    return shapeScore(line, barsOf(line), testFonts());
  };
  const cases: readonly (readonly [string, Words])[] = [
    ['eighths, flowing', {}],
    ['eighths, two passes', { passes: 2, directions: 'alternate-from-up' }],
    ['padded bars', { padding: { to: 'bar', by: 'long-note' } }],
    ['sixteenths', { rhythm: 'sixteenths', figure: '1 2 3 4 5 4 3 2' }],
    ['signatures', { padding: { to: 'bar', by: 'rests' }, signs: 'signature' }],
    ['triplets in 3/4', { rhythm: 'eighth triplets', figure: '1 3 5 8 5 3', metre: '3/4', padding: { to: 'bar', by: 'long-note' } }],
  ];

  it.each(cases)('%s: every system is as wide as the page or natural at the end, and none is overfull', (_, words) => {
    for (const who of ['flute', 'trombone']) {
      const shape = shapeOf(words, who);
      for (const width of [96, 105, 118]) {
        const systems = breakSystems(shape, width);
        for (const s of systems) {
          expect(s.ratio, `${who} ${width} bars ${s.from}-${s.to}`).toBeGreaterThanOrEqual(-1 - 1e-9);
          if (!s.justified) continue;
          expect(place(shape, s.from, s.to, justify(shape, s.from, s.to, width)).width).toBeCloseTo(width, 6);
          expect(fixedWidth(shape, s.from, s.to)).toBeLessThan(width);
        }
      }
    }
  });
});
