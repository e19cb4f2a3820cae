/**
 * How even the systems of an exercise can be at all: over every way to break its bars, the least number of systems that are
 * set too tight or too loose, or stand apart from their neighbour in spacing or in number of bars (rule 19). What the
 * breaking does is no part of it: only widths are compared.
 */
import type { Measure } from '../engrave/spacing.js';
import { LIMIT } from './tolerance.js';

/** Bars to be broken into systems. Widths in staff spaces. */
export type Bars = {
  readonly measures: readonly Measure[];
  /** Header and courtesy signs of a system of the bars [from, to). */
  readonly fixed: (from: number, to: number) => number;
  readonly width: number;
};

/** Are all bars [from, to) alike in their natural widths? */
export function alike({ measures }: Pick<Bars, 'measures'>, from: number, to: number): boolean {
  const widths = measures.slice(from, to).map((bar) => bar.natural);
  return Math.min(...widths) >= (1 - LIMIT.alike) * Math.max(...widths);
}

type System = {
  readonly from: number;
  readonly count: number;
  readonly fitness: number;
  readonly filled: boolean;
  readonly uneven: number;
};

type Name = keyof Measure;

/** The systems that may stand over the bars [from, to): filled, or the last at natural width too; none if they do not fit. */
function systemsOver({ measures, fixed, width }: Bars, from: number, to: number): Omit<System, 'uneven'>[] {
  const own = measures.slice(from, to);
  const room = width - fixed(from, to);
  const at = (name: Name): number => own.reduce((sum, bar) => sum + bar[name], 0);
  const count = to - from;
  if (count > 1 && (at('tight') > room || at('least') > room)) return [];
  const fitness = (['halfTight', 'halfOpen', 'open'] as const).filter((name) => room > at(name)).length;
  const filled = { from, count, fitness, filled: true };
  const natural = { from, count, fitness: 1, filled: false };
  const lasts = to === measures.length && room > at('natural') + 2 * LIMIT.lastNatural * (at('halfOpen') - at('natural'));
  if (!lasts) return [filled];
  return room > at('open') ? [natural] : [filled, natural];
}

/** The least number of faults against evenness that any breaking of the bars has. */
export function leastUneven(bars: Bars): number {
  const { measures, fixed, width } = bars;
  const ending: System[][] = [[], ...measures.map(() => [])];
  for (let from = 0; from < measures.length; from++) {
    const before = ending[from] as System[];
    if (from > 0 && before.length === 0) continue;
    for (let to = from + 1; to <= measures.length; to++) {
      const systems = systemsOver(bars, from, to);
      if (systems.length === 0) break;
      for (const system of systems) {
        const sum = (name: Name): number => measures.slice(from, to).reduce((all, bar) => all + bar[name], fixed(from, to));
        const own = system.filled && (sum('tight') > width || sum('wideOpen') < width) ? 1 : 0;
        const apart = (other: System): number => {
          if (!system.filled) return 0;
          const jump = Math.abs(other.fitness - system.fitness) > 1 ? 1 : 0;
          return Math.abs(other.count - system.count) > 1 && alike(bars, other.from, to) ? jump + 1 : jump;
        };
        const uneven = from === 0 ? own : Math.min(...before.map((other) => other.uneven + apart(other) + own));
        (ending[to] as System[]).push({ ...system, uneven });
      }
    }
  }
  return Math.min(...(ending[measures.length] as System[]).map((system) => system.uneven));
}
