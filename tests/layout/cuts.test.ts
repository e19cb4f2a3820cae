/** Exercises longer than a page: cut into the fewest pages, as evenly as can be, in an edition and in all parts of a set. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BlockHeights, type Cut, heightOf, tailOf } from '../../core/layout/music/block-heights.js';
import { type CutBlock, evenCuts } from '../../core/layout/music/cuts.js';

/** A part whose systems take these heights from top line to top line, all at least the least distance. Scale 1. */
const part = (room: number, steps: readonly number[], more: Partial<BlockHeights> = {}): CutBlock => ({
  room,
  heights: {
    heading: 0,
    foot: 0,
    tail: 0,
    above: [2, ...steps].map(() => 2),
    below: [2, ...steps].map(() => 6),
    steps,
    scale: 1,
    ...more,
  },
});

const text = (cuts: readonly Cut[]): string => cuts.map(({ from, to }) => `${from}-${to}`).join(' ');

/** Distances that systems may not be opened beyond, so that heights are those given. */
const WIDE = 20;
const systems = (count: number): number[] => Array.from({ length: count - 1 }, () => WIDE);

describe('cuts', () => {
  it.each<readonly [string, readonly CutBlock[], string]>([
    ['none where the exercise fits', [part(100, systems(5))], '0-5'],
    ['two and two', [part(60, systems(4))], '0-2 2-4'],
    ['even pages, not a full one and a rest', [part(100, systems(6))], '0-3 3-6'],
    ['fewer systems under a tall heading', [part(100, systems(6), { heading: 45 })], '0-2 2-6'],
    ['fewer systems where they are tall', [part(120, [40, 40, 20, 20, 20])], '0-2 2-6'],
    ['as the tightest part of a set allows', [part(200, systems(6)), part(40, systems(6))], '0-2 2-4 4-6'],
    // Alone the first would be cut in the middle, and in the middle the second does not fit.
    ['where all parts fit', [part(120, systems(6)), part(90, [20, 70, 20, 20, 20])], '0-2 2-6'],
    ['a system that fits no page by itself', [part(5, systems(2))], '0-1 1-2'],
  ])('%s', (_, parts, expected) => {
    expect(text(evenCuts(parts))).toBe(expected);
  });
});

const fits = ({ heights, room }: CutBlock, cut: Cut): boolean =>
  cut.to - cut.from === 1 || heightOf(heights, cut) - tailOf(heights, cut) <= room;

/** Every way to cut so many systems. */
function* allCuts(count: number): Generator<Cut[]> {
  for (let set = 0; set < 2 ** (count - 1); set++) {
    const cuts: Cut[] = [];
    let from = 0;
    for (let i = 1; i <= count; i++) {
      if (i < count && !(set & (1 << (i - 1)))) continue;
      cuts.push({ from, to: i });
      from = i;
    }
    yield cuts;
  }
}

const heightsOf = (count: number) =>
  fc
    .record({
      // So far apart that no distance opens further: the heights are what they are.
      steps: fc.array(fc.integer({ min: WIDE, max: 40 }), { minLength: count - 1, maxLength: count - 1 }),
      heading: fc.integer({ min: 0, max: 40 }),
      foot: fc.constantFrom(0, 12),
      room: fc.integer({ min: 40, max: 140 }),
    })
    .map(({ steps, room, ...more }) => part(room, steps, more));

const sets = fc.integer({ min: 2, max: 8 }).chain((count) => fc.array(heightsOf(count), { minLength: 1, maxLength: 3 }));

describe('any exercise', () => {
  it('is cut into the fewest pages, the nearest to like heights in all parts', () => {
    fc.assert(
      fc.property(sets, (parts) => {
        const count = (parts[0] as CutBlock).heights.above.length;
        const found = evenCuts(parts);
        const possible = [...allCuts(count)].filter((cuts) => cuts.every((cut) => parts.every((one) => fits(one, cut))));
        const fewest = Math.min(...possible.map(({ length }) => length));
        expect(found.length).toBe(fewest);
        const squares = (cuts: readonly Cut[]): number =>
          parts.reduce((sum, { heights, room }) => {
            const wanted = (heightOf(heights, { from: 0, to: count }) - heights.tail) / fewest;
            return cuts.reduce((all, cut) => all + ((heightOf(heights, cut) - tailOf(heights, cut) - wanted) / room) ** 2, sum);
          }, 0);
        const best = Math.min(...possible.filter(({ length }) => length === fewest).map(squares));
        expect(squares(found)).toBeCloseTo(best, 9);
      }),
      { numRuns: 500 },
    );
  });

  it('cut by equal counts would be less even, or not fit', () => {
    const parts = [part(120, [40, 40, 40, 20, 20, 20, 20])];
    const equal = [
      { from: 0, to: 4 },
      { from: 4, to: 8 },
    ];
    expect(equal.every((cut) => fits(parts[0] as CutBlock, cut))).toBe(false);
    expect(evenCuts(parts).every((cut) => fits(parts[0] as CutBlock, cut))).toBe(true);
  });
});
