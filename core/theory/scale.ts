/** Scales: for each degree of a named scale, its interval above the tonic. */
import { at } from '../base/list.js';
import { type Interval, interval, octaves, plus } from './interval.js';
import { intervalSize, scaleFormula } from './tonal.js';

/** Our name → the theory library's name. */
const LIBRARY_NAMES = {
  major: 'major',
  'natural minor': 'aeolian',
  'harmonic minor': 'harmonic minor',
  'melodic minor': 'melodic minor',
  ionian: 'ionian',
  dorian: 'dorian',
  phrygian: 'phrygian',
  lydian: 'lydian',
  mixolydian: 'mixolydian',
  aeolian: 'aeolian',
  locrian: 'locrian',
  'major pentatonic': 'major pentatonic',
  'minor pentatonic': 'minor pentatonic',
  blues: 'blues',
  'whole tone': 'whole tone',
  'octatonic whole-half': 'diminished',
  'octatonic half-whole': 'half-whole diminished',
  'lydian dominant': 'lydian dominant',
  altered: 'altered',
  chromatic: 'chromatic',
} as const;

export type ScaleName = keyof typeof LIBRARY_NAMES;
export const SCALE_NAMES = Object.keys(LIBRARY_NAMES) as readonly ScaleName[];

const cache = new Map<ScaleName, readonly Interval[]>();

/** Intervals of one octave above the tonic, tonic first, octave left out. */
export function scaleIntervals(name: ScaleName): readonly Interval[] {
  let found = cache.get(name);
  if (!found) {
    found = scaleFormula(LIBRARY_NAMES[name]).map(intervalSize);
    cache.set(name, found);
  }
  return found;
}

/** True for the scales with one tone on every letter, in which a plain degree can be read. (Not altered: it has two seconds.) */
export const isSevenTone = (name: ScaleName): boolean => {
  const intervals = scaleIntervals(name);
  return intervals.length === 7 && intervals.every((i, step) => i.steps === step);
};

/** Mode of the key signature that serves a scale: minor where the third is minor and not also major. */
export function scaleMode(name: ScaleName): 'major' | 'minor' {
  const thirds = scaleIntervals(name).map((i) => i.semitones);
  return thirds.includes(3) && !thirds.includes(4) ? 'minor' : 'major';
}

/**
 * Interval above the tonic of degree 1, 2, 3 … or of -1, -2 … below it, where -7 is the seventh degree an octave
 * down. Read in the scale when it has one tone on every letter, in the major scale otherwise.
 */
export function degreeInterval(degree: number, name: ScaleName = 'major'): Interval {
  const upward = degree > 0 ? degree - 1 : -degree - 1 - 7;
  const octave = Math.floor(upward / 7);
  const within = upward - 7 * octave;
  const base = isSevenTone(name) ? at(scaleIntervals(name), within) : interval(within);
  return plus(base, octaves(octave));
}
