/**
 * Which notes share a beam: eighths alone by the half bar where the metre allows it, anything shorter by the beat,
 * tuplets by themselves. Rests and longer values break a group. Source: Gould, Behind Bars, p. 153 (second-hand).
 */
import { compare, equal, type Fraction, frac, less } from '../theory/fraction.js';
import { beatStarts, eighthGroups, type Metre, metreText } from '../theory/metre.js';
import type { BarEvent } from './bar.js';

const EIGHTH = frac(1, 8);

function starts(lengths: readonly Fraction[]): Fraction[] {
  let at = frac(0);
  const all = [at];
  for (const length of lengths) {
    at = frac(at.n * length.d + length.n * at.d, at.d * length.d);
    all.push(at);
  }
  return all;
}

/** Beats for notes shorter than an eighth: quarters also where the beat is a half note. */
function shortGroups(metre: Metre): readonly Fraction[] {
  return metreText(metre) === '2/2' ? starts([frac(1, 4), frac(1, 4), frac(1, 4), frac(1, 4)]) : beatStarts(metre);
}

const held = new Map<string, { wide: readonly Fraction[]; narrow: readonly Fraction[] }>();

/** Where groups begin: for eighths alone, and for shorter notes. Kept for each metre. */
function borders(metre: Metre): { wide: readonly Fraction[]; narrow: readonly Fraction[] } {
  const id = metreText(metre);
  let found = held.get(id);
  if (!found) {
    found = { wide: starts(eighthGroups(metre)), narrow: shortGroups(metre) };
    held.set(id, found);
  }
  return found;
}

const groupAt = (onset: Fraction, borders: readonly Fraction[]): number => borders.findLastIndex((b) => compare(b, onset) <= 0);

export function beamGroups(events: readonly BarEvent[], metre: Metre): number[][] {
  const { wide, narrow } = borders(metre);
  const isShort = (e: BarEvent): boolean => e.kind === 'note' && less(e.base, frac(1, 4));
  /** A wide group is used only when everything in it is a plain eighth or longer. */
  const plain = wide.map((_, g) =>
    events.every((e) => groupAt(e.onset, wide) !== g || (compare(e.base, EIGHTH) >= 0 && e.tuplet === undefined)),
  );
  const idOf = (e: BarEvent): string => {
    if (e.tuplet !== undefined) return `t${e.tuplet}`;
    const g = groupAt(e.onset, wide);
    return plain[g] ? `w${g}` : `n${groupAt(e.onset, narrow)}`;
  };
  const groups: number[][] = [];
  let current: number[] = [];
  let id = '';
  const close = (): void => {
    if (current.length > 1) groups.push(current);
    current = [];
  };
  events.forEach((event, i) => {
    const next = idOf(event);
    if (!isShort(event) || (current.length > 0 && next !== id)) close();
    if (isShort(event)) current.push(i);
    id = next;
  });
  close();
  return groups;
}

/** Number of beams or flags of a written base value. */
export function beamCount(base: Fraction): number {
  if (equal(base, EIGHTH)) return 1;
  return base.d > 8 ? Math.log2(base.d) - 2 : 0;
}
