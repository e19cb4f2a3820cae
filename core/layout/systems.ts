/**
 * Bars → systems by total fit: of all ways to break the exercise, the one with the least demerits. Ratios, badness,
 * demerits and fitness classes after Knuth & Plass, "Breaking Paragraphs into Lines", SP&E 11 (1981), 1119–1184;
 * applied to music as Hegazy & Gourlay (1987) propose, with widths that depend on the break (header, courtesy signs).
 */
import type { ScoreShape } from '../engrave/shape.js';
import { fixedWidths, type Measure, measureBars } from '../engrave/spacing.js';
import { badness, fitnessClass } from './total-fit.js';

/** What a system lacks that even setting asks for; `overfull` does not fit at all; `jump` and `count` are against the system before it. */
export type Unevenness = 'loose' | 'tight' | 'overfull' | 'jump' | 'count';

export type SystemBreak = {
  readonly from: number;
  readonly to: number;
  /** Adjustment ratio: 0 natural, -1 as tight and 1 as loose as the style likes. */
  readonly ratio: number;
  /** False for a last system that is left at natural width. */
  readonly justified: boolean;
  /** Only where no breaking of the exercise has less of it. */
  readonly uneven?: readonly Unevenness[];
};

/**
 * Penalties, added to badness: a statement cut by the system's end; a reward for ending at the turnaround. Demerits of
 * each unevenness: more than any evenly set exercise can have.
 */
export const PENALTY = { cut: 60, turnaround: -60, looseLast: 250, uneven: 1e11 } as const;

/** Ratio from which a last system may be left at natural width. */
export const LOOSE = 0.4;

/** Ratio beyond which a filled system is too loose (house: a whole system begins to look open beside its neighbours). */
export const LOOSEST = 1.5;

/** Bars are alike when their natural widths differ by no more than this share of the widest (house). */
export const ALIKE = 0.1;

/** Badness is counted no higher. */
const WORST = 1e4;

/** A system that some breaking has, with the best way to come to its end. */
type State = {
  readonly from: number;
  readonly to: number;
  readonly ratio: number;
  readonly justified: boolean;
  readonly fitness: number;
  /** Natural widths of its narrowest and its widest bar. */
  readonly narrowest: number;
  readonly widest: number;
  readonly own: readonly Unevenness[];
  cost: number;
  before: State | undefined;
};

const EPSILON = 1e-6;

type Widths = Omit<Measure, 'least'>;

/**
 * 0 at natural width, -1 as tight and 1 as loose as the style likes. Exact at -1, -½, 0, ½, 1 and 1½, so that a system's
 * fitness class is that of its drawing; straight between them.
 */
export function ratioOf({ tight, halfTight, natural, halfOpen, open, wideOpen }: Widths, width: number): number {
  const between = (a: number, b: number): number => (0.5 * (width - a)) / Math.max(EPSILON, b - a);
  if (width < natural) return width < halfTight ? -1 + between(tight, halfTight) : -0.5 + between(halfTight, natural);
  if (width <= open) return width <= halfOpen ? between(natural, halfOpen) : 0.5 + between(halfOpen, open);
  return 1 + between(open, wideOpen);
}

/** Penalty for ending a system after each bar. */
export const barPenalties = (shape: ScoreShape): number[] =>
  shape.bars.map((b) => (b.bar.cutsStatement ? PENALTY.cut : b.bar.turnaround ? PENALTY.turnaround : 0));

/** Systems of one exercise over a width in spaces. A bar too wide for the width gets a system of its own. */
export function breakSystems(shape: ScoreShape, width: number): SystemBreak[] {
  return breakMeasures(measureBars(shape), fixedWidths(shape), barPenalties(shape), width);
}

const NONE: readonly Unevenness[] = [];

/** What is uneven in a filled system by itself. */
function alone(ratio: number, overfull: boolean): readonly Unevenness[] {
  if (overfull) return ['overfull'];
  return ratio > LOOSEST ? ['loose'] : ratio < -1 ? ['tight'] : NONE;
}

/** What sets a system apart from the one before it. A last one at natural width has no spacing to compare, and is as long as it is. */
function apart(before: State, after: State): readonly Unevenness[] {
  if (!after.justified) return NONE;
  const jump = Math.abs(before.fitness - after.fitness) > 1;
  const count =
    Math.abs(before.to - before.from - (after.to - after.from)) > 1 &&
    Math.min(before.narrowest, after.narrowest) >= (1 - ALIKE) * Math.max(before.widest, after.widest);
  if (!jump && !count) return NONE;
  return jump && count ? ['jump', 'count'] : [jump ? 'jump' : 'count'];
}

/** The same over bare measures: what breaks an ensemble's parts alike, from the widest of each bar. */
export function breakMeasures(
  measures: readonly Measure[],
  fixed: (from: number, to: number) => number,
  penalties: readonly number[],
  width: number,
): SystemBreak[] {
  const count = measures.length;
  /** Systems that end before each bar. */
  const ending: State[][] = Array.from({ length: count + 1 }, () => []);
  for (let from = 0; from < count; from++) {
    const states = ending[from] as State[];
    if (from > 0 && states.length === 0) continue;
    const sum = { natural: 0, open: 0, tight: 0, halfOpen: 0, halfTight: 0, wideOpen: 0 };
    let least = 0;
    let narrowest = Number.POSITIVE_INFINITY;
    let widest = 0;
    for (let to = from + 1; to <= count; to++) {
      const bar = measures[to - 1] as Measure;
      sum.natural += bar.natural;
      sum.open += bar.open;
      sum.tight += bar.tight;
      sum.halfOpen += bar.halfOpen;
      sum.halfTight += bar.halfTight;
      sum.wideOpen += bar.wideOpen;
      least += bar.least;
      narrowest = Math.min(narrowest, bar.natural);
      widest = Math.max(widest, bar.natural);
      const room = width - fixed(from, to);
      // Too tight to be read is no way to break, unless a single bar leaves no other.
      if (to > from + 1 && (least > room || sum.tight > room)) break;
      const last = to === count;
      const ratio = ratioOf(sum, room);
      // A last system that would have to be stretched far may stay at natural width, and must beyond the style's limit.
      for (const justified of last ? (ratio > 1 ? [false] : ratio > LOOSE ? [true, false] : [true]) : [true]) {
        const bad = justified ? Math.min(WORST, badness(ratio)) : PENALTY.looseLast + Math.min(40, ratio * 4);
        const line = Math.max(1, 1 + bad + (last ? 0 : (penalties[to - 1] as number))) ** 2;
        const own = justified ? alone(ratio, least > room) : NONE;
        const fitness = justified ? fitnessClass(ratio) : 1;
        const state: State = { from, to, ratio, justified, fitness, narrowest, widest, own, cost: 0, before: undefined };
        let cost = from === 0 ? 0 : Number.POSITIVE_INFINITY;
        for (const before of states) {
          const through = before.cost + PENALTY.uneven * apart(before, state).length;
          if (through >= cost) continue;
          cost = through;
          state.before = before;
        }
        state.cost = cost + line + PENALTY.uneven * own.length;
        (ending[to] as State[]).push(state);
      }
    }
  }
  let state: State | undefined = (ending[count] as State[]).reduce((a, b) => (b.cost < a.cost ? b : a));
  const systems: SystemBreak[] = [];
  for (; state; state = state.before) {
    const { from, to, ratio, justified, own, before } = state;
    const uneven = [...own, ...(before ? apart(before, state) : NONE)];
    systems.unshift({ from, to, ratio, justified, ...(uneven.length > 0 ? { uneven } : {}) });
  }
  return systems;
}
