/** A spelled interval: how many letters and how many semitones, both signed, octaves included. */

export type Interval = { readonly steps: number; readonly semitones: number };

export const UNISON: Interval = { steps: 0, semitones: 0 };
export const OCTAVE: Interval = { steps: 7, semitones: 12 };

/** Semitones of the major scale above its tonic, by step. */
const MAJOR = [0, 2, 4, 5, 7, 9, 11] as const;

/** Semitones from C to a letter (C = 0 … B = 6), continued through the octaves in both directions. */
export function naturalSemitones(step: number): number {
  const octave = Math.floor(step / 7);
  return (MAJOR[step - octave * 7] as number) + 12 * octave;
}

/** The major or perfect interval over this many letters, altered by so many semitones. */
export function interval(steps: number, alter = 0): Interval {
  return { steps, semitones: naturalSemitones(steps) + alter };
}

export const plus = (a: Interval, b: Interval): Interval => ({ steps: a.steps + b.steps, semitones: a.semitones + b.semitones });
export const minus = (a: Interval, b: Interval): Interval => ({ steps: a.steps - b.steps, semitones: a.semitones - b.semitones });
export const negate = (a: Interval): Interval => ({ steps: 0 - a.steps, semitones: 0 - a.semitones });
export const octaves = (count: number): Interval => ({ steps: 7 * count, semitones: 12 * count });
