/** Horizontal positions: one factor stretches all springs of a system alike, so equal durations stay equal. */
import { at, last } from '../base/list.js';
import { fullHeaderWidth, headerWidth } from './header.js';
import type { BarShape, ScoreShape, Spring } from './shape.js';
import { cancelled, signatureWidth } from './shape.js';
import { STYLE } from './style.js';

/** Width of a run of bars as a system: at natural setting, and how much of it can stretch. */
export type Measure = {
  /** Spaces at natural setting. */
  readonly natural: number;
  /** Width when the springs are opened as far as the style likes; springs on their rods open late. */
  readonly open: number;
  /** Width when the springs are closed up as far as the style likes; springs on their rods do not close. */
  readonly tight: number;
  /** Half way to those two, and half as far again as open: between them springs come off their rods one by one. */
  readonly halfOpen: number;
  readonly halfTight: number;
  readonly wideOpen: number;
  /** Least width, all rods. */
  readonly least: number;
};

/** Factor limits beyond which a system counts as too tight or too loose. */
export const LIMITS = { least: 1 - STYLE.shrink, most: 1 + STYLE.stretch } as const;

export const advance = (spring: Spring, factor: number): number => Math.max(spring.rod, factor * spring.ideal + spring.allowance);

export function measureBar(shape: Pick<BarShape, 'lead' | 'barline' | 'springs'>): Measure {
  let natural = shape.lead + shape.barline;
  let open = natural;
  let tight = natural;
  let halfOpen = natural;
  let halfTight = natural;
  let wideOpen = natural;
  let least = natural;
  for (const spring of shape.springs) {
    natural += advance(spring, 1);
    open += advance(spring, LIMITS.most);
    tight += advance(spring, LIMITS.least);
    halfOpen += advance(spring, 1 + STYLE.stretch / 2);
    halfTight += advance(spring, 1 - STYLE.shrink / 2);
    wideOpen += advance(spring, 1 + 1.5 * STYLE.stretch);
    least += spring.rod;
  }
  return { natural, open, tight, halfOpen, halfTight, wideOpen, least };
}

/** Measures of all bars on their own, to be added up. */
export function measureBars(shape: ScoreShape): readonly Measure[] {
  return shape.bars.map(measureBar);
}

/** Courtesy signature at the end of a system whose successor begins in another key. */
export function courtesyWidth(shape: ScoreShape, to: number): number {
  const next = shape.bars[to]?.bar;
  if (!next || next.fifthsBefore === undefined) return 0;
  return 0.8 + signatureWidth(next.fifths, cancelled(next.fifthsBefore, next.fifths), shape.fonts) + 0.3;
}

/** What a system of bars [from, to) needs beside its bars: header, changes of key inside, courtesy at its end. */
export function fixedWidth(shape: ScoreShape, from: number, to: number): number {
  let width = fullHeaderWidth(shape, from) - at(shape.bars, from).lead + courtesyWidth(shape, to);
  for (let i = from + 1; i < to; i++) width += at(shape.bars, i).change;
  return width;
}

/** The same for all systems of an exercise: each part is measured once. */
export function fixedWidths(shape: ScoreShape): (from: number, to: number) => number {
  const starts = shape.bars.map((bar, i) => fullHeaderWidth(shape, i) - bar.lead);
  const ends = [...shape.bars.keys(), shape.bars.length].map((to) => courtesyWidth(shape, to));
  /** Changes of key in all bars before. */
  const changes = [0];
  for (const { change } of shape.bars) changes.push(last(changes) + change);
  return (from, to) => at(starts, from) + at(ends, to) + at(changes, to) - at(changes, Math.min(to, from + 1));
}

/** The factor at which springs fill the room exactly. */
export function stretchOf(springs: readonly Spring[], room: number): number {
  // From far above: the width grows ever faster with the factor, so each step comes down to the answer and never passes it.
  let factor = 1e6;
  for (let round = 0; round < 40; round++) {
    let bound = 0;
    let free = 0;
    for (const spring of springs) {
      if (factor * spring.ideal + spring.allowance <= spring.rod) bound += spring.rod;
      else {
        free += spring.ideal;
        bound += spring.allowance;
      }
    }
    const next = free > 0 ? (room - bound) / free : factor;
    if (Math.abs(next - factor) < 1e-10) break;
    factor = next;
  }
  return factor;
}

/** The factor at which the bars [from, to) fill the width exactly. */
export function justify(shape: ScoreShape, from: number, to: number, width: number): number {
  let room = width - fixedWidth(shape, from, to);
  const springs: Spring[] = [];
  for (let i = from; i < to; i++) {
    const bar = at(shape.bars, i);
    room -= bar.lead + bar.barline;
    springs.push(...bar.springs);
  }
  return stretchOf(springs, room);
}

export type PlacedBar = {
  /** Right edge of the barline before, or end of the header. */
  readonly x: number;
  /** x of the left edge of each head. */
  readonly heads: readonly number[];
  /** Left edge of the barline after. */
  readonly barlineX: number;
};

/** Positions of the bars [from, to) in a system set with this factor. */
export function place(shape: ScoreShape, from: number, to: number, factor: number): { bars: PlacedBar[]; width: number } {
  const bars: PlacedBar[] = [];
  let x = 0;
  for (let i = from; i < to; i++) {
    const bar = shape.bars[i] as BarShape;
    const start = i === from ? headerWidth(shape, from) : x;
    let at = i === from ? fullHeaderWidth(shape, from) : x + bar.change + bar.lead;
    const heads: number[] = [];
    for (const spring of bar.springs) {
      heads.push(at);
      at += advance(spring, factor);
    }
    bars.push({ x: start, heads, barlineX: at });
    x = at + bar.barline;
  }
  return { bars, width: x + courtesyWidth(shape, to) };
}
