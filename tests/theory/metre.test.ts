import { describe, expect, test } from 'vitest';
import { frac, parseFraction, sum, text } from '../../core/theory/fraction.js';
import {
  barLength,
  beatLengths,
  beatStarts,
  eighthGroups,
  isCompound,
  METRES,
  type Metre,
  metreText,
  parseMetre,
  tempoBeat,
} from '../../core/theory/metre.js';

const metre = (name: string): Metre => parseMetre(name) as Metre;

describe.each(METRES)('%s', (name) => {
  test('is read and written alike', () => expect(metreText(metre(name))).toBe(name));
  test('its beats fill the bar', () => expect(sum(beatLengths(metre(name)))).toEqual(parseFraction(name)));
  test('its beam groups fill the bar', () => expect(sum(eighthGroups(metre(name)))).toEqual(barLength(metre(name))));
  test('beats start where the one before ends', () => {
    const starts = beatStarts(metre(name));
    expect(starts[0]).toEqual(frac(0));
    expect(starts.at(-1)).toEqual(barLength(metre(name)));
    beatLengths(metre(name)).forEach((length, i) => {
      expect(sum([starts[i] as typeof length, length])).toEqual(starts[i + 1]);
    });
  });
  test('no beat is cut by a beam group', () => {
    const starts = beatStarts(metre(name)).map(text);
    const groups = eighthGroups(metre(name));
    groups.forEach((_, i) => {
      expect(starts).toContain(text(sum(groups.slice(0, i))));
    });
  });
});

// Common practice.
test.each([
  ['4/4', '1/4 1/4 1/4 1/4', '1/2 1/2', '1/4'],
  ['3/4', '1/4 1/4 1/4', '1/4 1/4 1/4', '1/4'],
  ['2/2', '1/2 1/2', '1/2 1/2', '1/2'],
  ['6/8', '3/8 3/8', '3/8 3/8', '3/8'],
  ['12/8', '3/8 3/8 3/8 3/8', '3/8 3/8 3/8 3/8', '3/8'],
  ['3/8', '3/8', '3/8', '1/8'],
  ['5/8', '3/8 1/4', '3/8 1/4', '1/8'],
  ['7/8', '1/4 1/4 3/8', '1/4 1/4 3/8', '1/8'],
])('%s: beats %s, beams %s, tempo beat %s', (name, beats, groups, beat) => {
  expect(beatLengths(metre(name)).map(text).join(' ')).toBe(beats);
  expect(eighthGroups(metre(name)).map(text).join(' ')).toBe(groups);
  expect(text(tempoBeat(metre(name)))).toBe(beat);
});

test('compound metres', () => expect(METRES.filter((name) => isCompound(metre(name)))).toEqual(['6/8', '9/8', '12/8']));

test.each(['', '4', '4/3', '13/8', '0/4', 'common'])('"%s" is no metre', (source) => expect(parseMetre(source)).toBeUndefined());

test('3/4 and 6/8 fill the same time with other beats', () => {
  expect(barLength(metre('6/8'))).toEqual(barLength(metre('3/4')));
  expect(tempoBeat(metre('6/8'))).not.toEqual(tempoBeat(metre('3/4')));
});
