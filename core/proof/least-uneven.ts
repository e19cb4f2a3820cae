/**
 * How even the systems of an exercise can be at all: over every way to break its bars, the least number of systems that are
 * set too tight or too loose, or stand apart from their neighbour in spacing or in number of bars (rule 19). What the
 * breaking does is no part of it: only widths are compared. The parts of an ensemble break at the same bars, where each of them
 * fits, and what counts is the sum over all parts.
 */
import { at, first } from '../base/list.js';
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

/** A system as one part has it. */
type PartSystem = { readonly fitness: number; readonly uneven: number };

type System = {
  readonly from: number;
  readonly to: number;
  readonly filled: boolean;
  readonly parts: readonly PartSystem[];
};

type Name = keyof Measure;

/** Widths of the bars [from, to) of a part, and the room for them. */
function runOf({ measures, fixed, width }: Bars, from: number, to: number) {
  const own = measures.slice(from, to);
  return { room: width - fixed(from, to), sumOf: (name: Name): number => own.reduce((sum, bar) => sum + bar[name], 0) };
}

/** The systems that may stand over the bars [from, to): filled, or the last at natural width too; none if a part does not fit. */
function systemsOver(parts: readonly Bars[], from: number, to: number): System[] {
  const runs = parts.map((part) => runOf(part, from, to));
  if (to - from > 1 && runs.some(({ room, sumOf }) => sumOf('tight') > room || sumOf('least') > room)) return [];
  const filled: System = {
    from,
    to,
    filled: true,
    parts: runs.map(({ room, sumOf }) => ({
      fitness: (['halfTight', 'halfOpen', 'open'] as const).filter((name) => room > sumOf(name)).length,
      uneven: sumOf('tight') > room || sumOf('wideOpen') < room ? 1 : 0,
    })),
  };
  if (to < first(parts).measures.length) return [filled];
  const natural: System = { from, to, filled: false, parts: parts.map(() => ({ fitness: 1, uneven: 0 })) };
  if (runs.every(({ room, sumOf }) => room > sumOf('open'))) return [natural];
  // In an ensemble it ends early only where it must in every part.
  const mayEnd = ({ room, sumOf }: (typeof runs)[number]): boolean =>
    parts.length === 1 && room > sumOf('natural') + 2 * LIMIT.lastNatural * (sumOf('halfOpen') - sumOf('natural'));
  return runs.some(mayEnd) ? [filled, natural] : [filled];
}

/** The number of faults that a system has in all parts after that one. */
function unevenAfter(parts: readonly Bars[], before: System | undefined, after: System): number {
  const countApart = before !== undefined && Math.abs(before.to - before.from - (after.to - after.from)) > 1;
  return parts.reduce((sum, part, i) => {
    const own = at(after.parts, i);
    if (!before || !after.filled) return sum + own.uneven;
    const jump = Math.abs(at(before.parts, i).fitness - own.fitness) > 1 ? 1 : 0;
    return sum + own.uneven + jump + (countApart && alike(part, before.from, after.to) ? 1 : 0);
  }, 0);
}

/** The least number of faults against evenness that any breaking has, in all parts together. */
export function leastUneven(parts: readonly Bars[]): number {
  const count = parts[0]?.measures.length ?? 0;
  const ending: { readonly system: System; readonly uneven: number }[][] = Array.from({ length: count + 1 }, () => []);
  for (let from = 0; from < count; from++) {
    const before = at(ending, from);
    if (from > 0 && before.length === 0) continue;
    for (let to = from + 1; to <= count; to++) {
      const systems = systemsOver(parts, from, to);
      if (systems.length === 0) break;
      for (const system of systems) {
        const after = before.map((other) => other.uneven + unevenAfter(parts, other.system, system));
        const uneven = from === 0 ? unevenAfter(parts, undefined, system) : Math.min(...after);
        at(ending, to).push({ system, uneven });
      }
    }
  }
  return Math.min(...at(ending, count).map(({ uneven }) => uneven));
}
