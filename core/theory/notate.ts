/** Durations into written note values: which single values may stand where in the bar, and where a tie is needed. */
import { first } from '../base/list.js';
import { add, compare, equal, type Fraction, frac, less, min, mod, mul, sub } from './fraction.js';
import { barLength, beatLengths, beatStarts, isCompound, type Metre, metreText } from './metre.js';

/** A note or rest as written: base value (1/4 a quarter), dots, and the time it takes outside any tuplet. */
export type Written = { readonly base: Fraction; readonly dots: number; readonly duration: Fraction };

function written(base: Fraction, dots: number): Written {
  return { base, dots, duration: mul(base, frac(2 ** (dots + 1) - 1, 2 ** dots)) };
}

/** All single values with at most one dot from a breve-free whole down to a 64th, longest first. */
const VALUES: readonly Written[] = [1, 2, 4, 8, 16, 32, 64]
  .flatMap((d) => [written(frac(1, d), 1), written(frac(1, d), 0)])
  .sort((a, b) => compare(b.duration, a.duration));

/** The single value of exactly this duration, with up to two dots; undefined if there is none. */
export function singleValue(duration: Fraction): Written | undefined {
  return (
    VALUES.find((v) => equal(v.duration, duration)) ??
    [1, 2, 4, 8, 16].map((d) => written(frac(1, d), 2)).find((v) => equal(v.duration, duration))
  );
}

/** Middle of the bar where it may not be hidden: 4/4 and 2/2, and compound metres of four beats. */
function middle(metre: Metre): Fraction | undefined {
  const name = metreText(metre);
  if (name === '4/4' || name === '2/2') return frac(1, 2);
  if (name === '12/8') return frac(3, 4);
  if (name === '5/4') return frac(3, 4);
  return undefined;
}

/**
 * May one note of this duration start here? It may not hide the middle of the bar unless it starts on the first beat
 * and fills the bar or three beats of it, or is a half note on the second beat; off the beat it ends with its beat, or
 * is a syncopation of one beat's length inside half a bar. A part of a tied note (not `alone`) is never syncopated: ties
 * show the beats. Source: Gould, Behind Bars, pp. 153–170 (second-hand).
 */
export function noteMayStand(onset: Fraction, value: Written, metre: Metre, alone: boolean): boolean {
  const end = add(onset, value.duration);
  const half = middle(metre);
  const starts = beatStarts(metre);
  const onBeat = starts.some((s) => equal(s, onset));
  const crossesHalf = half !== undefined && less(onset, half) && less(half, end);
  if (onBeat) {
    const atBeat = starts.some((s) => equal(s, end));
    if (!atBeat && isCompound(metre)) return less(end, nextBeat(onset, starts));
    if (metre.unit === 8 && !isCompound(metre)) return compare(end, nextBeat(onset, starts)) <= 0;
    if (!crossesHalf) return true;
    if (onset.n === 0) return equal(value.duration, barLength(metre)) || (metreText(metre) === '4/4' && equal(value.duration, frac(3, 4)));
    return alone && metreText(metre) === '4/4' && equal(value.duration, frac(1, 2)) && value.dots === 0;
  }
  if (crossesHalf) return false;
  const next = nextBeat(onset, starts);
  if (compare(end, next) <= 0) return true;
  if (!alone || isCompound(metre) || metre.unit === 8) return false;
  const beat = first(beatLengths(metre));
  return value.dots === 0 && equal(value.duration, beat) && equal(mod(onset, beat), mul(beat, frac(1, 2)));
}

const nextBeat = (onset: Fraction, starts: readonly Fraction[]): Fraction => starts.find((s) => less(onset, s)) as Fraction;

/** Rests show every beat: they end with their beat, or fill the bar or exactly half of it. */
export function restMayStand(onset: Fraction, value: Written, metre: Metre): boolean {
  const end = add(onset, value.duration);
  const starts = beatStarts(metre);
  if (value.dots > 0 && !isCompound(metre)) return false;
  if (compare(end, nextBeat(onset, starts)) <= 0) return value.dots === 0 || equal(value.duration, frac(3, 8));
  const half = middle(metre);
  if (!half || isCompound(metre)) return false;
  return value.dots === 0 && equal(value.duration, half) && (onset.n === 0 || equal(onset, half));
}

/** A book asks the same few questions all the time. */
const known = new Map<string, readonly Written[]>();
const KEPT = 4096;

/** Splits a stretch that lies inside one bar into written values, longest first at each point. Exact: the pieces add up. */
export function split(onset: Fraction, duration: Fraction, metre: Metre, rest: boolean): readonly Written[] {
  const id = `${onset.n}/${onset.d} ${duration.n}/${duration.d} ${metre.beats}/${metre.unit} ${rest}`;
  let found = known.get(id);
  if (!found) {
    found = splitAnew(onset, duration, metre, rest);
    if (known.size >= KEPT) known.clear();
    known.set(id, found);
  }
  return found;
}

function splitAnew(onset: Fraction, duration: Fraction, metre: Metre, rest: boolean): Written[] {
  const pieces: Written[] = [];
  let at = onset;
  let left = duration;
  while (left.n > 0) {
    const may = (value: Written): boolean =>
      rest ? restMayStand(at, value, metre) : noteMayStand(at, value, metre, equal(value.duration, duration));
    const room = min(left, sub(barLength(metre), at));
    const piece = VALUES.find((v) => compare(v.duration, room) <= 0 && may(v)) ?? VALUES.find((v) => compare(v.duration, room) <= 0);
    if (!piece) throw new Error(`assumption broken: ${left.n}/${left.d} can be written with values down to a 64th`);
    pieces.push(piece);
    at = add(at, piece.duration);
    left = sub(left, piece.duration);
  }
  return pieces;
}
