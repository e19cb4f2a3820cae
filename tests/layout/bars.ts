/** Bars to be broken into systems: any at random, and what is uneven in a breaking of them, counted here on its own. */
import fc from 'fast-check';
import { type Measure, measureBar } from '../../core/engrave/spacing.js';
import { ALIKE, LOOSEST, type SystemBreak } from '../../core/layout/music/systems.js';
import { fitnessClass } from '../../core/layout/total-fit.js';

export type Problem = {
  readonly measures: readonly Measure[];
  readonly fixed: (from: number, to: number) => number;
  readonly penalties: readonly number[];
  readonly width: number;
};

const sumOf = (all: readonly Measure[], field: keyof Measure): number => all.reduce((sum, m) => sum + m[field], 0);

/** A bar of springs of one kind: what is elastic, what is not, and how far the springs may close. */
export const barOf = (elastic: number, rest: number, rods: number): Measure =>
  measureBar({ lead: rest, barline: 0, springs: [{ ideal: elastic, allowance: 0, rod: rods * elastic }] });

export const sumOfAll = (own: readonly Measure[]): Measure => {
  const of = (field: keyof Measure): number => sumOf(own, field);
  return {
    natural: of('natural'),
    open: of('open'),
    tight: of('tight'),
    halfOpen: of('halfOpen'),
    halfTight: of('halfTight'),
    wideOpen: of('wideOpen'),
    least: of('least'),
  };
};

export type SetBars = { readonly from: number; readonly to: number; readonly ratio: number; readonly filled: boolean };

/** What is uneven in a system and against the one before it. */
export function unevenIn({ measures }: Problem, system: SetBars, before: SetBars | undefined): number {
  if (!system.filled) return 0;
  const { from, to, ratio } = system;
  const own = ratio < -1 || ratio > LOOSEST ? 1 : 0;
  if (!before) return own;
  const widths = measures.slice(before.from, to).map((bar) => bar.natural);
  const alike = Math.min(...widths) >= (1 - ALIKE) * Math.max(...widths);
  const jump = Math.abs(fitnessClass(ratio) - (before.filled ? fitnessClass(before.ratio) : 1)) > 1 ? 1 : 0;
  return own + jump + (alike && Math.abs(to - from - (before.to - before.from)) > 1 ? 1 : 0);
}

/** 20 spaces, of which 16 are elastic. */
export const PLAIN = barOf(16, 4, 0.5);

/** Every way to break so many bars. */
export function* breakings(count: number): Generator<number[]> {
  for (let set = 0; set < 2 ** (count - 1); set++) {
    const ends: number[] = [];
    for (let i = 1; i < count; i++) if (set & (1 << (i - 1))) ends.push(i);
    yield [...ends, count];
  }
}

const bar = fc
  .record({
    springs: fc.double({ min: 6, max: 30, noNaN: true }),
    rest: fc.double({ min: 1, max: 6, noNaN: true }),
    rods: fc.double({ min: 0.5, max: 0.9, noNaN: true }),
  })
  .map(({ springs, rest, rods }) => barOf(springs, rest, rods));

export const problems = fc
  .record({
    bars: fc.array(
      fc.record({ bar, penalty: fc.constantFrom(0, 60, -60), header: fc.constantFrom(4, 6, 9), courtesy: fc.constantFrom(0, 2) }),
      { minLength: 1, maxLength: 10 },
    ),
    width: fc.double({ min: 25, max: 120, noNaN: true }),
  })
  .map(
    ({ bars, width }): Problem => ({
      measures: bars.map((b) => b.bar),
      fixed: (from, to) => (bars[from]?.header ?? 0) + (to < bars.length ? (bars[to]?.courtesy ?? 0) : 0),
      penalties: bars.map((b) => b.penalty),
      width,
    }),
  );

export const unevenOf = (systems: readonly SystemBreak[]): number => systems.reduce((sum, { uneven }) => sum + (uneven?.length ?? 0), 0);
