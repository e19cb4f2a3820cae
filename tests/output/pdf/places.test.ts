/** Where the operators of a drawing put its ink, by the rules of ISO 32000-1 (8.3.4, 9.4.2), against its marks. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { Drawing } from '../../../core/engrave/drawing.js';
import type { PageItem } from '../../../core/layout/page/page.js';
import { operators, pdfOf } from '../read-pdf.js';
import { realEdition } from '../real-edition.js';
import { FOLIO, sample, withPage } from '../sample.js';

type Item = Extract<PageItem, { kind: 'drawing' }>;
/**
 * Corners and control points of shapes in their order, and origins of glyphs, in points of the page, y downward; in what is
 * painted, those of words too, where words on one line may be shown as one.
 */
type Places = { readonly shapes: number[][]; readonly texts: number[][] };

/** Reads the operators between `q` and `Q` of each drawing of a page. */
function painted(content: string): Places[] {
  const drawings: Places[] = [];
  let places: Places | undefined;
  let matrix = [1, 0, 0];
  let line = [0, 0];
  let shape: number[] = [];
  let operands: number[] = [];
  const [, height] = /^1 0 0 -1 0 (\S+) cm/.exec(content)!;
  const point = (x: number, y: number): number[] => [matrix[1]! + x * matrix[0]!, -(matrix[2]! + y * matrix[0]!)];
  for (const token of content.match(/\[[^\]]*\]|<<|>>|<[^>]*>|\/?[^\s<>[\]]+/g)!) {
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = operands;
    if (/^[-+.\d]+$/.test(token)) {
      operands.push(Number(token));
      continue;
    }
    if (/^[[</>]/.test(token)) continue;
    operands = [];
    if (token === 'q') {
      places = { shapes: [], texts: [] };
      drawings.push(places);
      matrix = [1, 0, 0];
    } else if (token === 'Q') places = undefined;
    if (!places) continue;
    if (token === 'cm') {
      expect([b, c, a]).toEqual([0, 0, d]);
      matrix = [matrix[0]! * a, matrix[1]! + e * matrix[0]!, matrix[2]! + f * matrix[0]!];
    } else if (token === 'BT') line = [0, 0];
    else if (token === 'Td') line = [line[0]! + a, line[1]! + b];
    else if (token === 'Tj' || token === 'TJ') places.texts.push(point(line[0]!, line[1]!));
    else if (token === 're') places.shapes.push([...point(a, b + d), ...point(a + c, b)]);
    else if (token === 'm') shape = point(a, b);
    else if (token === 'l') shape.push(...point(a, b));
    else if (token === 'c') shape.push(...point(a, b), ...point(c, d), ...point(e, f));
    else if (token === 'f' && shape.length > 0) {
      places.shapes.push(shape);
      shape = [];
    }
  }
  expect(Number(height)).toBeGreaterThan(100);
  return drawings;
}

function wanted({ x, y, scale }: Item, { marks }: Drawing): Places {
  const at = (points: readonly (readonly [number, number])[]): number[] => points.flatMap(([px, py]) => [x + px * scale, y + py * scale]);
  const shapes: number[][] = [];
  const texts: number[][] = [];
  for (const mark of marks) {
    if (mark.kind === 'text') continue;
    if (mark.kind === 'glyph') texts.push(at([[mark.x, mark.y]]));
    else if (mark.kind === 'polygon') shapes.push(at(mark.points));
    else if (mark.kind === 'rect')
      shapes.push(
        at([
          [mark.box.x0, mark.box.y0],
          [mark.box.x1, mark.box.y1],
        ]),
      );
    else {
      const { from, to, outer, inner } = mark;
      shapes.push(at([from, outer[0], outer[1], to, inner[1], inner[0], from]));
    }
  }
  return { shapes, texts };
}

/** The farthest that a place is from the nearest of its kind among those found, each of which stands for one. */
function farthest(found: readonly number[][], expected: readonly number[][]): number {
  expect(found.length).toBeGreaterThanOrEqual(expected.length);
  const left = [...found];
  let most = 0;
  for (const place of expected) {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    for (const [i, other] of left.entries()) {
      if (other.length !== place.length) continue;
      const off = Math.max(...place.map((v, k) => Math.abs(v - other[k]!)));
      if (off < least) [best, least] = [i, off];
    }
    left.splice(best, 1);
    most = Math.max(most, least);
  }
  return most;
}

