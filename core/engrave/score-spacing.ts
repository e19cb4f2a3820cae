/** Horizontal positions in a score: notes of all staves that begin together stand in one column. */

import { assert } from '../base/issue.js';
import { at, first } from '../base/list.js';
import { compare, type Fraction, sub, text, toNumber } from '../theory/fraction.js';
import { fullHeaderWidth, headerOf, headerWidth } from './header.js';
import type { BarShape, ScoreShape, Spring } from './shape.js';
import { advance, courtesyWidth, type PlacedBar, stretchOf } from './spacing.js';
import { idealAdvance, STYLE } from './style.js';

/** A bar of all staves: its columns by onset, and the springs between them and to the barline. */
export type ScoreBar = {
  readonly lead: number;
  readonly springs: readonly Spring[];
  readonly change: number;
  readonly barline: number;
  /** Column of each onset within the bar, by its text. */
  readonly columns: ReadonlyMap<string, number>;
};

export type StackShape = {
  /** From the top staff down. */
  readonly staves: readonly ScoreShape[];
  /** The staves that differ: chairs that play the same share a shape. */
  readonly distinct: readonly ScoreShape[];
  readonly bars: readonly ScoreBar[];
  /** By bar: the header of a system that begins with it. */
  readonly headers: readonly StackHeader[];
  /** Width of the courtesy signatures at the end of a system before each bar; one more than there are bars. */
  readonly courtesies: readonly number[];
};

const most = <T>(items: readonly T[], measure: (item: T) => number): number => Math.max(...items.map(measure));

function stackBar(bars: readonly BarShape[]): ScoreBar {
  const onsets = new Map<string, Fraction>(bars.flatMap(({ bar }) => bar.events.map(({ onset }) => [text(onset), onset] as const)));
  const order = [...onsets].sort((a, b) => compare(a[1], b[1]));
  const columns = new Map(order.map(([name], i) => [name, i]));
  const length = first(bars).bar.length;
  const springs = order.map(([, onset], i): { ideal: number; allowance: number; rod: number } => {
    const next = order[i + 1]?.[1] ?? length;
    return { ideal: idealAdvance(toNumber(sub(next, onset))) * STYLE.openness, allowance: i < order.length - 1 ? 0 : -0.4, rod: 0 };
  });
  // Ink of one staff from event to event, the short stretches first, so that a long one adds only what is still lacking.
  const rods = bars.flatMap(({ bar, springs: own }) =>
    bar.events.map((event, i) => {
      const from = columns.get(text(event.onset)) as number;
      const next = bar.events[i + 1];
      const to = next ? (columns.get(text(next.onset)) as number) : order.length;
      const spring = at(own, i);
      return { from, to, rod: spring.rod, allowance: spring.allowance };
    }),
  );
  for (const { from, to, rod, allowance } of rods.sort((a, b) => a.to - a.from - (b.to - b.from))) {
    const last = springs[to - 1];
    assert(last, 'an event ends at a column or at the barline');
    let have = 0;
    for (let i = from; i < to - 1; i++) have += springs[i]?.rod as number;
    last.rod = Math.max(last.rod, rod - have);
    if (to < order.length) last.allowance = Math.max(last.allowance, allowance);
  }
  return {
    lead: most(bars, (bar) => bar.lead),
    springs,
    change: most(bars, (bar) => bar.change),
    barline: most(bars, (bar) => bar.barline),
    columns,
  };
}

/** What stands before the first notes of a system that begins with a bar, for all staves together. */
type StackHeader = {
  /** x of the time signatures, one below the other; undefined where none is due. */
  readonly timeX: number | undefined;
  /** Right edge of the last sign of any staff, and x of the first heads. */
  readonly end: number;
  readonly full: number;
};

/** The time signatures stand in line, so the headers of some staves are widened. */
function stackHeader(staves: readonly ScoreShape[], from: number): StackHeader {
  const times = staves.map((staff) => headerOf(staff, from).timeX);
  const common = times.some((x) => x === undefined) ? undefined : Math.max(...(times as number[]));
  const pushed = (s: number): number => (common === undefined ? 0 : common - (times[s] ?? common));
  return {
    timeX: common,
    end: Math.max(...staves.map((staff, s) => headerWidth(staff, from) + pushed(s))),
    full: Math.max(...staves.map((staff, s) => fullHeaderWidth(staff, from) + pushed(s))),
  };
}

/** Staves of one exercise, each already shaped; all have the same bars. */
export function stackShapes(staves: readonly ScoreShape[]): StackShape {
  const [first] = staves;
  assert(first && staves.every((staff) => staff.bars.length === first.bars.length), 'all staves of a score have the same bars');
  const distinct = [...new Set(staves)];
  return {
    staves,
    distinct,
    bars: first.bars.map((_, i) => stackBar(distinct.map((staff) => at(staff.bars, i)))),
    headers: first.bars.map((_, i) => stackHeader(distinct, i)),
    courtesies: Array.from({ length: first.bars.length + 1 }, (_, i) => most(distinct, (staff) => courtesyWidth(staff, i))),
  };
}

const headerAt = ({ headers }: StackShape, from: number): StackHeader => at(headers, from);

/** x of the time signatures of a system that begins with this bar. */
export const timeX = (stack: StackShape, from: number): number | undefined => headerAt(stack, from).timeX;

/** What a system of bars [from, to) needs beside its bars, in spaces. */
export function stackFixed(stack: StackShape, from: number, to: number): number {
  let width = headerAt(stack, from).full - at(stack.bars, from).lead + at(stack.courtesies, to);
  for (let i = from + 1; i < to; i++) width += at(stack.bars, i).change;
  return width;
}

/** The bars [from, to) over a width in spaces, or at natural width: for each staff that differs where its bars and heads stand. */
export function placeStack(
  stack: StackShape,
  from: number,
  to: number,
  width: number | undefined,
): { readonly staves: ReadonlyMap<ScoreShape, readonly PlacedBar[]>; readonly width: number } {
  const bars = stack.bars.slice(from, to);
  let factor = 1;
  if (width !== undefined) {
    const room = bars.reduce((left, bar) => left - bar.lead - bar.barline, width - stackFixed(stack, from, to));
    factor = stretchOf(
      bars.flatMap((bar) => bar.springs),
      room,
    );
  }
  const staves = new Map(stack.distinct.map((staff) => [staff, [] as PlacedBar[]]));
  let x = 0;
  bars.forEach((bar, i) => {
    const start = i === 0 ? headerAt(stack, from).end : x;
    let at = i === 0 ? headerAt(stack, from).full : x + bar.change + bar.lead;
    const heads = bar.springs.map((spring) => {
      const here = at;
      at += advance(spring, factor);
      return here;
    });
    for (const [staff, placed] of staves) {
      const { events } = (staff.bars[from + i] as BarShape).bar;
      placed.push({
        x: start,
        heads: events.map((event) => heads[bar.columns.get(text(event.onset)) as number] as number),
        barlineX: at,
      });
    }
    x = at + bar.barline;
  });
  return { staves, width: x + (stack.courtesies[to] as number) };
}
