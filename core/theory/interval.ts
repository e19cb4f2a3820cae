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

const NAMES = ['unison', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh'] as const;
/** Unison, fourth and fifth. */
const PERFECT: readonly number[] = [0, 3, 4];

/** Name of what is left of an interval above its octaves: `a major second`, `a perfect fourth`. */
function simpleWords(steps: number, semitones: number): string {
  const altered = semitones - naturalSemitones(steps);
  const perfect = PERFECT.includes(steps);
  const quality =
    altered === 0 ? (perfect ? 'perfect' : 'major') : altered === -1 && !perfect ? 'minor' : altered > 0 ? 'augmented' : 'diminished';
  return `${quality === 'augmented' ? 'an' : 'a'} ${quality} ${NAMES[steps]}`;
}

/**
 * The interval in words, whichever way it leads: `a major second`, `an octave and a minor third`, `two octaves`. Up to three
 * octaves, altered once at most.
 */
export function intervalWords({ steps, semitones }: Interval): string {
  const sign = steps < 0 || (steps === 0 && semitones < 0) ? -1 : 1;
  const count = Math.floor((sign * steps) / 7);
  const rest = { steps: sign * steps - 7 * count, semitones: sign * semitones - 12 * count };
  const parts = [
    ['', 'an octave', 'two octaves', 'three octaves'][count] ?? `${count} octaves`,
    rest.steps === 0 && rest.semitones === 0 && count > 0 ? '' : simpleWords(rest.steps, rest.semitones),
  ];
  return parts.filter((part) => part !== '').join(' and ');
}
