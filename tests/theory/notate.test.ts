/** Durations into written values. Rules: Gould, Behind Bars, pp. 153–170 (second-hand); the rest common practice. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, compare, equal, frac, less, mul, sum, text, toNumber } from '../../core/theory/fraction.js';
import { barLength, beatStarts, METRES, parseMetre } from '../../core/theory/metre.js';
import { noteMayStand, restMayStand, singleValue, split } from '../../core/theory/notate.js';
import { fraction, metre, valuesText, valueText } from '../engrave/notation.js';

const written = (onset: string, duration: string, name: string, rest = false): string =>
  valuesText(split(fraction(onset), fraction(duration), metre(name), rest));

describe('notes', () => {
  it.each([
    // metre, from, how long, written
    ['4/4', '0', '1', '1'],
    ['4/4', '0', '3/4', '2.'],
    ['4/4', '0', '5/8', '2~8'],
    ['4/4', '0', '7/8', '2.~8'],
    ['4/4', '1/4', '1/2', '2'],
    ['4/4', '1/4', '3/4', '4~2'],
    ['4/4', '1/4', '3/8', '4~8'],
    ['4/4', '1/2', '3/8', '4.'],
    ['4/4', '1/8', '1/4', '4'],
    ['4/4', '1/8', '3/8', '8~4'],
    ['4/4', '3/8', '1/4', '8~8'],
    ['4/4', '3/8', '5/8', '8~2'],
    ['4/4', '5/8', '1/4', '4'],
    ['4/4', '1/16', '3/16', '8.'],
    ['4/4', '1/16', '1/4', '8.~16'],
    ['4/4', '3/16', '1/8', '16~16'],
    ['3/4', '0', '3/4', '2.'],
    ['3/4', '0', '5/8', '2~8'],
    ['3/4', '1/4', '1/2', '2'],
    ['3/4', '1/8', '1/4', '4'],
    ['2/4', '0', '1/2', '2'],
    ['2/4', '0', '3/8', '4.'],
    ['2/4', '1/8', '1/4', '4'],
    ['2/4', '1/8', '3/8', '8~4'],
    ['5/4', '0', '5/4', '2.~2'],
    ['5/4', '0', '1', '2.~4'],
    ['5/4', '1/2', '1/2', '4~4'],
    ['2/2', '0', '1', '1'],
    ['2/2', '1/4', '1/2', '4~4'],
    ['2/2', '0', '3/4', '2~4'],
    ['3/8', '0', '3/8', '4.'],
    ['6/8', '0', '3/4', '2.'],
    ['6/8', '0', '1/2', '4.~8'],
    ['6/8', '1/8', '1/4', '4'],
    ['6/8', '1/4', '1/4', '8~8'],
    ['6/8', '3/8', '3/8', '4.'],
    ['9/8', '0', '9/8', '2.~4.'],
    ['9/8', '3/8', '3/4', '2.'],
    ['9/8', '1/4', '1/2', '8~4.'],
    ['12/8', '0', '3/2', '1.'],
    ['12/8', '0', '9/8', '2.~4.'],
    ['12/8', '3/8', '3/4', '4.~4.'],
    ['5/8', '0', '5/8', '4.~4'],
    ['5/8', '1/4', '1/4', '8~8'],
    ['7/8', '0', '7/8', '4~4~4.'],
    ['7/8', '1/8', '1/8', '8'],
  ])('in %s from %s for %s: %s', (name, onset, duration, expected) => {
    expect(written(onset, duration, name)).toBe(expected);
  });
});

describe('rests', () => {
  it.each([
    ['4/4', '0', '1/2', '2'],
    ['4/4', '1/2', '1/2', '2'],
    ['4/4', '1/4', '1/2', '4~4'],
    ['4/4', '0', '3/4', '2~4'],
    ['4/4', '1/4', '3/4', '4~2'],
    ['4/4', '1/8', '3/8', '8~4'],
    ['4/4', '0', '3/8', '4~8'],
    ['4/4', '1/16', '3/16', '8~16'],
    ['3/4', '0', '1/2', '4~4'],
    ['3/4', '1/4', '1/2', '4~4'],
    ['2/4', '1/8', '3/8', '8~4'],
    ['2/2', '1/2', '1/2', '2'],
    ['5/4', '0', '1/2', '4~4'],
    ['6/8', '0', '3/8', '4.'],
    ['6/8', '3/8', '3/8', '4.'],
    ['6/8', '1/8', '5/8', '4~4.'],
    ['9/8', '3/8', '3/4', '4.~4.'],
    ['5/8', '3/8', '1/4', '4'],
    ['7/8', '1/2', '3/8', '4~8'],
  ])('in %s from %s for %s: %s', (name, onset, duration, expected) => {
    expect(written(onset, duration, name, true)).toBe(expected);
  });
});

describe('single values', () => {
  it.each([
    ['1', '1'],
    ['3/2', '1.'],
    ['3/8', '4.'],
    ['7/16', '4..'],
    ['1/64', '64'],
  ])('%s is one value', (duration, expected) => {
    const found = singleValue(fraction(duration));
    expect(found && valueText(found)).toBe(expected);
    expect(found && equal(found.duration, fraction(duration))).toBe(true);
  });

  it.each(['5/8', '1/12', '1/128', '2', '9/8'])('%s is none', (duration) => {
    expect(singleValue(fraction(duration))).toBeUndefined();
  });
});

/** A stretch inside one bar, on a grid of sixteenths or thirty-seconds. */
const stretches = fc
  .record({ name: fc.constantFrom(...METRES), grid: fc.constantFrom(16, 32), a: fc.nat(), b: fc.nat(), rest: fc.boolean() })
  .map(({ name, grid, a, b, rest }) => {
    const bar = barLength(metre(name));
    const slots = (bar.n * grid) / bar.d;
    const [from, to] = [a % slots, 1 + (b % slots)];
    return { name, rest, onset: frac(Math.min(from, to - 1), grid), end: frac(Math.max(from + 1, to), grid) };
  });

