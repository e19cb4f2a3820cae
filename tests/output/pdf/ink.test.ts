import { describe, expect, it } from 'vitest';
import type { PageItem } from '../../../core/layout/page/page.js';
import { operators, pdfOf } from '../read-pdf.js';
import { FOLIO, sample, staff, withPage } from '../sample.js';

/** Room around the trimmed page: bleed 9 pt and 8 mm for the crop marks. */
const MARGIN = 31.677;

describe('ink', () => {
  const boxed = (x0: number, y0: number, x1: number, y1: number) => ({ role: 'stem' as const, owner: {}, box: { x0, y0, x1, y1 } });
  const drawn = (marks: ReturnType<typeof staff>['marks']): PageItem => ({
    kind: 'drawing',
    x: 10,
    y: 20,
    scale: 5,
    draw: () => ({ marks, width: 10, top: 0, bottom: 4 }),
    tag: FOLIO,
  });
  const plain = { ...sample, bleed: 0, cropMarks: false, outline: [] };
  async function ops(item: PageItem): Promise<string> {
    return operators(await pdfOf({ ...plain, pages: [{ ...sample.pages[0]!, items: [item] }] }, { compress: false }));
  }

  it.each([
    ['rectangle', drawn([{ kind: 'rect', ...boxed(1, 0, 3, 4) }]), 'q 5 0 0 5 10 -20 cm\n1 0 0 1 1 0 cm\n0 -4 2 4 re\nf\nQ'],
    [
      'polygon',
      drawn([
        {
          kind: 'polygon',
          points: [
            [0, 0],
            [2, 0],
            [2, 1],
          ],
          ...boxed(0, 0, 2, 1),
        },
      ]),
      'q 5 0 0 5 10 -20 cm\n1 0 0 1 0 0 cm\n0 0 m 2 0 l 2 -1 l f\nQ',
    ],
    [
      'lens',
      drawn([
        {
          kind: 'lens',
          from: [0, 0],
          to: [4, 0],
          outer: [
            [1, 2],
            [3, 2],
          ],
          inner: [
            [1, 1],
            [3, 1],
          ],
          ...boxed(0, 0, 4, 2),
        },
      ]),
      '1 0 0 1 0 0 cm\n0 0 m 1 -2 3 -2 4 0 c 3 -1 1 -1 0 0 c f',
    ],
    [
      'glyph',
      drawn([{ kind: 'glyph', code: 0xe0a4, x: 2, y: 1, size: 1, ...boxed(2, 0, 3, 1) }]),
      'q 5 0 0 5 10 -20 cm\n1 0 0 1 2 -1 cm\n/F1 4 Tf\nBT\n0 0 Td<0001>Tj\nET\nQ',
    ],
    [
      'small glyph',
      drawn([{ kind: 'glyph', code: 0xe0a4, x: 2, y: 1, size: 0.6, ...boxed(2, 0, 3, 1) }]),
      'q 5 0 0 5 10 -20 cm\nBT\n/F1 2.4 Tf\n2 -1 Td\n<0001>Tj\nET\nQ',
    ],
    ['gray rectangle', { kind: 'rect', x: 1, y: 2, width: 3, height: 4, gray: 0.5, tag: FOLIO }, '0.5 g\n1 -6 3 4 re f'],
    [
      'filled and dashed path',
      { kind: 'path', d: [['M', 0, 0], ['L', 5, 0], ['Z']], stroke: 0.5, fill: true, dash: [1, 2], tag: FOLIO },
      '0.5 w\n[1 2] 0 d\n0 0 m\n5 0 l\nh\nB\n[] 0 d',
    ],
  ] as [string, PageItem, string][])('paints a %s', async (_, item, expected) => {
    expect(await ops(item)).toContain(expected);
  });

  it('is black alone: no colour but gray', async () => {
    const all = operators(await pdfOf(sample, { compress: false }));
    expect(all).not.toMatch(/ (rg|RG|k|K|cs|CS|scn|SCN)$/m);
    expect([...all.matchAll(/^([\d.]+) g$/gm)].map((found) => found[1])).toEqual(['0.8', '0']);
  });

  it('keeps crop marks off the trim and the bleed, inside the sheet', async () => {
    const rects = [
      ...operators(await pdfOf(withPage([]), { compress: false })).matchAll(/([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+) re/g),
    ].map((found) => found.slice(1).map(Number));
    expect(rects).toHaveLength(8);
    for (const [x, y, w, h] of rects as [number, number, number, number][]) {
      expect(x + w < -8.999 || x > 431 + 8.999 || y + h < -612 - 8.999 || y > 8.999).toBe(true);
      expect(x).toBeGreaterThanOrEqual(-MARGIN);
      expect(y).toBeGreaterThanOrEqual(-612 - MARGIN);
      expect(x + w).toBeLessThanOrEqual(431 + MARGIN);
      expect(y + h).toBeLessThanOrEqual(MARGIN);
    }
  });

  it('draws each drawing once', async () => {
    let calls = 0;
    const draw = (): ReturnType<typeof staff> => {
      calls++;
      return staff();
    };
    const item: PageItem = { kind: 'drawing', x: 10, y: 20, scale: 5, draw, tag: FOLIO };
    await pdfOf(withPage([item]));
    expect(calls).toBe(1);
  });

  it.each([
    ['a place that is no number', { kind: 'rect', x: Number.NaN, y: 0, width: 1, height: 1, tag: FOLIO }, 'is a length on a page'],
    ['a path without stroke and fill', { kind: 'path', d: [['M', 0, 0]], tag: FOLIO }, 'a path is stroked or filled'],
    ['a box upside down', drawn([{ kind: 'rect', ...boxed(0, 4, 1, 0) }]), 'upper left corner first'],
    [
      'a glyph that the font lacks',
      drawn([{ kind: 'glyph', code: 0xf8ff, x: 0, y: 0, size: 1, ...boxed(0, 0, 1, 1) }]),
      'the music font has a glyph',
    ],
  ] as [string, PageItem, string][])('refuses %s', async (_, item, message) => {
    await expect(pdfOf(withPage([item]))).rejects.toThrow(message);
  });
});
