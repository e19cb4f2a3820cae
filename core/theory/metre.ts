/** Metres: the length of a bar, its beats, and how its short notes are grouped. */
import { type Fraction, frac, sum } from './fraction.js';

export type Metre = { readonly beats: number; readonly unit: number };

export const METRES = ['2/4', '3/4', '4/4', '5/4', '2/2', '3/8', '6/8', '9/8', '12/8', '5/8', '7/8'] as const;
export type MetreName = (typeof METRES)[number];

export function parseMetre(source: string): Metre | undefined {
  if (!(METRES as readonly string[]).includes(source.trim())) return undefined;
  const [beats, unit] = source.trim().split('/').map(Number);
  return { beats: beats as number, unit: unit as number };
}

export const metreText = (metre: Metre): string => `${metre.beats}/${metre.unit}`;
export const barLength = (metre: Metre): Fraction => frac(metre.beats, metre.unit);

/** Compound metres are felt in dotted beats: 6/8, 9/8, 12/8. (Common practice.) */
export const isCompound = (metre: Metre): boolean => metre.unit === 8 && metre.beats % 3 === 0 && metre.beats > 3;

/** Each metre's answers are asked for at every note, so they are kept. */
function kept<T>(make: (metre: Metre) => T): (metre: Metre) => T {
  const held = new Map<string, T>();
  return (metre) => {
    const id = metreText(metre);
    let found = held.get(id);
    if (found === undefined) {
      found = make(metre);
      held.set(id, found);
    }
    return found;
  };
}

/** Beats of a bar in order. 5/8 is 3 + 2, 7/8 is 2 + 2 + 3, 3/8 one beat, others even. (Common practice.) */
export const beatLengths = kept((metre): readonly Fraction[] => {
  const name = metreText(metre);
  if (name === '3/8') return [frac(3, 8)];
  if (name === '5/8') return [frac(3, 8), frac(2, 8)];
  if (name === '7/8') return [frac(2, 8), frac(2, 8), frac(3, 8)];
  if (isCompound(metre)) return Array.from({ length: metre.beats / 3 }, () => frac(3, 8));
  return Array.from({ length: metre.beats }, () => frac(1, metre.unit));
});

/** Start of each beat, then the bar's end. */
export const beatStarts = kept((metre): readonly Fraction[] => {
  const beats = beatLengths(metre);
  return [...beats.map((_, i) => sum(beats.slice(0, i))), sum(beats)];
});

/**
 * Groups under one beam when all notes are eighths: two beats together in 4/4 and 2/2 (never across the middle of
 * the bar), the whole bar in 3/4 only by beat, compound metres by dotted beat.
 * Source: Gould, Behind Bars, p. 153 (second-hand); common practice.
 */
export const eighthGroups = kept((metre): readonly Fraction[] => {
  const name = metreText(metre);
  if (name === '4/4' || name === '2/2') return [frac(1, 2), frac(1, 2)];
  if (name === '2/4') return [frac(1, 2)];
  return beatLengths(metre);
});

/** The beat of the tempo mark: quarter, half in 2/2, dotted quarter in compound metres, eighth in 3/8 5/8 7/8. */
export function tempoBeat(metre: Metre): Fraction {
  if (isCompound(metre)) return frac(3, 8);
  if (metre.unit === 8) return frac(1, 8);
  return frac(1, metre.unit);
}
