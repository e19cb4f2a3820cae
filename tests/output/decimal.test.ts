import { describe, expect, it } from 'vitest';
import { decimal, hundredths, thousandths } from '../../core/output/decimal.js';

describe('numbers in a file', () => {
  it.each([
    [0, '0'],
    [-0, '0'],
    [5, '.05'],
    [-50, '-.5'],
    [100, '1'],
    [-1234, '-12.34'],
    [29_999_999, '299999.99'],
  ])('%s hundredths are %s', (count, expected) => {
    expect(hundredths(count)).toBe(expected);
  });

  it.each([
    [1, '.001'],
    [-10, '-.01'],
    [1100, '1.1'],
    [-842_000, '-842'],
  ])('%s thousandths are %s', (count, expected) => {
    expect(thousandths(count)).toBe(expected);
  });

  it('say what JavaScript says of the same number', () => {
    for (let count = -12_345; count <= 12_345; count++) {
      expect(Number(hundredths(count))).toBe(count / 100 + 0);
      expect(Number(thousandths(count))).toBe(count / 1000 + 0);
      expect(Number(decimal(count / 1000))).toBe(count / 1000 + 0);
    }
  });

  it.each([
    ['decimal', () => decimal(Number.NaN)],
    ['decimal', () => decimal(300_000)],
    ['hundredths', () => hundredths(Number.NaN)],
    ['hundredths', () => hundredths(-30_000_000)],
    ['thousandths', () => thousandths(Number.POSITIVE_INFINITY)],
  ] as const)('%s refuses what no page can hold', (_, write) => {
    expect(write).toThrow('is a length on a page');
  });
});
