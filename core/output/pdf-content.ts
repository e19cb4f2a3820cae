/**
 * Ink as PDF operators. Coordinates are points from the upper left corner of the trimmed page, y downward; black is
 * DeviceGray 0, so that a press prints it with one ink.
 */
import type { FontName } from '../engrave/drawing.js';
import { assert } from '../issue.js';
import type { PageItem, TextRun } from '../layout/page.js';
import { decimal as n } from './decimal.js';
import type { TextEncoder } from './pdf-text.js';

type Item<K extends PageItem['kind']> = Extract<PageItem, { readonly kind: K }>;

/** Extent on the page in points, y downward. */
export type Extent = { readonly x0: number; readonly y0: number; readonly x1: number; readonly y1: number };

export type Content = {
  text(run: TextRun): void;
  rect(item: Item<'rect'>): void;
  path(item: Item<'path'>): void;
  /** Draws the item now and keeps nothing of it but its extent. */
  drawing(item: Item<'drawing'>): Extent;
  /** The operators since the last call. */
  take(): string;
};

/** Content of one page: a new page starts with black and without a font, so every page gets its own. */
export function pageContent(encode: TextEncoder, resource: (font: FontName) => string): Content {
  let out: string[] = [];
  let gray = 0;
  let font = '';
  let tracking = 0;

  function setGray(wanted: number): void {
    if (wanted !== gray) out.push(`${n(wanted)} g`);
    gray = wanted;
  }

  /** Shows a text; only between BT and ET. */
  function show(name: FontName, size: number, x: number, y: number, text: string, features: readonly string[], space: number): void {
    const key = `${name} ${size}`;
    if (key !== font) out.push(`/${resource(name)} ${n(size)} Tf`);
    font = key;
    if (space !== tracking) out.push(`${n(space)} Tc`);
    tracking = space;
    // The page's y axis points down; the second minus turns the letters upright again.
    out.push(`1 0 0 -1 ${n(x)} ${n(y)} Tm`);
    let rise = 0;
    for (const stretch of encode(name, text, features)) {
      if (stretch.rise !== rise) out.push(`${n((stretch.rise * size) / 1000)} Ts`);
      rise = stretch.rise;
      out.push(stretch.show);
    }
    if (rise !== 0) out.push('0 Ts');
  }

  return {
    text(run) {
      setGray(0);
      out.push('BT');
      show(run.font, run.size, run.x, run.y, run.text, run.features ?? [], run.tracking ?? 0);
      out.push('ET');
    },

    rect({ x, y, width, height, gray: tone = 0 }) {
      setGray(tone);
      out.push(`${n(x)} ${n(y)} ${n(width)} ${n(height)} re f`);
    },

    path({ d, stroke, fill, dash }) {
      assert(stroke !== undefined || fill, 'a path is stroked or filled');
      setGray(0);
      if (stroke !== undefined) out.push(`${n(stroke)} w`);
      if (dash) out.push(`[${n(dash[0])} ${n(dash[1])}] 0 d`);
      for (const step of d) {
        if (step[0] === 'Z') out.push('h');
        else
          out.push(
            `${step
              .slice(1)
              .map((v) => n(v as number))
              .join(' ')} ${step[0].toLowerCase()}`,
          );
      }
      out.push(stroke === undefined ? 'f' : fill ? 'B' : 'S');
      if (dash) out.push('[] 0 d');
    },

    drawing(item) {
      const { scale } = item;
      const drawing = item.draw();
      const x = (sp: number): number => item.x + sp * scale;
      const y = (sp: number): number => item.y + sp * scale;
      const at = (point: readonly [number, number]): string => `${n(x(point[0]))} ${n(y(point[1]))}`;
      setGray(0);

      // Upright rectangles all turn the same way round, so one fill takes them all. Polygons and lenses may turn
      // either way, and where two of opposite sense overlapped in one path, the paper would show: each is filled alone.
      let rects = false;
      for (const mark of drawing.marks) {
        if (mark.kind !== 'rect') continue;
        const { x0, y0, x1, y1 } = mark.box;
        assert(x1 >= x0 && y1 >= y0, 'the box of a rectangle has its upper left corner first');
        out.push(`${n(x(x0))} ${n(y(y0))} ${n((x1 - x0) * scale)} ${n((y1 - y0) * scale)} re`);
        rects = true;
      }
      if (rects) out.push('f');

      let glyphs = false;
      for (const mark of drawing.marks) {
        if (mark.kind === 'polygon') {
          const [first, ...rest] = mark.points;
          assert(first !== undefined && rest.length > 1, 'a polygon has three points or more');
          out.push(`${at(first)} m ${rest.map((point) => `${at(point)} l`).join(' ')} h f`);
        } else if (mark.kind === 'lens') {
          const { from, to, outer, inner } = mark;
          out.push(`${at(from)} m ${at(outer[0])} ${at(outer[1])} ${at(to)} c ${at(inner[1])} ${at(inner[0])} ${at(from)} c h f`);
        } else if (mark.kind !== 'rect') glyphs = true;
      }

      if (glyphs) out.push('BT');
      for (const mark of drawing.marks) {
        if (mark.kind === 'glyph') {
          show('music', 4 * mark.size * scale, x(mark.x), y(mark.y), String.fromCodePoint(mark.code), [], 0);
        } else if (mark.kind === 'text') {
          show(mark.font, mark.size * scale, x(mark.x), y(mark.y), mark.text, [], 0);
        }
      }
      if (glyphs) out.push('ET');
      return { x0: item.x, y0: y(drawing.top), x1: x(drawing.width), y1: y(drawing.bottom) };
    },

    take() {
      const operators = out.join('\n');
      out = [];
      return operators;
    },
  };
}
