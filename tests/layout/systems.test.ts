/** Bars broken into systems by total fit (Knuth & Plass, SP&E 11, 1981), checked against every way to break them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barsOf } from '../../core/engrave/bars.js';
import { type ScoreShape, shapeScore } from '../../core/engrave/shape.js';
import { fixedWidth, justify, type Measure, place } from '../../core/engrave/spacing.js';
import { STYLE } from '../../core/engrave/style.js';
import { breakMeasures, breakSystems, LOOSE, PENALTY, type SystemBreak } from '../../core/layout/systems.js';
import { badness, fitnessClass } from '../../core/layout/total-fit.js';
import { testFonts } from '../fonts.js';
import { player, realised, type Words } from '../player/fixture.js';

type Problem = {
  readonly measures: readonly Measure[];
  readonly fixed: (from: number, to: number) => number;
  readonly penalties: readonly number[];
  readonly width: number;
};

const sumOf = (all: readonly Measure[], field: keyof Measure): number => all.reduce((sum, m) => sum + m[field], 0);

/** Demerits of a breaking, given by the ends of its systems; undefined if one of several bars does not fit, or only when set tighter than the style allows. */
function demerits({ measures, fixed, penalties, width }: Problem, ends: readonly number[]): number | undefined {
  let total = 0;
  let before: number | undefined;
  let from = 0;
  for (const to of ends) {
    const own = measures.slice(from, to);
    const extra = fixed(from, to);
    const spare = width - extra - sumOf(own, 'natural');
    const give = sumOf(own, 'natural') - sumOf(own, 'tight');
    const tight = sumOf(own, 'least') + extra > width || spare < -give;
    if (to - from > 1 && tight) return undefined;
    const ratio = spare / (spare >= 0 ? sumOf(own, 'open') - sumOf(own, 'natural') : give);
    const last = to === measures.length;
    const fitness = fitnessClass(ratio);
    const filled =
      Math.max(1, 1 + Math.min(1e5, badness(ratio)) + (last ? 0 : (penalties[to - 1] as number))) ** 2 +
      (before !== undefined && Math.abs(before - fitness) > 1 ? PENALTY.fitness : 0);
    const natural = (1 + PENALTY.looseLast + Math.min(40, ratio * 4)) ** 2;
    total += !last || ratio <= LOOSE ? filled : ratio > 1 ? natural : Math.min(filled, natural);
    before = fitness;
    from = to;
  }
  return total;
}

/** Every way to break so many bars. */
function* breakings(count: number): Generator<number[]> {
  for (let set = 0; set < 2 ** (count - 1); set++) {
    const ends: number[] = [];
    for (let i = 1; i < count; i++) if (set & (1 << (i - 1))) ends.push(i);
    yield [...ends, count];
  }
}

function leastOf(problem: Problem): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ends of breakings(problem.measures.length)) least = Math.min(least, demerits(problem, ends) ?? least);
  return least;
}

const bar = fc
  .record({
    springs: fc.double({ min: 6, max: 30, noNaN: true }),
    rest: fc.double({ min: 1, max: 6, noNaN: true }),
    rods: fc.double({ min: 0.5, max: 0.9, noNaN: true }),
  })
  .map(
    ({ springs, rest, rods }): Measure => ({
      natural: springs + rest,
      open: springs * Math.max(rods, 1 + STYLE.stretch) + rest,
      tight: springs * Math.max(rods, 1 - STYLE.shrink) + rest,
      least: springs * rods + rest,
    }),
  );

const problems = fc
  .record({
    bars: fc.array(
      fc.record({ bar, penalty: fc.constantFrom(0, 60, -60), header: fc.constantFrom(4, 6, 9), courtesy: fc.constantFrom(0, 2) }),
      { minLength: 1, maxLength: 10 },
    ),
    width: fc.double({ min: 25, max: 120, noNaN: true }),
  })
  .map(
    ({ bars, width }): Problem => ({
      measures: bars.map((b) => b.bar),
      fixed: (from, to) => (bars[from]?.header ?? 0) + (to < bars.length ? (bars[to]?.courtesy ?? 0) : 0),
      penalties: bars.map((b) => b.penalty),
      width,
    }),
  );

const solved = ({ measures, fixed, penalties, width }: Problem): SystemBreak[] => breakMeasures(measures, fixed, penalties, width);

describe('any bars', () => {
  it('are broken in the best of all ways', () => {
    fc.assert(
      fc.property(problems, (problem) => {
        const own = demerits(
          problem,
          solved(problem).map((s) => s.to),
        );
        expect(own).toBeDefined();
        const best = leastOf(problem);
        expect(Math.abs(own - best)).toBeLessThan(1e-6 * best);
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
  const measures = Array.from(
    { length: 8 },
    (): Measure => ({ natural: 20, open: 20 + 16 * STYLE.stretch, tight: 20 - 16 * STYLE.shrink, least: 13 }),
  );
  const problem: Problem = { measures, fixed: () => 8, penalties: measures.map(() => 0), width: 88 };
  expect(solved(problem).map((s) => s.to)).toEqual([4, 8]);
  expect(demerits(problem, [3, 8]) ?? Number.POSITIVE_INFINITY).toBeGreaterThan(demerits(problem, [4, 8]) as number);
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
    const measures = Array.from(
      { length: count },
      (): Measure => ({ natural: 20, open: 20 + 16 * STYLE.stretch, tight: 20 - 16 * STYLE.shrink, least: 13 }),
    );
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
  const measures = Array.from(
    { length: 9 },
    (): Measure => ({ natural: 20, open: 20 + 16 * STYLE.stretch, tight: 20 - 16 * STYLE.shrink, least: 13 }),
  );
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
  const wide: Measure = { natural: 200, open: 200 + 160 * STYLE.stretch, tight: 200 - 160 * STYLE.shrink, least: 150 };
  const measures = [
    { natural: 20, open: 20 + 16 * STYLE.stretch, tight: 20 - 16 * STYLE.shrink, least: 13 },
    wide,
    { natural: 20, open: 20 + 16 * STYLE.stretch, tight: 20 - 16 * STYLE.shrink, least: 13 },
  ];
  const systems = breakMeasures(measures, () => 8, [0, 0, 0], 80);
  expect(systems.map((s) => [s.from, s.to])).toEqual([
    [0, 1],
    [1, 2],
    [2, 3],
  ]);
});

it('a short last system keeps its natural width', () => {
  const measures = Array.from(
    { length: 1 },
    (): Measure => ({ natural: 20, open: 20 + 16 * STYLE.stretch, tight: 20 - 16 * STYLE.shrink, least: 13 }),
  );
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
