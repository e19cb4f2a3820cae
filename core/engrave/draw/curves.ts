/** Ties and slurs as lenses: thin at the ends, thicker in the middle, arched just enough to clear the ink under them. */

import { first } from '../../base/list.js';
import type { Box, LensMark, Owner } from '../drawing.js';
import type { Ink } from '../ink.js';
import { STYLE } from '../style.js';
import type { NotePlace } from './notes.js';

type Point = readonly [number, number];

/** One coordinate of a cubic curve. */
function cubic(p0: number, p1: number, p2: number, p3: number, t: number): number {
  const u = 1 - t;
  return u * u * u * p0 + 3 * u * u * t * p1 + 3 * u * t * t * p2 + t * t * t * p3;
}

/** Points of a curve at which its ink is measured, its ends besides. */
const SAMPLES = 15;

/** Ink of a lens: between its ends and its outer curve. */
function lensBox(from: Point, [a, b]: readonly [Point, Point], to: Point): Box {
  let x0 = Math.min(from[0], to[0]);
  let x1 = Math.max(from[0], to[0]);
  let y0 = Math.min(from[1], to[1]);
  let y1 = Math.max(from[1], to[1]);
  for (let i = 1; i <= SAMPLES; i++) {
    const t = i / (SAMPLES + 1);
    const x = cubic(from[0], a[0], b[0], to[0], t);
    const y = cubic(from[1], a[1], b[1], to[1], t);
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
  }
  return { x0, y0, x1, y1 };
}

/** A lens from one point to another; `side` -1 arches upward, +1 downward; `rise` is the height of the arch. */
export function lens(role: 'tie' | 'slur', owner: Owner, from: Point, to: Point, side: number, rise: number): LensMark {
  const dx = to[0] - from[0];
  const inset = Math.min(0.28 * dx, 5);
  const control = (rise * 4) / 3;
  const half = (STYLE.slurMiddle * 2) / 3;
  const at = (x: number, share: number, extra: number): Point => [x, from[1] + (to[1] - from[1]) * share + side * (control + extra)];
  const outer = [at(from[0] + inset, inset / dx, half), at(to[0] - inset, 1 - inset / dx, half)] as const;
  const inner = [at(from[0] + inset, inset / dx, -half), at(to[0] - inset, 1 - inset / dx, -half)] as const;
  return { kind: 'lens', role, owner, from, to, outer, inner, box: lensBox(from, outer, to) };
}

/** Pieces in which a curve is compared with the ink. */
const STEPS = 24;

/** Ink that a slur over these notes must clear: theirs, but for the heads and stems it hangs on, and the last one's sign. */
export type Obstacles = readonly Box[];

/** The deepest that a curve cuts into the ink below or above it, with the clearance. */
function intrusion(obstacles: Obstacles, { from, to, inner }: LensMark, side: number): number {
  const [a, b] = inner;
  let worst = 0;
  let [x0, y0] = from;
  for (let k = 1; k <= STEPS; k++) {
    const x1 = k === STEPS ? to[0] : cubic(from[0], a[0], b[0], to[0], k / STEPS);
    const y1 = k === STEPS ? to[1] : cubic(from[1], a[1], b[1], to[1], k / STEPS);
    // Over a short stretch the curve is as near to the ink as its nearer end.
    const near = side < 0 ? Math.max(y0, y1) : Math.min(y0, y1);
    for (const box of obstacles) {
      if (box.x1 < x0 || box.x0 > x1) continue;
      worst = Math.max(worst, side < 0 ? near - (box.y0 - STYLE.curveClear) : box.y1 + STYLE.curveClear - near);
    }
    x0 = x1;
    y0 = y1;
  }
  return worst;
}

/** End of a slur at a note: off the head on the head's side, off the stem's end on the other. */
function slurEnd(note: NotePlace, side: number): Point {
  // A whole note has no stem to hang on.
  const stemSide = side < 0 === note.up && note.stemY !== note.y;
  if (stemSide) return [note.stemX, note.stemY + side * STYLE.curveFromStem];
  // Over a wide head the curve is still low at its edge.
  const wide = (note.width - 1.28) * 0.3;
  const y = note.y + side * (STYLE.curveOffset + wide);
  // On the staff's side of a far head it begins beyond the ledger lines, which it would else run through.
  const ledgers = side < 0 ? 5 - STYLE.curveClear : -1 + STYLE.curveClear;
  if (side < 0 ? note.y >= 5.5 : note.y <= -1.5) return [note.x + note.width / 2, side < 0 ? Math.min(y, ledgers) : Math.max(y, ledgers)];
  return [note.x + note.width / 2, y];
}

export type SlurEnds = {
  readonly from: NotePlace | number;
  readonly to: NotePlace | number;
  /** The notes under the slur, and the ink it must clear. */
  readonly inner: readonly NotePlace[];
  readonly obstacles: Obstacles;
};

/** Slur over notes; a number instead of a note is the x where the slur comes from or goes to another system. */
export function drawSlur(ink: Ink, ends: SlurEnds): void {
  const notes = ends.inner;
  const side = notes.every((n) => n.up) ? 1 : -1;
  const a = typeof ends.from === 'number' ? undefined : slurEnd(ends.from, side);
  const b = typeof ends.to === 'number' ? undefined : slurEnd(ends.to, side);
  const loose = side < 0 ? Math.min(-1, ...notes.map((n) => slurEnd(n, side)[1])) : Math.max(5, ...notes.map((n) => slurEnd(n, side)[1]));
  let from: Point = a ?? [ends.from as number, b ? (b[1] + loose) / 2 : loose];
  let to: Point = b ?? [ends.to as number, a ? (a[1] + loose) / 2 : loose];
  // The lower end of a steep slur (the upper one of a slur below) keeps off its head, over which the curve comes down.
  const slope = (to[1] - from[1]) / (to[0] - from[0] || 1);
  const off = side * Math.min(0.8, Math.abs(slope) * 1.3);
  if (slope * side < 0) to = [to[0], to[1] + off];
  else from = [from[0], from[1] + off];
  const owner = { event: first(notes).event };
  const length = to[0] - from[0];
  let rise = Math.min(STYLE.slurRise.most, STYLE.slurRise.least + length * 0.04);
  let mark = lens('slur', owner, from, to, side, rise);
  for (let round = 0; round < 20; round++) {
    const deep = intrusion(ends.obstacles, mark, side);
    if (deep <= 0.02) break;
    rise += deep * 0.8;
    if (round > 1) {
      from = [from[0], from[1] + side * deep * 0.5];
      to = [to[0], to[1] + side * deep * 0.5];
    }
    mark = lens('slur', owner, from, to, side, rise);
  }
  ink.push(mark);
}

/** Tie between two heads of one pitch; a number instead of a note is the x at the edge of the system. */
export function drawTie(ink: Ink, from: NotePlace | number, to: NotePlace | number): void {
  const note = (typeof from === 'number' ? to : from) as NotePlace;
  // Away from the first note's stem and flag.
  const side = note.up ? 1 : -1;
  const y = note.y + side * 0.62;
  const x0 = typeof from === 'number' ? from : from.x + from.width * 0.75;
  // A second stem on the tie's own side stops it before the head.
  const x1 = typeof to === 'number' ? to : to.x + (side > 0 && !to.up ? -0.15 : to.width * 0.25);
  const rise = Math.min(STYLE.tieRise, 0.35 + (x1 - x0) * 0.05);
  ink.push(lens('tie', { event: note.event }, [x0, y], [x1, y], side, rise));
}
