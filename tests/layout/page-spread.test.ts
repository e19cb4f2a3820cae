/** Distances of facing pages: filled, alike, or open at the foot. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SYSTEM_AIR } from '../../core/layout/music/exercise-block.js';
import {
  BLOCK_AIR,
  COMFORTABLE,
  type Distances,
  FACING,
  facingDistances,
  heightOf,
  type PageContent,
} from '../../core/layout/page/page-spread.js';

const SCALE = 5;
const WIDEST = SYSTEM_AIR.leastStep + SYSTEM_AIR.most;

/** Exercises by their numbers of systems; every system needs the least distance. Spaces. */
const page = (exercises: readonly number[], more: Partial<PageContent> = {}): PageContent => ({
  fixed: exercises.length * 16 * SCALE,
  steps: exercises.flatMap((count) => Array.from({ length: count - 1 }, () => SYSTEM_AIR.leastStep * SCALE)),
  gaps: exercises.length - 1,
  room: 150 * SCALE,
  scale: SCALE,
  last: false,
  ...more,
});

/** Both pages with their distances; a page without any is an error. */
function set(left: PageContent, right: PageContent, shared = false): readonly [Distances, Distances] {
  const [a, b] = facingDistances(left, right, shared);
  if (!a || !b) throw new Error('both pages have music');
  return [a, b];
}

const isFull = (p: PageContent, d: Distances): boolean => Math.abs(heightOf(p, d) - p.room) < 0.05;

describe('facing pages', () => {
  it('alike are filled alike', () => {
    const [a, b] = set(page([6, 6]), page([6, 6]));
    expect(a).toEqual(b);
    expect(isFull(page([6, 6]), a)).toBe(true);
  });

  it('that differ a little are both filled, and their distances differ by half a space at most', () => {
    const [left, right] = [page([6, 6]), page([6, 5])];
    const [a, b] = set(left, right);
    expect(isFull(left, a) && isFull(right, b)).toBe(true);
    expect(Math.abs(a.step - b.step)).toBeLessThanOrEqual(FACING + 1e-9);
    // By themselves they would differ more.
    const alone = [left, right].map((p) => facingDistances(p, undefined, false)[0]?.step ?? 0) as [number, number];
    expect(Math.abs(alone[0] - alone[1])).toBeGreaterThan(FACING);
  });

  it('of different exercises are both filled where they cannot be alike', () => {
    const [left, right] = [page([13]), page([11])];
    const [a, b] = set(left, right);
    expect(isFull(left, a) && isFull(right, b)).toBe(true);
    expect(b.step - a.step).toBeGreaterThan(FACING);
  });

  it('with one exercise on both have one distance, though a foot stays open', () => {
    const [left, right] = [page([13]), page([11])];
    const [a, b] = set(left, right, true);
    expect(isFull(left, a)).toBe(true);
    expect(Math.abs(b.step - a.step)).toBeLessThanOrEqual(FACING + 1e-9);
    expect(heightOf(right, b)).toBeLessThan(right.room);
  });

  it('that cannot be filled end at one height, where half a space allows it', () => {
    const [left, right] = [page([7]), { ...page([7]), fixed: 14.5 * SCALE }];
    const [a, b] = set(left, right);
    expect(heightOf(left, a)).toBeCloseTo(heightOf(right, b), 1);
    expect(Math.abs(a.step - COMFORTABLE)).toBeLessThanOrEqual(FACING / 2 + 1e-9);
  });

  it('of which the second ends a chapter: it has the distances of the first', () => {
    const [left, right] = [page([13]), page([4], { last: true })];
    const [a, b] = set(left, right);
    expect(isFull(left, a)).toBe(true);
    expect(b.step).toBeCloseTo(a.step, 6);
  });

  it('a page alone is filled, or open at a comfortable distance', () => {
    const [full] = facingDistances(page([12]), undefined, false);
    expect(full && isFull(page([12]), full)).toBe(true);
    expect(facingDistances(undefined, page([3]), false)).toEqual([undefined, expect.objectContaining({ step: COMFORTABLE })]);
  });

  it('any: none is higher than its room, distances keep their limits, and one exercise has one distance', () => {
    const exercises = fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 4 }).filter((all) => {
      const p = page(all);
      return heightOf(p, { step: SYSTEM_AIR.leastStep, air: BLOCK_AIR.least }) <= p.room;
    });
    fc.assert(
      fc.property(exercises, exercises, fc.boolean(), fc.boolean(), (one, other, shared, last) => {
        const [left, right] = [page(one), page(other, { last })];
        const [a, b] = set(left, right, shared);
        for (const [p, d] of [
          [left, a],
          [right, b],
        ] as const) {
          expect(heightOf(p, d)).toBeLessThanOrEqual(p.room + 0.05);
          expect(d.step).toBeGreaterThanOrEqual(SYSTEM_AIR.leastStep - 1e-9);
          expect(d.step).toBeLessThanOrEqual(WIDEST + 1e-9);
        }
        const alike = left.steps.length === 0 || right.steps.length === 0 || Math.abs(a.step - b.step) <= FACING + 1e-6;
        const equal = Math.abs(heightOf(left, a) - heightOf(right, b)) < 0.1;
        expect(alike || (equal && !shared)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });
});
