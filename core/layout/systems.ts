/**
 * Bars → systems by total fit: of all ways to break the exercise, the one with the least demerits. Ratios, badness,
 * demerits and fitness classes after Knuth & Plass, "Breaking Paragraphs into Lines", SP&E 11 (1981), 1119–1184;
 * applied to music as Hegazy & Gourlay (1987) propose, with widths that depend on the break (header, courtesy signs).
 */
import type { ScoreShape } from '../engrave/shape.js';
import { fixedWidths, type Measure, measureBars } from '../engrave/spacing.js';
import { badness, fitnessClass } from './total-fit.js';

export type SystemBreak = {
  readonly from: number;
  readonly to: number;
  /** Adjustment ratio: 0 natural, -1 as tight and 1 as loose as the style likes. */
  readonly ratio: number;
  /** False for a last system that is left at natural width. */
  readonly justified: boolean;
};

/** Penalties, added to badness: a statement cut by the system's end; a reward for ending at the turnaround. */
export const PENALTY = { cut: 60, turnaround: -60, looseLast: 250, fitness: 100_000 } as const;

/** Ratio from which a last system may be left at natural width. */
export const LOOSE = 0.4;

type State = { cost: number; from: number; ratio: number; justified: boolean; before: State | undefined; fitness: number };

const EPSILON = 1e-6;

/** 0 at natural width, -1 as tight and 1 as loose as the style likes. */
function ratioOf({ natural, open, tight }: Omit<Measure, 'least'>, width: number): number {
  const extra = width - natural;
  return extra >= 0 ? extra / Math.max(EPSILON, open - natural) : extra / Math.max(EPSILON, natural - tight);
}

/** Penalty for ending a system after each bar. */
export const barPenalties = (shape: ScoreShape): number[] =>
  shape.bars.map((b) => (b.bar.cutsStatement ? PENALTY.cut : b.bar.turnaround ? PENALTY.turnaround : 0));

/** Systems of one exercise over a width in spaces. A bar too wide for the width gets a system of its own. */
export function breakSystems(shape: ScoreShape, width: number): SystemBreak[] {
  return breakMeasures(measureBars(shape), fixedWidths(shape), barPenalties(shape), width);
}

/** The same over bare measures: what breaks an ensemble's parts alike, from the widest of each bar. */
export function breakMeasures(
  measures: readonly Measure[],
  fixed: (from: number, to: number) => number,
  penalties: readonly number[],
  width: number,
): SystemBreak[] {
  const count = measures.length;
  /** Best state for each end and fitness class of its last system. */
  const best: (State | undefined)[][] = Array.from({ length: count + 1 }, () => [undefined, undefined, undefined, undefined]);
  best[0] = [{ cost: 0, from: 0, ratio: 0, justified: true, before: undefined, fitness: 1 }, undefined, undefined, undefined];
  for (let from = 0; from < count; from++) {
    const states = (best[from] as (State | undefined)[]).filter((s): s is State => s !== undefined);
    if (states.length === 0) continue;
    let natural = 0;
    let open = 0;
    let tight = 0;
    let least = 0;
    for (let to = from + 1; to <= count; to++) {
      const bar = measures[to - 1] as Measure;
      natural += bar.natural;
      open += bar.open;
      tight += bar.tight;
      least += bar.least;
      const extra = fixed(from, to);
      // Too tight to be read is no way to break, unless a single bar leaves no other.
      if (to > from + 1 && (least + extra > width || tight + extra > width)) break;
      const last = to === count;
      const ratio = ratioOf({ natural: natural + extra, open: open + extra, tight: tight + extra }, width);
      // A last system that would have to be stretched far may stay at natural width, and must beyond the style's limit.
      for (const natural of last ? (ratio > 1 ? [true] : ratio > LOOSE ? [false, true] : [false]) : [false]) {
        const bad = natural ? PENALTY.looseLast + Math.min(40, ratio * 4) : Math.min(1e5, badness(ratio));
        const penalty = last ? 0 : (penalties[to - 1] as number);
        const fitness = natural ? 1 : fitnessClass(ratio);
        const line = Math.max(1, 1 + bad + penalty) ** 2;
        for (const state of states) {
          const jump = from > 0 && Math.abs(state.fitness - fitness) > 1 && !natural ? PENALTY.fitness : 0;
          const cost = state.cost + line + jump;
          const row = best[to] as (State | undefined)[];
          const known = row[fitness];
          if (!known || cost < known.cost) row[fitness] = { cost, from, ratio, justified: !natural, before: state, fitness };
        }
      }
    }
  }
  let state = (best[count] as (State | undefined)[]).filter((s): s is State => s !== undefined).reduce((a, b) => (b.cost < a.cost ? b : a));
  const systems: SystemBreak[] = [];
  let to = count;
  while (state.before) {
    systems.unshift({ from: state.from, to, ratio: state.ratio, justified: state.justified });
    to = state.from;
    state = state.before;
  }
  return systems;
}
