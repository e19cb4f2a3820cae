/** The ink of a mark as boxes: it fills the glyph's own box, and leaves white where the outline does. */
import { describe, expect, it } from 'vitest';
import { lens } from '../../core/engrave/draw/curves.js';
import type { LensMark, Mark } from '../../core/engrave/drawing.js';
import { GLYPH } from '../../core/engrave/glyphs.js';
import { fineInk, inkOf, inkRows, outlinePoints, overlapOf, sharedDepth, whiteBetween } from '../../core/proof/ink-shape.js';
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

describe('shared ink', () => {
  const curve = (rise: number): LensMark => lens('slur', {}, [0, 0], [4, 0], -1, rise);
  const block = (x0: number, x1: number, y0: number): Mark => ({ kind: 'rect', role: 'stem', owner: {}, box: { x0, y0, x1, y1: 0 } });
  const top = Math.max(...fineInk(curve(1), fonts).map((b) => -b.y1));

  it.each([0.03, 0.06, 0.1])('a curve that dips %d into a sign is that deep in it, however short it is', (depth) => {
    const own = fineInk(curve(1), fonts);
    const under = own.filter((b) => b.x0 > 1.5 && b.x1 < 2.5).map((b) => -b.y1);
    const found = sharedDepth(own, fineInk(block(1.5, 2.5, -(Math.min(...under) + depth)), fonts));
    expect(found).toBeGreaterThan(depth - 0.02);
    expect(found).toBeLessThan(depth + 0.02);
  });

  it('pieces taken one by one would not show it', () => {
    const own = inkOf(curve(1), fonts);
    const sign = inkOf(block(0.2, 3.8, -top), fonts);
    const single = Math.max(...own.flatMap((a) => sign.map((b) => overlapOf(a, b))));
    expect(sharedDepth(fineInk(curve(1), fonts), sign)).toBeGreaterThan(1.5 * single);
  });

  it('none where a curve passes over', () => {
    expect(sharedDepth(fineInk(curve(1), fonts), fineInk(block(1.5, 2.5, -0.5), fonts))).toBe(0);
  });

  it('of a beam is measured along its slope', () => {
    const points = [
      [0, 0],
      [4, -2],
      [4, -1.5],
      [0, 0.5],
    ] as const;
    const beam: Mark = { kind: 'polygon', role: 'beam', owner: {}, points, box: { x0: 0, x1: 4, y0: -2, y1: 0.5 } };
    const sign = (y0: number): Mark => ({ kind: 'rect', role: 'accidental', owner: {}, box: { x0: 1.9, x1: 2, y0, y1: 3 } });
    // Under x 1.9 to 2 the beam's lower edge stands at -0.45 to -0.5.
    expect(sharedDepth(fineInk(beam, fonts), fineInk(sign(-0.43), fonts))).toBe(0);
    expect(sharedDepth(fineInk(beam, fonts), fineInk(sign(-0.55), fonts))).toBeGreaterThan(0.05);
  });
});
