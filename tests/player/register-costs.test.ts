/** What the register plan weighs, in numbers written out (house choices). */
import { describe, expect, it, test } from 'vitest';
import type { Contour } from '../../core/exercise/exercise.js';
import { parseCompass } from '../../core/player/compass.js';
import { COST, leapCost, type Placement, planCost, type RegisterWish } from '../../core/player/register-plan.js';
import { value } from './fixture.js';

/** C3 to C6 is 48 to 84: its middle half is 57 to 75. */
const wish = (contour: Contour): RegisterWish => ({ contour, compass: value(parseCompass('C3', 'C6')), fromLowest: false });

test('the weights', () => expect(COST).toEqual({ semitone: 1, beyondOctave: 2, displaced: 3, contour: 4, tiring: 1 }));

test.each([
  [60, 60, 0],
  [60, 65, 5],
  [60, 48, 12],
  [60, 72, 12],
  [60, 73, 15],
  [60, 47, 15],
  [60, 84, 48],
])('a leap from %d to %d costs %d', (from, to, cost) => expect(leapCost(from, to)).toBe(cost));

describe('a plan', () => {
  const cost = (contour: Contour, choices: readonly (readonly Placement[])[], plan: readonly number[]): number =>
    planCost(choices, plan, wish(contour));
  it('pays for the leap, and three more for one that another octave would have made smaller', () => {
    const choices = [[[60, 64]], [[65], [77]]];
    expect(cost('nearest', choices, [0, 0])).toBe(1);
    // 13 semitones: 15; displaced: 3; two above the middle half: 2.
    expect(cost('nearest', choices, [0, 1])).toBe(20);
  });
  it('pays for what lies outside the middle half of the compass, a semitone one', () => {
    expect([57, 75, 56, 76, 50, 84].map((note) => cost('nearest', [[[note]]], [0]))).toEqual([0, 0, 1, 1, 7, 9]);
    // The middle of a statement counts: 50 and 60 are about 55.
    expect(cost('nearest', [[[50, 60]]], [0])).toBe(2);
  });
  it('pays four for each semitone from the height that the contour wants', () => {
    const octaves = [[48], [60], [72]];
    expect([0, 1, 2].map((place) => cost('low', [octaves], [place]))).toEqual([0, 48, 96]);
    expect([0, 1, 2].map((place) => cost('high', [octaves], [place]))).toEqual([96, 48, 0]);
    expect([0, 1, 2].map((place) => cost('sweep', [octaves], [place]))).toEqual([0, 48, 96]);
  });
  it('sweeps from the lowest to the highest in the middle, and back', () => {
    const octaves = [[48], [60], [72]];
    const five = Array.from({ length: 5 }, () => octaves);
    // Joins: 12 each, and 3 for leaving the octave.
    expect(cost('sweep', five, [0, 1, 2, 1, 0])).toBe(60);
    expect(cost('sweep', five, [0, 0, 2, 0, 0])).toBe(48 + 48 + 2 * (48 + 3));
  });
});
