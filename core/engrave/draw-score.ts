/** One system of a score: staves one below the other, names before them, brackets and through barlines. */
import { assert } from '../issue.js';
import { drawPlaced } from './draw-system.js';
import type { Box, Drawing, Mark } from './drawing.js';
import { GLYPH } from './glyphs.js';
import { headerOf } from './header.js';
import { CAPS, drawingOf, type Ink, inkFor } from './ink.js';
import { placeStack, type StackShape, timeX } from './score-spacing.js';
import { drawSigned, signedWidth } from './signed-text.js';
import { STYLE } from './style.js';

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

const movedBox = ({ x0, y0, x1, y1 }: Box, dx: number, dy: number): Box => ({ x0: x0 + dx, y0: y0 + dy, x1: x1 + dx, y1: y1 + dy });

/** A mark of one staff at its place in the system. */
function moved(mark: Mark, dx: number, dy: number, part: number): Mark {
  const at = (point: readonly [number, number]): readonly [number, number] => [point[0] + dx, point[1] + dy];
  const common = { owner: { ...mark.owner, part }, box: movedBox(mark.box, dx, dy) };
  switch (mark.kind) {
    case 'glyph':
    case 'text':
      return { ...mark, ...common, x: mark.x + dx, y: mark.y + dy };
    case 'rect':
      return { ...mark, ...common };
    case 'polygon':
      return { ...mark, ...common, points: mark.points.map(at) };
    case 'lens':
      return {
        ...mark,
        ...common,
        from: at(mark.from),
        to: at(mark.to),
        outer: [at(mark.outer[0]), at(mark.outer[1])],
        inner: [at(mark.inner[0]), at(mark.inner[1])],
      };
  }
}

/** Each staff by itself, from the top down: what the layout needs to know of their ink. */
export function drawStaves(
  stack: StackShape,
  spec: Pick<StackSpec, 'from' | 'to' | 'width'>,
): { readonly drawings: readonly Drawing[]; readonly width: number } {
  const { staves, width } = placeStack(stack, spec.from, spec.to, spec.width);
  const time = timeX(stack, spec.from);
  const drawings = stack.staves.map((shape, s): Drawing => {
    const drawing = drawPlaced(shape, { from: spec.from, to: spec.to, width }, staves[s] ?? [], width);
    const push = time === undefined ? 0 : time - (headerOf(shape, spec.from).timeX as number);
    // One bar number serves the system.
    const marks = drawing.marks.filter((mark) => s === 0 || mark.role !== 'bar-number');
    return { ...drawing, marks: marks.map((mark) => (mark.role === 'time-signature' ? moved(mark, push, 0, 0) : mark)) };
  });
  return { drawings, width };
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
    const top = (offsets[from] as number) - BRACKET.over;
    const bottom = (offsets[to - 1] as number) + 4 + BRACKET.over;
    ink.rect('bracket', {}, edge, top, edge + BRACKET.thick, bottom);
    ink.glyph('bracket', {}, GLYPH.bracketTop, edge, top);
    ink.glyph('bracket', {}, GLYPH.bracketBottom, edge, bottom);
  }
  const x = edge - BRACKET.step + BRACKET.hook;
  for (const { from, to } of groups) {
    const top = offsets[from] as number;
    const bottom = (offsets[to - 1] as number) + 4;
    ink.rect('bracket', {}, x, top, x + BRACKET.thin, bottom);
    for (const y of [top, bottom]) ink.rect('bracket', {}, x, y - BRACKET.thin / 2, x + BRACKET.hook, y + BRACKET.thin / 2);
  }
}

/** The system with the top line of each staff at its offset in spaces; the first offset is 0. */
export function drawScoreSystem(stack: StackShape, spec: StackSpec, offsets: readonly number[]): Drawing {
  assert(offsets.length === stack.staves.length && spec.names.length === offsets.length, 'each staff has an offset and a name');
  const { drawings, width } = drawStaves(stack, spec);
  const fonts = stack.staves[0]?.fonts;
  assert(fonts, 'a score has a staff');
  const ink = inkFor(width, fonts);
  const half = STYLE.staffLine / 2;
  const last = (offsets.at(-1) as number) + 4;
  if (offsets.length > 1) ink.rect('barline', { bar: spec.from }, 0, -half, STYLE.thinBarline, last + half);
  drawings.forEach((drawing, s) => {
    for (const mark of drawing.marks) ink.push(moved(mark, 0, offsets[s] as number, s));
  });
  for (const { from, to } of spec.sections) {
    for (let s = from; s < to - 1; s++) {
      for (const mark of drawings[s]?.marks ?? []) {
        if (mark.role !== 'barline') continue;
        ink.rect('barline', { ...mark.owner, part: s }, mark.box.x0, (offsets[s] as number) + 4, mark.box.x1, offsets[s + 1] as number);
      }
    }
  }
  drawBrackets(ink, spec, offsets);
  const right = -nameWidth([], spec.groups, ink);
  const size = STYLE.size.label;
  spec.names.forEach((name, s) => {
    const x = right - signedWidth(ink.fonts, 'roman', size, name);
    drawSigned(ink, 'label', undefined, 'roman', size, x, (offsets[s] as number) + 2 + (CAPS * size) / 2, name);
  });
  return drawingOf(ink, width);
}
