/**
 * Bars → systems by total fit: of all ways to break the exercise, the one with the least demerits. Ratios, badness,
 * demerits and fitness classes after Knuth & Plass, "Breaking Paragraphs into Lines", SP&E 11 (1981), 1119–1184;
 * applied to music as Hegazy & Gourlay (1987) propose, with widths that depend on the break (header, courtesy signs).
 */
import { at, first, last } from '../../base/list.js';
import type { ScoreShape } from '../../engrave/shape.js';
import { fixedWidths, type Measure, measureBars } from '../../engrave/spacing.js';
import { badness, fitnessClass } from '../total-fit.js';

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

/** A system as one part has it. */
type PartSystem = {
  readonly ratio: number;
  readonly fitness: number;
  readonly own: readonly Unevenness[];
  /** Natural widths of its narrowest and its widest bar. */
  readonly narrowest: number;
  readonly widest: number;
};

/** A system that some breaking has, with the best way to come to its end. */
type State = {
  readonly from: number;
  readonly to: number;
  readonly justified: boolean;
  readonly parts: readonly PartSystem[];
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

/** What sets a system of a part apart from the one before it. A last one at natural width has no spacing to compare, and is as long as it is. */
function apart(before: State, after: State, index: number): readonly Unevenness[] {
  const [a, b] = [before.parts[index], after.parts[index]];
  if (!after.justified || !a || !b) return NONE;
  const jump = Math.abs(a.fitness - b.fitness) > 1;
  const count =
    Math.abs(before.to - before.from - (after.to - after.from)) > 1 &&
    Math.min(a.narrowest, b.narrowest) >= (1 - ALIKE) * Math.max(a.widest, b.widest);
  if (!jump && !count) return NONE;
  return jump && count ? ['jump', 'count'] : [jump ? 'jump' : 'count'];
}

/** Bars of a part and the width in which they are set, in one unit. */
export type PartBars = {
  readonly measures: readonly Measure[];
  /** Header and courtesy signs of a system of the bars [from, to). */
  readonly fixed: (from: number, to: number) => number;
  readonly width: number;
};

/** A part whose bars are added to a system one by one, with the room that they have and the ratio that it asks for. */
type Filling = { readonly bars: PartBars; readonly run: Run; room: number; ratio: number };

/** Widths of a growing run of bars. */
type Run = { -readonly [name in keyof Measure]: number } & { narrowest: number; widest: number };

const emptyRun = (): Run => ({
  natural: 0,
  open: 0,
  tight: 0,
  halfOpen: 0,
  halfTight: 0,
  wideOpen: 0,
  least: 0,
  narrowest: Number.POSITIVE_INFINITY,
  widest: 0,
});

function addBar(run: Run, bar: Measure): void {
  run.natural += bar.natural;
  run.open += bar.open;
  run.tight += bar.tight;
  run.halfOpen += bar.halfOpen;
  run.halfTight += bar.halfTight;
  run.wideOpen += bar.wideOpen;
  run.least += bar.least;
  run.narrowest = Math.min(run.narrowest, bar.natural);
  run.widest = Math.max(run.widest, bar.natural);
}

/** Adds the bar before `to` to a system that begins at `from`. */
function addTo(filling: Filling, from: number, to: number): void {
  const { measures, fixed, width } = filling.bars;
  addBar(filling.run, at(measures, to - 1));
  filling.room = width - fixed(from, to);
  filling.ratio = ratioOf(filling.run, filling.room);
}

function partSystem({ run: { least, narrowest, widest }, room, ratio }: Filling, justified: boolean): PartSystem {
  const own = justified ? alone(ratio, least > room) : NONE;
  return { ratio, fitness: justified ? fitnessClass(ratio) : 1, own, narrowest, widest };
}

/**
 * The ways to set the last system: one that would have to be stretched far may stay at natural width, and must beyond the
 * style's limit. In an ensemble it stays only where it must in every part: those that have more to stretch are open in all their
 * systems, and a last one at natural width would stand out.
 */
function lastWays(ratios: readonly number[]): readonly boolean[] {
  const ratio = Math.min(...ratios);
  if (ratio > 1) return [false];
  return ratio > LOOSE && ratios.length === 1 ? [true, false] : [true];
}

/** Demerits of a system by itself, without those of unevenness. */
function demeritsOf(ratio: number, justified: boolean, penalty: number): number {
  const bad = justified ? Math.min(WORST, badness(ratio)) : PENALTY.looseLast + Math.min(40, ratio * 4);
  return Math.max(1, 1 + bad + penalty) ** 2;
}

/**
 * The systems of all parts of an ensemble, by part: broken at the same bars, where every part fits. Of all such breakings the one
 * with the least unevenness, counted over all parts, and of those the one with the least demerits. `penalties` are those of
 * ending a system after each bar.
 */
export function breakTogether(parts: readonly PartBars[], penalties: readonly number[]): SystemBreak[][] {
  const count = penalties.length;
  /** Systems that end before each bar. */
  const ending: State[][] = Array.from({ length: count + 1 }, () => []);
  for (let from = 0; from < count; from++) {
    const before = at(ending, from);
    if (from > 0 && before.length === 0) continue;
    const fillings = parts.map((bars): Filling => ({ bars, run: emptyRun(), room: 0, ratio: 0 }));
    for (let to = from + 1; to <= count; to++) {
      for (const filling of fillings) addTo(filling, from, to);
      // Too tight to be read is no way to break, unless a single bar leaves no other.
      if (to > from + 1 && fillings.some(({ run, room }) => Math.max(run.least, run.tight) > room)) break;
      const isLast = to === count;
      for (const justified of isLast ? lastWays(fillings.map(({ ratio }) => ratio)) : [true]) {
        const systems = fillings.map((filling) => partSystem(filling, justified));
        const state: State = { from, to, justified, parts: systems, cost: from === 0 ? 0 : Number.POSITIVE_INFINITY, before: undefined };
        for (const previous of before) {
          let through = previous.cost;
          for (let i = 0; i < parts.length; i++) through += PENALTY.uneven * apart(previous, state, i).length;
          if (through >= state.cost) continue;
          state.cost = through;
          state.before = previous;
        }
        const penalty = isLast ? 0 : at(penalties, to - 1);
        for (const { ratio, own } of systems) state.cost += demeritsOf(ratio, justified, penalty) + PENALTY.uneven * own.length;
        at(ending, to).push(state);
      }
    }
  }
  return breaksTo(last(ending).reduce((a, b) => (b.cost < a.cost ? b : a)));
}

/** The systems that lead to this last one, by part. */
function breaksTo(end: State): SystemBreak[][] {
  const broken: SystemBreak[][] = end.parts.map(() => []);
  for (let state: State | undefined = end; state; state = state.before) {
    const { from, to, justified, before, parts } = state;
    for (const [i, systems] of broken.entries()) {
      const { ratio, own } = at(parts, i);
      const uneven = [...own, ...(before ? apart(before, state, i) : NONE)];
      systems.unshift({ from, to, ratio, justified, ...(uneven.length > 0 ? { uneven } : {}) });
    }
  }
  return broken;
}

/** The same for a single part. */
export function breakMeasures(
  measures: readonly Measure[],
  fixed: PartBars['fixed'],
  penalties: readonly number[],
  width: number,
): SystemBreak[] {
  return first(breakTogether([{ measures, fixed, width }], penalties));
}
