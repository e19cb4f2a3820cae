/** The size of a score's staves: the largest at which its systems fit, found with few exercises set twice. */
import { describe, expect, it } from 'vitest';
import { spaceOf } from '../../core/base/units.js';
import { STYLE } from '../../core/engrave/style.js';
import type { ScoreSystem } from '../../core/layout/music/score-block.js';
import { bodyOf } from '../../core/layout/page/geometry.js';
import { type FittedScore, fitScore, rowHeight, type ScoreRequest } from '../../core/layout/score-fit.js';
import { settingOf } from './setting.js';

const setting = settingOf();
const room = bodyOf(setting.geometry, setting.styles).height;

/** A system of this height in spaces, with what stands below it. */
const system = (height: number): ScoreSystem => ({
  spec: { from: 0, to: 1, width: undefined, names: [], sections: [], groups: [] },
  staves: [],
  steps: [height - STYLE.wordsToStaff],
  above: 0,
  below: 0,
});

/** Exercises of one system each, whose height may depend on the size. */
function fitOf(heights: readonly (number | ((scale: number) => number))[], staves: number, staff?: number) {
  const asked: ScoreRequest[] = [];
  const steps = fitScore(
    heights.map((_, e) => ({ id: `${e}`, height: 20 })),
    staves,
    staff,
    setting,
  );
  let next = steps.next();
  while (!next.done) {
    const { exercises, scale } = next.value;
    asked.push(next.value);
    next = steps.next(
      new Map(
        exercises.map((id) => {
          const height = heights[Number(id)];
          return [id, [system(typeof height === 'function' ? height(scale) : (height as number))]];
        }),
      ),
    );
  }
  return { asked, fitted: next.value };
}

const tallest = ({ systems, scale }: FittedScore) => Math.max(...[...systems.values()].flat().map((it) => rowHeight(it, 20, scale)));

describe('the size of a score', () => {
  it('is found from eight exercises, the first and the last among them, and then all are set once', () => {
    const { asked, fitted } = fitOf(Array(40).fill(150), 14);
    expect(asked.map(({ exercises }) => exercises.length)).toEqual([8, 40]);
    expect(asked[0]?.exercises[0]).toBe('0');
    expect(asked[0]?.exercises.at(-1)).toBe('39');
    expect(tallest(fitted)).toBeLessThanOrEqual(room);
    expect(tallest(fitted)).toBeGreaterThan(0.8 * room);
  });

  it('is mended when an exercise that was not looked at is taller', () => {
    const heights = Array(40).fill(150);
    heights[1] = 190;
    const { asked, fitted } = fitOf(heights, 14);
    expect(asked.length).toBe(3);
    expect(asked[2]?.scale).toBeLessThan(asked[1]?.scale as number);
    expect(tallest(fitted)).toBeLessThanOrEqual(room);
  });

  it('fits though systems grow as the staves shrink', () => {
    const { fitted } = fitOf(
      Array(3).fill((scale: number) => 100 + 300 / scale),
      20,
    );
    expect(tallest(fitted)).toBeLessThanOrEqual(room);
  });

  it('is the one that was asked for, where that fits', () => {
    const { asked, fitted } = fitOf(Array(12).fill(60), 6, 5);
    expect(asked.length).toBe(1);
    expect(fitted.scale).toBe(spaceOf(5));
  });

  it('is smaller than the one that was asked for, where that is too large for the page', () => {
    const { fitted } = fitOf(Array(12).fill(300), 30, 9);
    expect(fitted.scale).toBeLessThan(spaceOf(9));
    expect(tallest(fitted)).toBeLessThanOrEqual(room);
  });
});
