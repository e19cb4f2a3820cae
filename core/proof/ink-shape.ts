/**
 * The ink of a mark as small boxes. A glyph's own box has white corners that other signs may enter (a sharp's arms, a
 * flat's stem, the waist of a clef); so its outline is cut into rows a quarter of a space high and each row takes the
 * extent of the ink inside it. (The purpose of the cut-out boxes of the SMuFL metadata, computed from the outline.)
 */
import type { Box, LensMark, Mark, PolygonMark } from '../engrave/drawing.js';
import type { Fonts } from '../engrave/metrics.js';

export const ROW = 0.25;
/** Columns into which a sloping beam is cut, and points along a curve. */
const COLUMN = 0.5;
const CURVE_STEPS = 64;

type Point = readonly [number, number];

function cubic(a: Point, b: Point, c: Point, d: Point, t: number): Point {
  const u = 1 - t;
  const at = (i: 0 | 1): number => u * u * u * a[i] + 3 * u * u * t * b[i] + 3 * u * t * t * c[i] + t * t * t * d[i];
  return [at(0), at(1)];
}

/** Points along an outline given as an SVG path with absolute M, L, Q, C and Z, curves cut into short lines. */
export function outlinePoints(path: string): Point[][] {
  const contours: Point[][] = [];
  let points: Point[] = [];
  for (const [, command, numbers] of path.matchAll(/([MLQCZ])([^MLQCZ]*)/g)) {
    const n = [...(numbers as string).matchAll(/-?\d+(?:\.\d+)?(?:e-?\d+)?/g)].map((m) => Number(m[0]));
    const point = (i: number): Point => [n[2 * i] as number, n[2 * i + 1] as number];
    const last = points.at(-1) ?? [0, 0];
    if (command === 'M') {
      points = [point(0)];
      contours.push(points);
    } else if (command === 'L') points.push(point(0));
    else if (command === 'Z') points.push(points[0] as Point);
    else {
      const [b, c, d] = command === 'C' ? [point(0), point(1), point(2)] : [point(0), point(0), point(1)];
      for (let i = 1; i <= 8; i++) points.push(cubic(last, b, c, d, i / 8));
    }
  }
  return contours;
}

/** Rows of an outline: for each row of this height the leftmost and rightmost ink in it. */
function rowsOf(contours: readonly (readonly Point[])[], height: number): Box[] {
  const rows = new Map<number, { x0: number; x1: number; y0: number; y1: number }>();
  const take = (row: number, [x, y]: Point): void => {
    const known = rows.get(row);
    if (!known) rows.set(row, { x0: x, x1: x, y0: y, y1: y });
    else {
      known.x0 = Math.min(known.x0, x);
      known.x1 = Math.max(known.x1, x);
      known.y0 = Math.min(known.y0, y);
      known.y1 = Math.max(known.y1, y);
    }
  };
  for (const points of contours) {
    for (let i = 1; i < points.length; i++) {
      const [x0, y0] = points[i - 1] as Point;
      const [x1, y1] = points[i] as Point;
      take(Math.floor(y0 / height), [x0, y0]);
      take(Math.floor(y1 / height), [x1, y1]);
      const from = Math.floor(Math.min(y0, y1) / height) + 1;
      for (let row = from; row * height <= Math.max(y0, y1); row++) {
        const y = row * height;
        if (y1 === y0) continue;
        const crossing: Point = [x0 + ((x1 - x0) * (y - y0)) / (y1 - y0), y];
        take(row, crossing);
        take(row - 1, crossing);
      }
    }
  }
  return [...rows.values()].filter((r) => r.x1 > r.x0 && r.y1 > r.y0);
}

const glyphRows = new WeakMap<Fonts, Map<number, readonly Box[]>>();

/** Ink of a music glyph at size 1, origin at its baseline, y down. Computed once for each font and glyph. */
export function inkRows(code: number, fonts: Fonts): readonly Box[] {
  const known = glyphRows.get(fonts) ?? new Map<number, readonly Box[]>();
  glyphRows.set(fonts, known);
  let rows = known.get(code);
  if (!rows) {
    const scale = 4 / 1000;
    const contours = outlinePoints(fonts.outline(code)).map((points) => points.map(([x, y]): Point => [x * scale, -y * scale]));
    rows = rowsOf(contours, ROW);
    known.set(code, rows);
  }
  return rows;
}

function polygonInk({ points, box }: PolygonMark): Box[] {
  const boxes: Box[] = [];
  const columns = Math.max(1, Math.ceil((box.x1 - box.x0) / COLUMN));
  const width = (box.x1 - box.x0) / columns;
  for (let i = 0; i < columns; i++) {
    const x0 = box.x0 + i * width;
    const ys = [x0, x0 + width].flatMap((x) => heightsAt(points, x));
    if (ys.length > 0) boxes.push({ x0, x1: x0 + width, y0: Math.min(...ys), y1: Math.max(...ys) });
  }
  return boxes;
}

/** Where the edges of a polygon stand at this x. */
export function heightsAt(points: readonly Point[], x: number): number[] {
  const ys: number[] = [];
  points.forEach((a, i) => {
    const b = points[(i + 1) % points.length] as Point;
    const [left, right] = a[0] <= b[0] ? [a, b] : [b, a];
    if (x < left[0] - 1e-9 || x > right[0] + 1e-9) return;
    if (right[0] - left[0] < 1e-9) ys.push(left[1], right[1]);
    else ys.push(left[1] + ((right[1] - left[1]) * (x - left[0])) / (right[0] - left[0]));
  });
  return ys;
}

/** Points of a curve's edge. */
export function edgeOf(mark: LensMark, edge: 'outer' | 'inner'): Point[] {
  const [b, c] = mark[edge];
  return Array.from({ length: CURVE_STEPS + 1 }, (_, i) => cubic(mark.from, b, c, mark.to, i / CURVE_STEPS));
}

function lensInk(mark: LensMark): Box[] {
  const outer = edgeOf(mark, 'outer');
  const inner = edgeOf(mark, 'inner');
  return outer.slice(1).map((point, i) => {
    const four = [outer[i] as Point, point, inner[i] as Point, inner[i + 1] as Point];
    const xs = four.map((p) => p[0]);
    const ys = four.map((p) => p[1]);
    return { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) };
  });
}

/** The ink of a mark as boxes in the drawing's coordinates. */
export function inkOf(mark: Mark, fonts: Fonts): readonly Box[] {
  if (mark.kind === 'glyph') {
    const { x, y, size } = mark;
    return inkRows(mark.code, fonts).map((b) => ({
      x0: x + b.x0 * size,
      x1: x + b.x1 * size,
      y0: y + b.y0 * size,
      y1: y + b.y1 * size,
    }));
  }
  if (mark.kind === 'polygon') return polygonInk(mark);
  return mark.kind === 'lens' ? lensInk(mark) : [mark.box];
}

/** How far two boxes share ink: the smaller of the two directions; negative is the white between them. */
export function overlapOf(a: Box, b: Box): number {
  return Math.min(Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0), Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0));
}

/** White between two inks from left to right where their heights meet; infinite where they never do. */
export function whiteBetween(left: readonly Box[], right: readonly Box[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const a of left) for (const b of right) if (a.y1 > b.y0 && b.y1 > a.y0) least = Math.min(least, b.x0 - a.x1);
  return least;
}
