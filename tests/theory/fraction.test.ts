import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  add,
  compare,
  div,
  equal,
  type Fraction,
  frac,
  less,
  max,
  min,
  mod,
  mul,
  parseFraction,
  roundUp,
  sub,
  sum,
  text,
  toNumber,
  ZERO,
} from '../../core/theory/fraction.js';

const fraction = fc.tuple(fc.integer({ min: -200, max: 200 }), fc.integer({ min: 1, max: 96 })).map(([n, d]) => frac(n, d));
const positive = fc.tuple(fc.integer({ min: 1, max: 200 }), fc.integer({ min: 1, max: 96 })).map(([n, d]) => frac(n, d));
const holds = (property: (a: Fraction, b: Fraction, c: Fraction) => void) =>
  fc.assert(fc.property(fraction, fraction, fraction, (a, b, c) => void property(a, b, c)));

describe('fractions form a field', () => {
  test('addition and multiplication commute and associate', () =>
    holds((a, b, c) => {
      expect(add(a, b)).toEqual(add(b, a));
      expect(mul(a, b)).toEqual(mul(b, a));
      expect(add(add(a, b), c)).toEqual(add(a, add(b, c)));
      expect(mul(mul(a, b), c)).toEqual(mul(a, mul(b, c)));
    }));
  test('multiplication distributes over addition', () => holds((a, b, c) => expect(mul(a, add(b, c))).toEqual(add(mul(a, b), mul(a, c)))));
  test('subtraction undoes addition', () => holds((a, b) => expect(sub(add(a, b), b)).toEqual(a)));
  test('division undoes multiplication', () =>
    fc.assert(fc.property(fraction, positive, (a, b) => void expect(div(mul(a, b), b)).toEqual(a))));
  test('order agrees with the numbers', () =>
    holds((a, b) => {
      expect(Math.sign(compare(a, b))).toBe(Math.sign(a.n / a.d - b.n / b.d));
      expect(less(a, b)).toBe(!equal(a, b) && toNumber(a) < toNumber(b));
      expect(equal(max(a, b), a) || equal(max(a, b), b)).toBe(true);
      expect(add(min(a, b), max(a, b))).toEqual(add(a, b));
    }));
  test('lowest terms, positive denominator, no negative zero', () =>
    fc.assert(
      fc.property(fc.integer({ min: -99, max: 99 }), fc.integer({ min: 1, max: 99 }), fc.integer({ min: 1, max: 9 }), (n, d, k) => {
        expect(frac(-n * k, -d * k)).toEqual(frac(n, d));
        expect(Object.is(frac(n, d).n, -0)).toBe(false);
      }),
    ));
});

describe('multiples', () => {
  test('the remainder lies in [0, b) and leaves a whole multiple', () =>
    fc.assert(
      fc.property(fraction, positive, (a, b) => {
        const rest = mod(a, b);
        expect(compare(rest, ZERO) >= 0 && less(rest, b)).toBe(true);
        expect(div(sub(a, rest), b).d).toBe(1);
      }),
    ));
  test('rounding up gives the next multiple and no later one', () =>
    fc.assert(
      fc.property(fraction, positive, (a, b) => {
        const up = roundUp(a, b);
        expect(div(up, b).d).toBe(1);
        expect(compare(up, a) >= 0 && less(sub(up, a), b)).toBe(true);
      }),
    ));
});

test('sums: three eighths of a triplet fill a quarter', () => expect(sum([frac(1, 12), frac(1, 12), frac(1, 12)])).toEqual(frac(1, 4)));

test.each([
  ['3/8', '3/8'],
  [' 2 / 4 ', '1/2'],
  ['1', '1'],
  ['12/4', '3'],
])('reads %s as %s', (source, written) => expect(text(parseFraction(source) as Fraction)).toBe(written));

test.each(['', 'a', '1/', '/4', '1/0', '-1/4', '1.5', '1/4/2', '12345678'])('does not read "%s"', (source) =>
  expect(parseFraction(source)).toBeUndefined(),
);

test.each([
  [1, 0],
  [1.5, 2],
  [Number.NaN, 1],
  [2 ** 60, 1],
])('refuses %s/%s', (n, d) => expect(() => frac(n, d)).toThrow(RangeError));
