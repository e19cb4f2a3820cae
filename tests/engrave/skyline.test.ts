/** The outline of the ink above and below a staff. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { skyline } from '../../core/engrave/skyline.js';

describe('an empty skyline', () => {
  const sky = skyline(40);
  it('is the staff', () => {
    expect(sky.top(0, 40)).toBe(0);
    expect(sky.bottom(0, 40)).toBe(4);
    expect(sky.highest(0, 40)).toBe(Number.POSITIVE_INFINITY);
    expect(sky.lowest(0, 40)).toBe(Number.NEGATIVE_INFINITY);
  });
});

describe('ink', () => {
  const sky = skyline(40);
  sky.add({ x0: 10, y0: -2, x1: 12, y1: 1 });
  sky.add({ x0: 11, y0: 3, x1: 14, y1: 6 });

  it.each([
    [10, 10.9, -2, 4],
    [11, 11.1, -2, 6],
    [13, 14, 0, 6],
    [0, 9.5, 0, 4],
    [0, 40, -2, 6],
  ])('between %d and %d stands from %d to %d', (x0, x1, top, bottom) => {
    expect([sky.top(x0, x1), sky.bottom(x0, x1)]).toEqual([top, bottom]);
  });

  it('inside the staff does not lower its edge', () => {
    const inner = skyline(10);
    inner.add({ x0: 1, y0: 1, x1: 2, y1: 3 });
    expect(inner.top(1, 2)).toBe(0);
    expect(inner.highest(1, 2)).toBe(1);
  });

  it('left and right of the staff counts too', () => {
    const wide = skyline(10);
    wide.add({ x0: -3, y0: -1, x1: -2, y1: 0 });
    wide.add({ x0: 12, y0: -4, x1: 60, y1: 0 });
    expect(wide.top(-3, -2)).toBe(-1);
    expect(wide.top(12, 14)).toBe(-4);
  });
});

const box = fc
  .record({
    x: fc.double({ min: 0, max: 50, noNaN: true }),
    w: fc.double({ min: 0, max: 8, noNaN: true }),
    y: fc.double({ min: -9, max: 12, noNaN: true }),
    h: fc.double({ min: 0, max: 5, noNaN: true }),
  })
  .map(({ x, w, y, h }) => ({ x0: x, x1: x + w, y0: y, y1: y + h }));

it('never hides ink, and shows none that is more than a column away', () => {
  fc.assert(
    fc.property(fc.array(box, { maxLength: 12 }), box, (boxes, { x0, x1 }) => {
      const sky = skyline(60);
      for (const b of boxes) sky.add(b);
      const touching = (slack: number) => boxes.filter((b) => b.x1 > x0 - slack && b.x0 < x1 + slack);
      const tops = touching(0).map((b) => b.y0);
      const near = touching(0.5).map((b) => b.y0);
      const bottoms = touching(0).map((b) => b.y1);
      const nearBottoms = touching(0.5).map((b) => b.y1);
      expect(sky.top(x0, x1)).toBeLessThanOrEqual(Math.min(0, ...tops));
      expect(sky.top(x0, x1)).toBeGreaterThanOrEqual(Math.min(0, ...near));
      expect(sky.bottom(x0, x1)).toBeGreaterThanOrEqual(Math.max(4, ...bottoms));
      expect(sky.bottom(x0, x1)).toBeLessThanOrEqual(Math.max(4, ...nearBottoms));
    }),
    { numRuns: 500 },
  );
});
