/** Lengths. An inch is 25.4 mm (ISO 80000-3), a point a 72nd of it (ISO 32000-1, 8.3.2.3). */
import { expect, test } from 'vitest';
import { inchToPt, mmToPt, ptToMm, spaceOf } from '../../core/base/units.js';

test('millimetres, points, inches', () => {
  expect(mmToPt(25.4)).toBeCloseTo(72, 9);
  expect(mmToPt(210)).toBeCloseTo(595.2756, 4);
  expect(ptToMm(72)).toBeCloseTo(25.4, 9);
  expect(ptToMm(42.52)).toBeCloseTo(15.0001, 4);
  expect(inchToPt(8.5)).toBe(612);
});

test('a staff of 7 mm has spaces of 1.75 mm', () => expect(spaceOf(7)).toBeCloseTo(4.9606, 4));
