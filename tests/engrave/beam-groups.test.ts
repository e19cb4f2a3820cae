/** Which notes share a beam. Gould, Behind Bars, p. 153 (second-hand); where no source is named, common practice. */
import { describe, expect, it } from 'vitest';
import { beamCount, beamGroups } from '../../core/engrave/beam-groups.js';
import { frac } from '../../core/theory/fraction.js';
import { events, metre } from './notation.js';

/** Groups by the places of their notes, from 1: `1-4 5-8`. */
const groups = (words: string, name: string): string =>
  beamGroups(events(words), metre(name))
    .map((g) => `${(g[0] as number) + 1}-${(g.at(-1) as number) + 1}`)
    .join(' ');

const many = (count: number, value: string): string => Array.from({ length: count }, (_, i) => (i === 0 ? `C5/${value}` : 'C5')).join(' ');

describe('even notes', () => {
  it.each([
    ['4/4', 8, '1/8', '1-4 5-8'],
    ['2/2', 8, '1/8', '1-4 5-8'],
    ['2/4', 4, '1/8', '1-4'],
    ['3/4', 6, '1/8', '1-2 3-4 5-6'],
    ['5/4', 10, '1/8', '1-2 3-4 5-6 7-8 9-10'],
    ['3/8', 3, '1/8', '1-3'],
    ['6/8', 6, '1/8', '1-3 4-6'],
    ['9/8', 9, '1/8', '1-3 4-6 7-9'],
    ['12/8', 12, '1/8', '1-3 4-6 7-9 10-12'],
    ['5/8', 5, '1/8', '1-3 4-5'],
    ['7/8', 7, '1/8', '1-2 3-4 5-7'],
    ['4/4', 16, '1/16', '1-4 5-8 9-12 13-16'],
    ['2/2', 16, '1/16', '1-4 5-8 9-12 13-16'],
    ['2/4', 8, '1/16', '1-4 5-8'],
    ['3/4', 12, '1/16', '1-4 5-8 9-12'],
    ['6/8', 12, '1/16', '1-6 7-12'],
    ['3/8', 6, '1/16', '1-6'],
    ['4/4', 4, '1/4', ''],
  ])('in %s, %i of %s: %s', (name, count, value, expected) => {
    expect(groups(many(count, value), name)).toBe(expected);
  });
});

describe('mixed notes', () => {
  it.each([
    ['4/4', 'C5/1/4 C5/1/8 C5 C5 C5 C5 C5', '2-3 4-7'],
    ['4/4', 'C5/1/8 C5/1/4 C5/1/8 C5 C5 C5 C5', '4-7'],
    ['4/4', 'C5/1/8 C5 r C5 C5 r C5 C5', '1-2 7-8'],
    ['4/4', 'C5/1/8 C5/1/16 C5 C5/1/8 C5 C5/1/4 C5', '1-3 4-5'],
    ['4/4', 'C5/1/8. C5/1/16 C5/1/8. C5/1/16 C5/1/8. C5/1/16 C5/1/8. C5/1/16', '1-2 3-4 5-6 7-8'],
    ['4/4', 'C5/1/4. C5/1/8 C5/1/4. C5/1/8', ''],
    ['4/4', 'C5/1/4. C5/1/8 C5 C5 C5 C5', '3-6'],
    ['6/8', 'C5/1/8. C5/1/16 C5/1/8 C5/1/4 C5/1/8', '1-3'],
    ['3/4', 'C5/1/8 C5 C5/1/4 C5/1/8 C5', '1-2 4-5'],
    ['4/4', 'C5/1/16 C5 C5/1/8 C5 C5/1/16 C5 C5/1/2', '1-3 4-6'],
  ])('in %s: %s → %s', (name, words, expected) => {
    expect(groups(words, name)).toBe(expected);
  });
});

it('a tuplet has a beam to itself', () => {
  const first = events('C5/1/8 C5 C5', 0);
  const second = events('C5/1/8 C5 C5', 1);
  expect(beamGroups([...first, ...second], metre('4/4'))).toEqual([
    [0, 1, 2],
    [3, 4, 5],
  ]);
});

it('no beam crosses the middle of 4/4', () => {
  for (const [name, count] of [
    ['4/4', 8],
    ['2/2', 8],
  ] as const)
    for (const group of beamGroups(events(many(count, '1/8')), metre(name)))
      expect((group[0] as number) < count / 2).toBe((group.at(-1) as number) < count / 2);
});

it.each([
  ['1', 0],
  ['1/2', 0],
  ['1/4', 0],
  ['1/8', 1],
  ['1/16', 2],
  ['1/32', 3],
  ['1/64', 4],
])('a note of %s has %i beams', (value, count) => {
  expect(beamCount(value === '1' ? frac(1) : frac(1, Number(value.slice(2))))).toBe(count);
});
