import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import type { Contour } from '../../core/exercise/exercise.js';
import { parseCompass } from '../../core/player/compass.js';
import { COST, leapCost, type Placement, placements, planCost, planRegister, type RegisterWish } from '../../core/player/register-plan.js';
import { interval } from '../../core/theory/interval.js';
import { pitchName } from '../../core/theory/pitch.js';
import { tonic, value } from './fixture.js';

const COMPASS = value(parseCompass('C3', 'C6'));
const wish = (contour: Contour, fromLowest = false): RegisterWish => ({ contour, compass: COMPASS, fromLowest });

/** Every plan, in order from the lowest octaves up; the first of the cheapest wins. */
function bruteForce(choices: readonly (readonly Placement[])[], how: RegisterWish): number[] {
  let plans: number[][] = [[]];
  choices.forEach((here, i) => {
    const open = i === 0 && how.fromLowest ? here.slice(0, 1) : here;
    plans = plans.flatMap((plan) => open.map((_, j) => [...plan, j]));
  });
  return plans.reduce((best, plan) => (planCost(choices, plan, how) < planCost(choices, best, how) ? plan : best));
}

/** A statement of a few notes, in one to three neighbouring octaves. */
const choice = fc
  .record({
    base: fc.integer({ min: 48, max: 60 }),
    shape: fc.array(fc.integer({ min: -5, max: 14 }), { minLength: 1, maxLength: 4 }),
    octaves: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ base, shape, octaves }) => Array.from({ length: octaves }, (_, octave) => shape.map((tone) => base + tone + 12 * octave)));

describe.each(['nearest', 'sweep', 'low', 'high'] as const)('contour %s', (contour) => {
  test.each([false, true])('is the same plan as trying every plan (from the lowest: %s)', (fromLowest) => {
    fc.assert(
      fc.property(fc.array(choice, { minLength: 1, maxLength: 6 }), (choices) => {
        const how = wish(contour, fromLowest);
        expect(planRegister(choices, how)).toEqual(bruteForce(choices, how));
      }),
      { numRuns: 300, seed: 12 },
    );
  });
});

test('planCost tells a worse plan from a better one, so that the comparison above can fail', () => {
  const choices = [[[60, 64]], [[65], [77]]];
  expect(planCost(choices, [0, 1], wish('nearest'))).toBeGreaterThan(planCost(choices, [0, 0], wish('nearest')));
});

describe('what a leap costs', () => {
  it('is its semitones up to the octave, and grows faster beyond', () => {
    expect([0, 5, 12].map((size) => leapCost(60, 60 + size))).toEqual([0, 5, 12]);
    expect(leapCost(60, 73) - leapCost(60, 72)).toBe(COST.semitone + COST.beyondOctave);
    expect(leapCost(60, 50)).toBe(leapCost(60, 70));
  });
});

/** Single notes on C in three octaves, several times over: plans are then plain lists of octaves. */
const threeOctaves = (count: number): Placement[][] => Array.from({ length: count }, () => [[48], [60], [72]]);

describe('contours', () => {
  it('low and high stay there', () => {
    expect(planRegister(threeOctaves(5), wish('low'))).toEqual([0, 0, 0, 0, 0]);
    expect(planRegister(threeOctaves(5), wish('high'))).toEqual([2, 2, 2, 2, 2]);
  });
  it('sweep climbs to the top and comes back', () => {
    expect(planRegister(threeOctaves(9), wish('sweep'))).toEqual([0, 0, 1, 1, 2, 1, 1, 0, 0]);
  });
  it('nearest keeps one octave, the lower of two as good', () => {
    expect(planRegister(Array(4).fill([[60], [72]]), wish('nearest'))).toEqual([0, 0, 0, 0]);
  });
  it('nearest comes down from the ceiling when it has a choice', () => {
    const fourths = Array.from({ length: 12 }, (_, i) => [48, 60, 72].map((low) => [low + ((5 * i) % 12)]));
    const heights = planRegister(fourths, wish('nearest')).map((octave, i) => fourths[i]?.[octave]?.[0] as number);
    expect(Math.max(...heights)).toBeLessThan(80);
    expect(Math.min(...heights)).toBeGreaterThan(50);
  });
  it('from the lowest begins there even when the contour wants the top', () => {
    expect(planRegister(threeOctaves(3), wish('high', true))).toEqual([0, 2, 2]);
  });
  it('plans nothing for no statements, and refuses a statement without a placement', () => {
    expect(planRegister([], wish('low'))).toEqual([]);
    expect(() => planRegister([[]], wish('low'))).toThrow(/placement/);
  });
});

describe('placements', () => {
  const at = (root: string, degrees: number[], range: string): string => {
    const [low, high] = range.split('-') as [string, string];
    const found = placements(
      tonic(root),
      degrees.map((steps) => interval(steps)),
      value(parseCompass(low, high)),
    );
    return found.map(pitchName).join(' ');
  };
  test.each([
    ['Bb', [0, 4], 'Bb3-F6', 'Bb3 Bb4 Bb5'],
    ['B', [0, 4], 'Bb3-F6', 'B3 B4'],
    // The root itself need not lie in the compass: 8 and 9 alone.
    ['C', [7, 8], 'C4-C5', 'C3'],
    ['C', [0, 8], 'C4-C5', ''],
    ['C', [7, 8], 'C4-D5', 'C3 C4'],
    ['C', [-1], 'B3-C5', 'C4 C5'],
    ['C', [14, 21], 'C4-C6', 'C2 C3'],
  ])('%s over %j in %s: %s', (root, degrees, range, expected) => expect(at(root, degrees, range)).toBe(expected));
});
