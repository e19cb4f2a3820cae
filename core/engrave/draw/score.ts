/** One system of a score: staves one below the other, names before them, brackets and through barlines. */

import { assert } from '../../base/issue.js';
import { at, first } from '../../base/list.js';
import type { Drawing, Mark } from '../drawing.js';
import { GLYPH } from '../glyphs.js';
import { headerOf } from '../header.js';
import { CAPS, drawingOf, type Ink, inkFor } from '../ink.js';
import type { Fonts } from '../metrics.js';
import { type PackedDrawing, unpackMarks } from '../packed.js';
import { placeStack, type StackShape, timeX } from '../score-spacing.js';
import type { ScoreShape } from '../shape.js';
import { drawSigned, signedWidth } from '../signed-text.js';
import { STYLE } from '../style.js';
import { drawPlaced } from './system.js';

/** Neighbouring staves [from, to). */
export type StaffSpan = { readonly from: number; readonly to: number };

export type StackSpec = {
  /** Bars [from, to) of the exercise. */
  readonly from: number;
  readonly to: number;
  /** Width in spaces, names not included; undefined for natural width. */
  readonly width: number | undefined;
  /** As printed before each staff. */
  readonly names: readonly string[];
  /** Staves with a bracket and barlines that run through. */
  readonly sections: readonly StaffSpan[];
  /** Staves with a thin inner bracket. */
  readonly groups: readonly StaffSpan[];
};

/** Bracket at the left of the systems: thickness, distance from the staves, overhang (common practice; sizes house). */
const BRACKET = { thick: 0.5, gap: 0.4, over: 0.3, thin: 0.16, step: 1.6, hook: 0.6 } as const;

/** Room between names and what stands right of them. */
const NAME_GAP = 0.8;

/** A sign of one staff moved to the right. */
function pushed(mark: Mark, by: number): Mark {
  if (mark.kind !== 'glyph' || by === 0) return mark;
  return { ...mark, x: mark.x + by, box: { ...mark.box, x0: mark.box.x0 + by, x1: mark.box.x1 + by } };
}

/** Each staff by itself, from the top down; staves that play the same share a drawing. Of the bar numbers the top staff has the only ones. */
export function drawStaves(
  stack: StackShape,
  spec: Pick<StackSpec, 'from' | 'to' | 'width'>,
): { readonly drawings: readonly Drawing[]; readonly width: number } {
  const { staves, width } = placeStack(stack, spec.from, spec.to, spec.width);
  const time = timeX(stack, spec.from);
  const [top] = stack.staves;
  const drawn = new Map(
    stack.distinct.map((shape): [ScoreShape, Drawing] => {
      const drawing = drawPlaced(shape, { from: spec.from, to: spec.to, width }, staves.get(shape) ?? [], width);
      const push = time === undefined ? 0 : time - (headerOf(shape, spec.from).timeX as number);
      const marks = drawing.marks.filter((mark) => shape === top || mark.role !== 'bar-number');
      return [shape, { ...drawing, marks: marks.map((mark) => (mark.role === 'time-signature' ? pushed(mark, push) : mark)) }];
    }),
  );
  return { drawings: stack.staves.map((shape) => drawn.get(shape) as Drawing), width };
}

/** Width of brackets and names left of the staves, in spaces. */
export function nameWidth(names: readonly string[], groups: readonly StaffSpan[], ink: Ink): number {
  const brackets = BRACKET.gap + BRACKET.thick + (groups.length > 0 ? BRACKET.step : 0);
  return brackets + NAME_GAP + Math.max(0, ...names.map((name) => signedWidth(ink.fonts, 'roman', STYLE.size.label, name)));
}

function drawBrackets(ink: Ink, { sections, groups }: StackSpec, offsets: readonly number[]): void {
  const edge = -BRACKET.gap - BRACKET.thick;
  for (const { from, to } of sections) {
    if (to - from < 2) continue;
    const top = at(offsets, from) - BRACKET.over;
    const bottom = at(offsets, to - 1) + 4 + BRACKET.over;
    ink.rect('bracket', {}, edge, top, edge + BRACKET.thick, bottom);
    ink.glyph('bracket', {}, GLYPH.bracketTop, edge, top);
    ink.glyph('bracket', {}, GLYPH.bracketBottom, edge, bottom);
  }
  const x = edge - BRACKET.step + BRACKET.hook;
  for (const { from, to } of groups) {
    const top = at(offsets, from);
    const bottom = at(offsets, to - 1) + 4;
    ink.rect('bracket', {}, x, top, x + BRACKET.thin, bottom);
    for (const y of [top, bottom]) ink.rect('bracket', {}, x, y - BRACKET.thin / 2, x + BRACKET.hook, y + BRACKET.thin / 2);
  }
}

/**
 * The system with the top line of each staff at its offset in spaces; the first offset is 0. `staves`: as drawn by
 * `drawStaves`, packed.
 */
export function drawScoreSystem(staves: readonly PackedDrawing[], spec: StackSpec, offsets: readonly number[], fonts: Fonts): Drawing {
  assert(offsets.length === staves.length && spec.names.length === offsets.length, 'each staff has an offset and a name');
  const width = first(staves).width;
  const ink = inkFor(width, fonts);
  const half = STYLE.staffLine / 2;
  const last = (offsets.at(-1) as number) + 4;
  if (offsets.length > 1) ink.rect('barline', { bar: spec.from }, 0, -half, STYLE.thinBarline, last + half);
  const through = new Set(spec.sections.flatMap(({ from, to }) => Array.from({ length: Math.max(0, to - 1 - from) }, (_, i) => from + i)));
  staves.forEach((staff, s) => {
    const down = at(offsets, s);
    for (const mark of unpackMarks(staff, fonts, { part: s, down })) {
      ink.push(mark);
      if (mark.role !== 'barline' || !through.has(s)) continue;
      ink.rect('barline', mark.owner, mark.box.x0, down + 4, mark.box.x1, at(offsets, s + 1));
    }
  });
  drawBrackets(ink, spec, offsets);
  const right = -nameWidth([], spec.groups, ink);
  const size = STYLE.size.label;
  spec.names.forEach((name, s) => {
    const x = right - signedWidth(ink.fonts, 'roman', size, name);
    drawSigned(ink, 'label', undefined, 'roman', size, x, at(offsets, s) + 2 + (CAPS * size) / 2, name);
  });
  return drawingOf(ink, width);
}
