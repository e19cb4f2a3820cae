/** The ink of a mark as boxes: it fills the glyph's own box, and leaves white where the outline does. */
import { describe, expect, it } from 'vitest';
import { GLYPH } from '../../core/engrave/glyphs.js';
import { inkRows, outlinePoints, overlapOf, whiteBetween } from '../../core/proof/ink-shape.js';
import { testFonts } from '../fonts.js';

const fonts = testFonts();
const moved = (code: number, dx: number, dy: number) =>
  inkRows(code, fonts).map((b) => ({ x0: b.x0 + dx, x1: b.x1 + dx, y0: b.y0 + dy, y1: b.y1 + dy }));

describe('ink of glyphs', () => {
  it.each(Object.entries(GLYPH))('%s: the rows together are as large as the glyph', (_, code) => {
    const rows = inkRows(code, fonts);
    const box = fonts.glyph(code);
    // The rows follow the outline itself; the font's box may stand on control points a little outside it.
    expect(Math.min(...rows.map((r) => r.x0))).toBeCloseTo(box.x0, 1);
    expect(Math.max(...rows.map((r) => r.x1))).toBeCloseTo(box.x1, 1);
    expect(Math.min(...rows.map((r) => r.y0))).toBeCloseTo(box.y0, 1);
    expect(Math.max(...rows.map((r) => r.y1))).toBeCloseTo(box.y1, 1);
  });

  it('a flat leaves white over its bowl: another sign may stand there, though the boxes overlap', () => {
    const flat = moved(GLYPH.accidentalFlat, 0, 0);
    const box = fonts.glyph(GLYPH.accidentalFlat);
    expect(overlapOf(box, { ...box, x0: box.x0 + 0.5, x1: box.x1 + 0.5, y0: box.y0 - 1.5, y1: box.y1 - 1.5 })).toBeGreaterThan(0);
    expect(whiteBetween(flat, moved(GLYPH.accidentalFlat, 0.5, -1.5))).toBeGreaterThan(-0.6);
    expect(Math.max(...flat.flatMap((a) => moved(GLYPH.noteheadBlack, 0.4, -1.6).map((b) => overlapOf(a, b))))).toBeLessThanOrEqual(0);
    // The broken case: lower, it touches the bowl.
    expect(Math.max(...flat.flatMap((a) => moved(GLYPH.noteheadBlack, 0.4, -0.4).map((b) => overlapOf(a, b))))).toBeGreaterThan(0);
  });

  it('reads an outline in all its commands', () => {
    const [contour] = outlinePoints('M0 0L10 0Q20 0 20 10C20 20 10 20 0 20Z');
    expect(contour?.[0]).toEqual([0, 0]);
    expect(contour?.at(-1)).toEqual([0, 0]);
    expect(contour?.length).toBe(1 + 1 + 8 + 8 + 1);
  });
});
