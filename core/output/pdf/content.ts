/**
 * Ink as PDF operators. What comes in is in points from the upper left corner of the trimmed page, y downward; what goes
 * out has y upward from that corner, as PDF's text wants it. Black is DeviceGray 0, so that a press prints it with one ink.
 */

import { assert } from '../../base/issue.js';
import type { FontName } from '../../engrave/drawing.js';
import type { PageItem, TextRun } from '../../layout/page/page.js';
import { factor, decimal as n } from '../decimal.js';
import { drawingOperators } from './drawing.js';
import { type TextEncoder, textWriter } from './text.js';

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

function pathOperator(step: Item<'path'>['d'][number]): string {
  if (step[0] === 'Z') return 'h';
  const [letter, ...places] = step;
  // They are x and y by turns.
  return `${places.map((place, i) => n(i % 2 === 0 ? place : -place)).join(' ')} ${letter.toLowerCase()}`;
}

/** Content of one page: a new page starts with black and without a font, so every page gets its own. */
export function pageContent(encode: TextEncoder, resource: (font: FontName) => string): Content {
  const out: string[] = [];
  const words = textWriter(out, encode, resource);
  let gray = 0;

  function setGray(wanted: number): void {
    if (wanted !== gray) out.push(`${n(wanted)} g`);
    gray = wanted;
  }

  function showGlyph(code: number): string {
    const [stretch] = encode('music', String.fromCodePoint(code), []);
    assert(stretch, 'a glyph of the music font has ink');
    return stretch.whole ? `${stretch.parts}Tj` : `[${stretch.parts}]TJ`;
  }

  return {
    text(run) {
      if (gray !== 0) words.close();
      setGray(0);
      words.show({ ...run, y: -run.y });
    },

    rect({ x, y, width, height, gray: tone = 0 }) {
      words.close();
      setGray(tone);
      out.push(`${n(x)} ${n(-y - height)} ${n(width)} ${n(height)} re f`);
    },

    path({ d, stroke, fill, dash }) {
      assert(stroke !== undefined || fill, 'a path is stroked or filled');
      words.close();
      setGray(0);
      if (stroke !== undefined) out.push(`${n(stroke)} w`);
      if (dash) out.push(`[${n(dash[0])} ${n(dash[1])}] 0 d`);
      for (const step of d) out.push(pathOperator(step));
      out.push(stroke === undefined ? 'f' : fill ? 'B' : 'S');
      if (dash) out.push('[] 0 d');
    },

    drawing(item) {
      const { x, y, scale } = item;
      const drawing = item.draw();
      words.close();
      setGray(0);
      out.push(`q ${factor(scale)} 0 0 ${factor(scale)} ${n(x)} ${n(-y)} cm`);
      drawingOperators(out, drawing, textWriter(out, encode, resource), showGlyph);
      out.push('Q');
      return { x0: x, y0: y + drawing.top * scale, x1: x + drawing.width * scale, y1: y + drawing.bottom * scale };
    },

    take() {
      words.close();
      const operators = out.join('\n');
      out.length = 0;
      return operators;
    },
  };
}
