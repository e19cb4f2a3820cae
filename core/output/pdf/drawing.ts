/**
 * A drawing as PDF operators, small because it says everything as a step: the ink of one note is written from its own
 * head, so that notes of one kind read alike, wherever they stand, and deflate finds them again.
 */

import { assert } from '../../base/issue.js';
import type { Drawing, GlyphMark, LensMark, Mark, PolygonMark, RectMark, TextMark } from '../../engrave/drawing.js';
import { hundredths, thousandths } from '../decimal.js';
import type { TextWriter } from './text.js';

/** The marks of one event, or what a bar has besides its events, and the point that their places are counted from. */
type Group = {
  x: number;
  y: number;
  headed: boolean;
  readonly glyphs: GlyphMark[];
  readonly rects: RectMark[];
  readonly shapes: (PolygonMark | LensMark)[];
};

/** What is thinner than this, in spaces, is placed in thousandths: a hundredth would show in a line. */
const THIN = 0.5;

/** The operand and operator that show a glyph of the music font. */
export type ShowGlyph = (code: number) => string;

/**
 * The marks in staff spaces, y upward from the top line, to within a hundredth of a space. What is drawn by one event
 * has its origin at the head: `cm` moves from head to head. Words and smaller glyphs come first, in the order of the marks.
 */
export function drawingOperators(out: string[], { marks }: Drawing, words: TextWriter, show: ShowGlyph): void {
  const groups = new Map<number, Group>();
  const rest: (GlyphMark | TextMark)[] = [];
  for (const mark of marks) {
    if (mark.kind === 'text' || (mark.kind === 'glyph' && mark.size !== 1)) rest.push(mark);
    else gather(groups, mark);
  }
  // The whole of the drawing stands between q and Q, so steps need not be taken back; words come first.
  for (const mark of rest) {
    const { x, y } = mark;
    if (mark.kind === 'text') words.show({ font: mark.font, size: mark.size, x, y: -y, text: mark.text });
    else words.show({ font: 'music', size: 4 * mark.size, x, y: -y, text: String.fromCodePoint(mark.code) });
  }
  words.close();
  if (groups.size === 0) return;
  let x = 0;
  let y = 0;
  for (const group of groups.values()) {
    const toX = Math.round(group.x * 100);
    const toY = -Math.round(group.y * 100);
    out.push(`1 0 0 1 ${hundredths(toX - x)} ${hundredths(toY - y)} cm`);
    x = toX;
    y = toY;
    if (group.glyphs.length > 0) words.setFont('music', 4);
    paint(out, group, show);
  }
}

function gather(groups: Map<number, Group>, mark: GlyphMark | RectMark | PolygonMark | LensMark): void {
  const { part = 0, event, bar = -1 } = mark.owner;
  const key = part * 2 ** 32 + (event ?? -2 - bar);
  let group = groups.get(key);
  if (!group) {
    // Without a head the origin is on the grid itself, and adds no error of its own.
    const [startX, startY] = startOf(mark);
    group = { x: onGrid(startX), y: onGrid(startY), headed: false, glyphs: [], rects: [], shapes: [] };
    groups.set(key, group);
  }
  if (mark.kind === 'glyph') {
    if (mark.role === 'notehead' && !group.headed) {
      group.x = mark.x;
      group.y = mark.y;
      group.headed = true;
    }
    group.glyphs.push(mark);
  } else if (mark.kind === 'rect') group.rects.push(mark);
  else group.shapes.push(mark);
}

const onGrid = (place: number): number => Math.round(place * 100) / 100;

function startOf(mark: Exclude<Mark, TextMark>): readonly [number, number] {
  if (mark.kind === 'glyph') return [mark.x, mark.y];
  if (mark.kind === 'rect') return [mark.box.x0, mark.box.y0];
  return mark.kind === 'lens' ? mark.from : (mark.points[0] ?? [0, 0]);
}

function paint(out: string[], { x, y, glyphs, rects, shapes }: Group, show: ShowGlyph): void {
  const at = (point: readonly [number, number]): string =>
    `${hundredths(Math.round((point[0] - x) * 100))} ${hundredths(Math.round((y - point[1]) * 100))}`;

  if (glyphs.length > 0) {
    out.push('BT');
    let penX = 0;
    let penY = 0;
    for (const glyph of glyphs) {
      const toX = Math.round((glyph.x - x) * 100);
      const toY = Math.round((y - glyph.y) * 100);
      out.push(`${hundredths(toX - penX)} ${hundredths(toY - penY)} Td${show(glyph.code)}`);
      penX = toX;
      penY = toY;
    }
    out.push('ET');
  }

  // Upright rectangles all turn the same way round, so one fill takes them all. Polygons and lenses may turn
  // either way, and where two of opposite sense overlapped in one path, the paper would show: each is filled alone.
  for (const { box } of rects) {
    const { x0, y0, x1, y1 } = box;
    assert(x1 >= x0 && y1 >= y0, 'the box of a rectangle has its upper left corner first');
    const [left, width] = span(x0 - x, x1 - x);
    const [bottom, height] = span(y - y1, y - y0);
    out.push(`${left} ${bottom} ${width} ${height} re`);
  }
  if (rects.length > 0) out.push('f');

  for (const shape of shapes) {
    if (shape.kind === 'lens') {
      const { from, to, outer, inner } = shape;
      out.push(`${at(from)} m ${at(outer[0])} ${at(outer[1])} ${at(to)} c ${at(inner[1])} ${at(inner[0])} ${at(from)} c f`);
    } else {
      const [first, ...more] = shape.points;
      assert(first !== undefined && more.length > 1, 'a polygon has three points or more');
      out.push(`${at(first)} m ${more.map((point) => `${at(point)} l`).join(' ')} f`);
    }
  }
}

/** Start and length of a side from one end to the other: both ends are rounded, so that neither is off by more. */
function span(from: number, to: number): readonly [string, string] {
  if (to - from < THIN) return [thousandths(Math.round(from * 1000)), thousandths(Math.round((to - from) * 1000))];
  const start = Math.round(from * 100);
  return [hundredths(start), hundredths(Math.round(to * 100) - start)];
}
