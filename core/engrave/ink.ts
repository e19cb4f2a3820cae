/** Collects the marks of one staff and keeps its skyline. */
import type { Box, Drawing, FontName, Mark, Owner, Role } from './drawing.js';
import type { Fonts } from './metrics.js';
import { type Skyline, skyline } from './skyline.js';

export type Ink = {
  readonly fonts: Fonts;
  readonly sky: Skyline;
  readonly marks: Mark[];
  glyph(role: Role, owner: Owner, code: number, x: number, y: number, size?: number): Box;
  rect(role: Role, owner: Owner, x0: number, y0: number, x1: number, y1: number): void;
  polygon(role: Role, owner: Owner, points: readonly (readonly [number, number])[]): void;
  push(mark: Mark): void;
  /** Text with its left end at x; returns its advance width. */
  text(role: Role, owner: Owner, font: FontName, size: number, x: number, y: number, text: string): number;
};

/** Height of capitals and figures in the text fonts, and of descenders, as shares of the type size (Source Serif 4). */
export const CAPS = 0.67;
export const DESCENT = 0.21;

export function boxOf(points: readonly (readonly [number, number])[]): Box {
  let [x0, y0, x1, y1] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const [x, y] of points) {
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
  }
  return { x0, y0, x1, y1 };
}

/** Ink of a glyph of the music font whose origin stands at x, y. */
export function glyphInk(fonts: Fonts, code: number, x: number, y: number, size: number): Box {
  const b = fonts.glyph(code);
  return { x0: x + b.x0 * size, y0: y + b.y0 * size, x1: x + b.x1 * size, y1: y + b.y1 * size };
}

export function inkFor(width: number, fonts: Fonts): Ink {
  const marks: Mark[] = [];
  const sky = skyline(width);
  const push = (mark: Mark): void => {
    marks.push(mark);
    if (mark.role !== 'staff-line') sky.add(mark.box);
  };
  return {
    fonts,
    sky,
    marks,
    push,
    glyph(role, owner, code, x, y, size = 1) {
      const box = glyphInk(fonts, code, x, y, size);
      push({ kind: 'glyph', role, owner, code, x, y, size, box });
      return box;
    },
    rect(role, owner, x0, y0, x1, y1) {
      push({ kind: 'rect', role, owner, box: { x0, y0, x1, y1 } });
    },
    polygon(role, owner, points) {
      push({ kind: 'polygon', role, owner, points, box: boxOf(points) });
    },
    text(role, owner, font, size, x, y, text) {
      const width = fonts.width(font, text) * size;
      push({ kind: 'text', role, owner, font, size, x, y, text, box: { x0: x, y0: y - CAPS * size, x1: x + width, y1: y } });
      return width;
    },
  };
}

export function drawingOf(ink: Ink, width: number): Drawing {
  let top = 0;
  let bottom = 4;
  for (const { box } of ink.marks) {
    if (box.y0 < top) top = box.y0;
    if (box.y1 > bottom) bottom = box.y1;
  }
  return { marks: ink.marks, width, top, bottom };
}
