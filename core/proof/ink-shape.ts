/**
 * The ink of a mark as small boxes. A glyph's own box has white corners that other signs may enter (a sharp's arms, a
 * flat's stem, the waist of a clef); so its outline is cut into rows a quarter of a space high and each row takes the
 * extent of the ink inside it. (The purpose of the cut-out boxes of the SMuFL metadata, computed from the outline.)
 */
import { at, first, pairs } from '../base/list.js';
import type { Box, GlyphMark, LensMark, Mark, PolygonMark } from '../engrave/drawing.js';
import type { Fonts } from '../engrave/metrics.js';

export const ROW = 0.25;
/** Columns into which a sloping beam is cut, and points along a curve. */
const COLUMN = 0.5;
const CURVE_STEPS = 64;

type Point = readonly [number, number];

function cubic(a: Point, b: Point, c: Point, d: Point, t: number): Point {
  const u = 1 - t;
  const along = (i: 0 | 1): number => u * u * u * a[i] + 3 * u * u * t * b[i] + 3 * u * t * t * c[i] + t * t * t * d[i];
  return [along(0), along(1)];
}

/** Points along an outline given as an SVG path with absolute M, L, Q, C and Z, curves cut into short lines. */
export function outlinePoints(path: string): Point[][] {
  const contours: Point[][] = [];
  let points: Point[] = [];
  for (const [, command, numbers = ''] of path.matchAll(/([MLQCZ])([^MLQCZ]*)/g)) {
    const n = [...numbers.matchAll(/-?\d+(?:\.\d+)?(?:e-?\d+)?/g)].map((m) => Number(m[0]));
    const point = (i: number): Point => [at(n, 2 * i), at(n, 2 * i + 1)];
    const last = points.at(-1) ?? [0, 0];
    if (command === 'M') {
      points = [point(0)];
      contours.push(points);
    } else if (command === 'L') points.push(point(0));
    else if (command === 'Z') points.push(first(points));
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
    for (const [[x0, y0], [x1, y1]] of pairs(points)) {
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

const glyphRows = new WeakMap<Fonts, Map<string, readonly Box[]>>();

/** Ink of a music glyph at size 1, origin at its baseline, y down. Computed once for each font, glyph and height of rows. */
export function inkRows(code: number, fonts: Fonts, height = ROW): readonly Box[] {
  const known = glyphRows.get(fonts) ?? new Map<string, readonly Box[]>();
  glyphRows.set(fonts, known);
  const id = `${code} ${height}`;
  let rows = known.get(id);
  if (!rows) {
    const scale = 4 / 1000;
    const contours = outlinePoints(fonts.outline(code)).map((points) => points.map(([x, y]): Point => [x * scale, -y * scale]));
    rows = rowsOf(contours, height);
    known.set(id, rows);
  }
  return rows;
}

function glyphInk({ code, x, y, size }: GlyphMark, fonts: Fonts, height: number): Box[] {
  return inkRows(code, fonts, height).map((b) => ({
    x0: x + b.x0 * size,
    x1: x + b.x1 * size,
    y0: y + b.y0 * size,
    y1: y + b.y1 * size,
  }));
}

function polygonInk({ points, box }: PolygonMark, columns: number): Box[] {
  const boxes: Box[] = [];
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
    const b = at(points, (i + 1) % points.length);
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

/** The piece of a curve between two of its places, halved until neither edge rises by more than `rise` in it. */
function lensPieces(mark: LensMark, from: number, to: number, rise: number, boxes: Box[]): void {
  const on = (edge: 'outer' | 'inner', t: number): Point => cubic(mark.from, mark[edge][0], mark[edge][1], mark.to, t);
  const outer = [on('outer', from), on('outer', to)] as const;
  const inner = [on('inner', from), on('inner', to)] as const;
  const steepest = Math.max(Math.abs(outer[1][1] - outer[0][1]), Math.abs(inner[1][1] - inner[0][1]));
  if (steepest > rise && to - from > 1e-4) {
    const middle = (from + to) / 2;
    lensPieces(mark, from, middle, rise, boxes);
    lensPieces(mark, middle, to, rise, boxes);
    return;
  }
  const four = [...outer, ...inner];
  const xs = four.map((p) => p[0]);
  const ys = four.map((p) => p[1]);
  boxes.push({ x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) });
}

function lensInk(mark: LensMark, steps: number, rise: number): Box[] {
  const boxes: Box[] = [];
  for (let i = 0; i < steps; i++) lensPieces(mark, i / steps, (i + 1) / steps, rise, boxes);
  return boxes;
}

/** The ink of a mark as boxes in the drawing's coordinates. */
export function inkOf(mark: Mark, fonts: Fonts): readonly Box[] {
  if (mark.kind === 'glyph') return glyphInk(mark, fonts, ROW);
  if (mark.kind === 'polygon') return polygonInk(mark, Math.max(1, Math.ceil((mark.box.x1 - mark.box.x0) / COLUMN)));
  return mark.kind === 'lens' ? lensInk(mark, CURVE_STEPS, Number.POSITIVE_INFINITY) : [mark.box];
}

/** Height of the rows of a glyph, and rise of a beam or curve within a piece, where ink is looked at closely. */
const FINE = 1 / 64;

/** The same ink in boxes that leave its edges by no more than a 64th of a space. */
export function fineInk(mark: Mark, fonts: Fonts): readonly Box[] {
  if (mark.kind === 'glyph') return glyphInk(mark, fonts, FINE);
  if (mark.kind === 'lens') return lensInk(mark, CURVE_STEPS / 4, FINE);
  if (mark.kind !== 'polygon') return [mark.box];
  const [a, b] = [at(mark.points, 0), at(mark.points, 1)];
  return polygonInk(mark, Math.max(1, Math.ceil(Math.abs(b[1] - a[1]) / FINE)));
}

/** How far two boxes share ink: the smaller of the two directions; negative is the white between them. */
export function overlapOf(a: Box, b: Box): number {
  return Math.min(Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0), Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0));
}

const sharedBox = (a: Box, b: Box): Box => ({
  x0: Math.max(a.x0, b.x0),
  x1: Math.min(a.x1, b.x1),
  y0: Math.max(a.y0, b.y0),
  y1: Math.min(a.y1, b.y1),
});

/** Pieces nearer than this are one piece: they share an edge. */
const JOINT = 1e-6;

/**
 * How far two inks share ink. Pieces of shared ink that touch are taken together, and the depth is the smaller side of the
 * box round them: so the answer does not depend on how finely the inks are cut. Zero or less where they share none.
 */
export function sharedDepth(a: readonly Box[], b: readonly Box[]): number {
  let stretches: Box[] = [];
  for (const x of a) {
    for (const y of b) {
      if (overlapOf(x, y) <= 0) continue;
      let joined = sharedBox(x, y);
      stretches = stretches.filter((other) => {
        if (overlapOf(joined, other) < -JOINT) return true;
        joined = {
          x0: Math.min(joined.x0, other.x0),
          x1: Math.max(joined.x1, other.x1),
          y0: Math.min(joined.y0, other.y0),
          y1: Math.max(joined.y1, other.y1),
        };
        return false;
      });
      stretches.push(joined);
    }
  }
  return Math.max(0, ...stretches.map((s) => Math.min(s.x1 - s.x0, s.y1 - s.y0)));
}

/** White between two inks from left to right where their heights meet; infinite where they never do. */
export function whiteBetween(left: readonly Box[], right: readonly Box[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const a of left) for (const b of right) if (a.y1 > b.y0 && b.y1 > a.y0) least = Math.min(least, b.x0 - a.x1);
  return least;
}
