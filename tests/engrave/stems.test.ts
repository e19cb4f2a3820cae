/** Stems. Gould, Behind Bars, p. 14 (read); MPA, Standard Music Notation Practice, 1993 (read). */
import { describe, expect, it } from 'vitest';
import { beamUp, stemEnd, stemUp } from '../../core/engrave/draw/stems.js';
import { GLYPH } from '../../core/engrave/glyphs.js';
import { testFonts } from '../fonts.js';

describe('direction', () => {
  it.each([
    [2.5, true],
    [2, false],
    [1.5, false],
    [6, true],
    [-3, false],
  ])('a head at %d points up: %s', (y, up) => {
    expect(stemUp(y)).toBe(up);
  });

  it.each([
    [[1, 4], true],
    [[0, 3], false],
    [[0, 4], false],
    [[2, 2], false],
    [[2, 2.5], true],
    [[3, 3, 0.5], false],
    [[3.5, 3, 0.5], false],
    [[3.5, 3, 1], true],
  ])('under one beam the head farthest from the middle decides: %j up %s', (ys, up) => {
    expect(beamUp(ys)).toBe(up);
  });
});

it.each([1, 2, 3])('%i flags of a stem that points down stay clear of its head', (flags) => {
  const flag = testFonts().glyph([GLYPH.flag8thDown, GLYPH.flag16thDown, GLYPH.flag32ndDown][flags - 1] as number);
  for (let y = 2; y >= 0; y -= 0.5) expect(stemEnd(y, false, flags) + flag.y0).toBeGreaterThanOrEqual(y + 0.5 - 1e-9);
});

describe('length', () => {
  it.each([
    // head, up, flags, end
    [3, true, 0, -0.5],
    [2, false, 0, 5.5],
    [0, false, 1, 3.5],
    [5, true, 0, 1.5],
    [6, true, 0, 2],
    [8, true, 0, 2],
    [-2, false, 0, 2],
    [-5, false, 2, 2],
    [3, true, 3, -1.25],
  ])('from a head at %d, up %s, %i flags, to %d', (y, up, flags, end) => {
    expect(stemEnd(y, up, flags)).toBeCloseTo(end, 10);
  });

  it('is never shorter than 3½ and reaches the middle line from beyond the staff', () => {
    for (let y = -8; y <= 12; y += 0.5) {
      const up = stemUp(y);
      const end = stemEnd(y, up, 0);
      expect(Math.abs(end - y)).toBeGreaterThanOrEqual(3.5);
      if (y <= -1.5) expect(end).toBeGreaterThanOrEqual(2);
      if (y >= 5.5) expect(end).toBeLessThanOrEqual(2);
    }
  });
});