/** A hundredth of a staff space, and what the place of the whole drawing is rounded by, in points. */
const near = (scale: number): number => 0.01 * scale + 0.0006;

describe('the ink of a drawing', () => {
  const edition = realEdition('small-wheels', 'trombone').document;
  const pages = edition.pages.filter(({ items }) => items.some(({ kind }) => kind === 'drawing'));
  let contents: string[];
  beforeAll(async () => {
    const file = await pdfOf({ ...edition, pages, outline: [], bleed: 0, cropMarks: false }, { compress: false });
    contents = operators(file)
      .split(/(?=^1 0 0 -1 0 [1-9][\d.]* cm$)/m)
      .filter((content) => content.startsWith('1 0 0 -1 '));
  });

  it('stands within a hundredth of a staff space, in a whole edition', () => {
    expect(contents).toHaveLength(pages.length);
    let marks = 0;
    for (const [i, page] of pages.entries()) {
      const items = page.items.filter((item) => item.kind === 'drawing');
      const found = painted(contents[i]!);
      expect(found).toHaveLength(items.length);
      for (const [k, item] of items.entries()) {
        const expected = wanted(item, item.draw());
        expect(found[k]!.shapes).toHaveLength(expected.shapes.length);
        marks += expected.shapes.length + expected.texts.length;
        expect(farthest(found[k]!.shapes, expected.shapes)).toBeLessThan(near(item.scale));
        expect(farthest(found[k]!.texts, expected.texts)).toBeLessThan(near(item.scale));
      }
    }
    expect(marks).toBeGreaterThan(800);
  });

  it('would be found out when it stood three hundredths away', () => {
    const at = pages.findIndex(({ kind }) => kind === 'music');
    const item = pages[at]!.items.find((other) => other.kind === 'drawing')!;
    const { shapes } = painted(contents[at]!)[0]!;
    const moved = wanted({ ...item, x: item.x + 0.03 * item.scale }, item.draw()).shapes;
    expect(farthest(shapes, moved)).toBeGreaterThan(near(item.scale));
  });

  // Steps are counted whole: were they rounded one by one, a third of a hundredth would be lost at each.
  it('does not drift along a long line', async () => {
    const marks = Array.from({ length: 500 }, (_, event) => {
      const x = (event * 4) / 3;
      return {
        kind: 'glyph',
        role: 'notehead',
        owner: { event },
        code: 0xe0a4,
        x,
        y: 1,
        size: 1,
        box: { x0: x, y0: 0, x1: x, y1: 2 },
      } as const;
    });
    const item: Item = { kind: 'drawing', x: 10.0004, y: 20, scale: 1, draw: () => ({ marks, width: 700, top: 0, bottom: 4 }), tag: FOLIO };
    const file = await pdfOf({ ...withPage([item]), cropMarks: false, bleed: 0 }, { compress: false });
    const found = painted(operators(file))[0]!;
    expect(farthest(found.texts, wanted(item, item.draw()).texts)).toBeLessThan(near(1));
  });
});

describe('runs on one line', () => {
  it('share one array of strings, and its gaps add up', async () => {
    const words = (x: number, text: string): PageItem => ({
      kind: 'text',
      run: { font: 'roman', size: 10, x, y: 50, text, width: 0 },
      tag: FOLIO,
    });
    const items = Array.from({ length: 40 }, (_, i) => words(20 + i * 9.12345, 'n'));
    const all = operators(await pdfOf({ ...sample, ...withPage(items), cropMarks: false, bleed: 0 }, { compress: false }));
    const shown = [...all.matchAll(/\[(.*)\]TJ/g)];
    expect(shown).toHaveLength(1);
    const gaps = shown[0]![1]!.match(/>([-.\d]+)</g)!.map((gap) => -Number(gap.slice(1, -1)) / 100);
    expect(gaps).toHaveLength(39);
    // Every glyph is the same, so the gaps of all differ from 39 steps by 39 advances.
    const { advanceWidth } = (await import('../../fonts.js')).testFonts().opened('roman').glyphsForString('n')[0]!;
    const sum = gaps.reduce((total, gap) => total + gap, 0);
    expect(Math.abs(sum + 39 * (advanceWidth / 100) - 39 * 9.12345)).toBeLessThan(0.001);
  });
});
