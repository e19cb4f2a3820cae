/** Scales, checked against the library `teoria` 2.5.0 and rudiments of common practice. */
import teoria from 'teoria';
import { describe, expect, test } from 'vitest';
import { interval } from '../../core/theory/interval.js';
import { chroma, className, type PitchClass, parseClass, transposeClass } from '../../core/theory/pitch.js';
import { degreeInterval, isSevenTone, SCALE_NAMES, type ScaleName, scaleIntervals, scaleMode } from '../../core/theory/scale.js';
import { scaleFormula } from '../../core/theory/tonal.js';

const tone = (name: string): PitchClass => parseClass(name) as PitchClass;
const tones = (tonic: string, name: ScaleName): string =>
  scaleIntervals(name)
    .map((by) => className(transposeClass(tone(tonic), by)))
    .join(' ');
const ours = (name: string): string => name.charAt(0).toUpperCase() + name.slice(1).replace('x', '##');

const SHARED: readonly [ScaleName, string][] = [
  ['major', 'major'],
  ['natural minor', 'minor'],
  ['harmonic minor', 'harmonicminor'],
  ['melodic minor', 'melodicminor'],
  ['ionian', 'ionian'],
  ['dorian', 'dorian'],
  ['phrygian', 'phrygian'],
  ['lydian', 'lydian'],
  ['mixolydian', 'mixolydian'],
  ['aeolian', 'aeolian'],
  ['locrian', 'locrian'],
  ['major pentatonic', 'majorpentatonic'],
  ['minor pentatonic', 'minorpentatonic'],
  ['blues', 'blues'],
];

describe('against teoria', () => {
  test.each(SHARED)('%s on every common tonic', (name, theirName) => {
    for (const tonic of ['C', 'G', 'D', 'A', 'E', 'B', 'F', 'Bb', 'Eb', 'Ab', 'F#', 'C#', 'G#']) {
      expect(tones(tonic, name), tonic).toBe(teoria.scale(tonic.toLowerCase(), theirName).simple().map(ours).join(' '));
    }
  });

  test.each([
    ['C', [1, 3, 5]],
    ['Bbm', [1, -3, 5]],
    ['F#dim', [1, -3, -5]],
    ['Ab7', [1, 3, 5, -7]],
    ['Ebmaj7', [1, 3, 5, 7]],
    ['Cm7', [1, -3, 5, -7]],
    ['Bm7b5', [1, -3, -5, -7]],
  ] as const)('the chord %s, degrees %j (minus: flat)', (name, degrees) => {
    const root = tone(/^[A-G][b#]?/.exec(name)?.[0] as string);
    const built = degrees.map((d) => className(transposeClass(root, interval(Math.abs(d) - 1, d < 0 ? -1 : 0))));
    expect(built).toEqual(teoria.chord(name).simple().map(ours));
  });
});

// Common practice.
test.each<[string, ScaleName, string]>([
  ['F#', 'harmonic minor', 'F# G# A B C# D E#'],
  ['G#', 'melodic minor', 'G# A# B C# D# E# F##'],
  ['Eb', 'blues', 'Eb Gb Ab Bbb Bb Db'],
  ['C', 'whole tone', 'C D E F# G# A#'],
  ['C', 'octatonic whole-half', 'C D Eb F Gb Ab A B'],
  ['C', 'octatonic half-whole', 'C Db Eb E F# G A Bb'],
  ['F', 'lydian dominant', 'F G A B C D Eb'],
  ['C', 'chromatic', 'C Db D Eb E F Gb G Ab A Bb B'],
])('%s %s: %s', (tonic, name, expected) => expect(tones(tonic, name)).toBe(expected));

// Number of tones by scale (common practice).
const SIZES: Partial<Record<ScaleName, number>> = {
  'major pentatonic': 5,
  'minor pentatonic': 5,
  blues: 6,
  'whole tone': 6,
  'octatonic whole-half': 8,
  'octatonic half-whole': 8,
  chromatic: 12,
};

test.each(SCALE_NAMES)('%s begins on the tonic, rises, stays within the octave', (name) => {
  const semitones = scaleIntervals(name).map((i) => i.semitones);
  expect(semitones[0]).toBe(0);
  expect(semitones).toEqual([...new Set(semitones)].sort((a, b) => a - b));
  expect(semitones.at(-1)).toBeLessThan(12);
  expect(semitones).toHaveLength(SIZES[name] ?? 7);
});

test('a name the library lacks gives no formula', () => expect(scaleFormula('no such scale')).toEqual([]));

// The modes of melodic minor (common practice): the fourth is lydian dominant, the seventh altered.
test.each<[ScaleName, number]>([
  ['lydian dominant', 4],
  ['altered', 7],
])('%s has the tones of melodic minor from degree %d', (name, degree) => {
  const parent = scaleIntervals('melodic minor').map((i) => i.semitones);
  const from = parent[degree - 1] as number;
  const rotated = parent.map((s) => (s - from + 12) % 12).sort((a, b) => a - b);
  expect(scaleIntervals(name).map((i) => i.semitones)).toEqual(rotated);
});

describe('degrees', () => {
  test.each<[number, ScaleName, number, number]>([
    [1, 'major', 0, 0],
    [3, 'major', 2, 4],
    [3, 'natural minor', 2, 3],
    [8, 'major', 7, 12],
    [10, 'dorian', 9, 15],
    [22, 'major', 21, 36],
    [-7, 'major', -1, -1],
    [-7, 'natural minor', -1, -2],
    [-1, 'major', -7, -12],
    [-5, 'major', -3, -5],
    // Scales without one tone on every letter are read in major.
    [4, 'whole tone', 3, 5],
    [3, 'altered', 2, 4],
    [3, 'minor pentatonic', 2, 4],
  ])('degree %d in %s: %d steps, %d semitones', (degree, name, steps, semitones) =>
    expect(degreeInterval(degree, name)).toEqual({ steps, semitones }),
  );

  test('the octave repeats the scale', () => {
    for (const name of SCALE_NAMES) {
      for (let degree = 1; degree <= 7; degree++) {
        const low = degreeInterval(degree, name);
        expect(degreeInterval(degree + 7, name)).toEqual({ steps: low.steps + 7, semitones: low.semitones + 12 });
        expect(degreeInterval(-degree, name)).toEqual({ steps: low.steps - 7, semitones: low.semitones - 12 });
      }
    }
  });

  test('one tone on every letter', () => {
    const without = [
      'major pentatonic',
      'minor pentatonic',
      'blues',
      'whole tone',
      'octatonic whole-half',
      'octatonic half-whole',
      'altered',
      'chromatic',
    ];
    expect(SCALE_NAMES.filter((name) => !isSevenTone(name))).toEqual(without);
  });
});

test('mode of the signature', () => {
  const minor = SCALE_NAMES.filter((name) => scaleMode(name) === 'minor');
  expect(minor).toEqual([
    'natural minor',
    'harmonic minor',
    'melodic minor',
    'dorian',
    'phrygian',
    'aeolian',
    'locrian',
    'minor pentatonic',
    'blues',
    'octatonic whole-half',
  ]);
});

test('the twelve tones of the chromatic scale differ', () => {
  expect(new Set(scaleIntervals('chromatic').map((by) => chroma(transposeClass(tone('C'), by)))).size).toBe(12);
});