describe('any stretch inside a bar', () => {
  it('is written in values that add up exactly, each allowed where it stands', () => {
    fc.assert(
      fc.property(stretches, ({ name, rest, onset, end }) => {
        const duration = frac(end.n * onset.d - onset.n * end.d, end.d * onset.d);
        const pieces = split(onset, duration, metre(name), rest);
        expect(text(sum(pieces.map((p) => p.duration)))).toBe(text(duration));
        let at = onset;
        for (const piece of pieces) {
          const nominal = mul(piece.base, frac(2 ** (piece.dots + 1) - 1, 2 ** piece.dots));
          expect(text(piece.duration)).toBe(text(nominal));
          const may = rest ? restMayStand(at, piece, metre(name)) : noteMayStand(at, piece, metre(name), pieces.length === 1);
          expect(may, `${text(at)} ${valueText(piece)}`).toBe(true);
          at = add(at, piece.duration);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('shows the middle of the bar in 4/4, but for a whole or dotted half from the first beat and a half from the second', () => {
    fc.assert(
      fc.property(stretches, ({ onset, end }) => {
        if (compare(end, frac(1)) > 0 || !less(onset, end)) return;
        const duration = frac(end.n * onset.d - onset.n * end.d, end.d * onset.d);
        let at = onset;
        for (const piece of split(onset, duration, metre('4/4'), false)) {
          const over = toNumber(at) < 0.5 && toNumber(at) + toNumber(piece.duration) > 0.5;
          const known = ['0 1', '0 2.', '1/4 2'].includes(`${text(at)} ${valueText(piece)}`);
          expect(!over || known, `${text(at)} ${valueText(piece)}`).toBe(true);
          at = add(at, piece.duration);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('shows every beat of a compound metre', () => {
    fc.assert(
      fc.property(stretches, ({ name, onset, end }) => {
        const found = metre(name);
        if (!['6/8', '9/8', '12/8'].includes(name)) return;
        const starts = beatStarts(found);
        let at = onset;
        for (const piece of split(onset, frac(end.n * onset.d - onset.n * end.d, end.d * onset.d), found, false)) {
          const until = add(at, piece.duration);
          const hidden = starts.some((s) => less(at, s) && less(s, until));
          const whole = starts.some((s) => equal(s, at)) && starts.some((s) => equal(s, until));
          expect(!hidden || whole, `${text(at)} ${valueText(piece)}`).toBe(true);
          at = until;
        }
      }),
    );
  });
});

it('a note over the middle of the bar is refused', () => {
  const quarter = singleValue(frac(1, 4));
  expect(quarter && noteMayStand(frac(3, 8), quarter, metre('4/4'), true)).toBe(false);
  expect(quarter && noteMayStand(frac(1, 8), quarter, metre('4/4'), true)).toBe(true);
  expect(quarter && noteMayStand(frac(1, 8), quarter, metre('4/4'), false)).toBe(false);
});

it('a metre that is not in the list is none', () => {
  expect(parseMetre('4/3')).toBeUndefined();
});
