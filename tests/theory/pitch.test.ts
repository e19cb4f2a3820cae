/** Pitches and intervals, checked against the library `teoria` 2.5.0 and published values. */
import fc from 'fast-check';
import teoria from 'teoria';
import { describe, expect, test } from 'vitest';
import { interval, minus, naturalSemitones, negate, octaves, plus } from '../../core/theory/interval.js';
import {
  accidentalText,
  chroma,
  className,
  classText,
  frequency,
  intervalBetween,
  midi,
  type Pitch,
  parseClass,
  parsePitch,
  pitchName,
  samePitch,
  stepOf,
  transpose,
  transposeClass,
} from '../../core/theory/pitch.js';
import { intervalSize, midiOf } from '../../core/theory/tonal.js';

const pitch = (name: string): Pitch => {
  const found = parsePitch(name);
  if (!found) throw new Error(`no pitch: ${name}`);
  return found;
};
/** `f#4` or `fx4` of the other library in our spelling. */
const ours = (name: string): string => name.charAt(0).toUpperCase() + name.slice(1).replace('x', '##');
const NAMES = ['C', 'D', 'E', 'F', 'G', 'A', 'B'].flatMap((letter) => ['bb', 'b', '', '#', '##'].map((sign) => letter + sign));
const PITCHES = NAMES.flatMap((name) => [1, 2, 3, 4, 5, 6, 7].map((octave) => `${name}${octave}`));
const theirs = (name: string) => teoria.note(name.replace('##', 'x'));

describe('against teoria', () => {
  test.each(PITCHES)('%s: MIDI number, chroma, frequency', (name) => {
    expect(midi(pitch(name))).toBe(theirs(name).midi());
    expect(chroma(pitch(name))).toBe(theirs(name).chroma() + 0); // + 0: theirs gives -0 for C
    expect(frequency(pitch(name))).toBeCloseTo(theirs(name).fq(), 6);
    expect(frequency(pitch(name), 442)).toBeCloseTo(theirs(name).fq(442), 6);
  });

  const INTERVALS = ['P1', 'm2', 'M2', 'm3', 'M3', 'P4', 'A4', 'd5', 'P5', 'm6', 'M6', 'm7', 'M7', 'P8', 'M9', 'm10', 'P12', 'P15'];
  const DOWN = ['m-2', 'M-2', 'm-3', 'M-3', 'P-4', 'P-5', 'M-6', 'm-7', 'P-8', 'M-9'];
  test.each([...INTERVALS, ...DOWN])('transposition by %s keeps letter and semitones', (name) => {
    const theirInterval = teoria.interval(name);
    const value = theirInterval.value();
    const by = { steps: value - Math.sign(value), semitones: theirInterval.semitones() };
    const swapped = name.replace(/^([A-Za-z])(-?\d+)$/, '$2$1');
    expect(intervalSize(swapped)).toEqual(by);
    for (const from of ['C4', 'F#4', 'Bb3', 'Eb5', 'B2', 'Ab6', 'G4', 'D5', 'A3']) {
      const to = ours(theirs(from).interval(name).toString());
      expect(pitchName(transpose(pitch(from), by)), `${from} ${name}`).toBe(to);
      expect(intervalBetween(pitch(from), pitch(to))).toEqual(by);
    }
  });
});

// ISO 16:1975: A4 = 440 Hz. Other values: twelve-tone equal temperament on it, as in published tables.
test.each([
  ['A4', 440],
  ['A3', 220],
  ['A0', 27.5],
  ['C4', 261.6256],
  ['E4', 329.6276],
  ['Bb3', 233.0819],
  ['C8', 4186.009],
])('%s sounds at %d Hz', (name, hertz) => expect(frequency(pitch(name))).toBeCloseTo(hertz, 3));

// MIDI 1.0: middle C is key 60.
test.each([
  ['C4', 60],
  ['B#3', 60],
  ['Dbb4', 60],
  ['Cb4', 59],
  ['A4', 69],
  ['A0', 21],
  ['C8', 108],
])('%s is MIDI key %d', (name, key) => {
  expect(midi(pitch(name))).toBe(key);
  expect(midiOf(name)).toBe(key);
});

test('a name without octave has no MIDI number', () => expect(() => midiOf('C')).toThrow(RangeError));
test('a word is no interval', () => expect(() => intervalSize('third')).toThrow(RangeError));

// The transpositions of common practice: what a written C4 sounds on each instrument.
test.each([
  ['clarinet in B flat', -1, -2, 'Bb3'],
  ['clarinet in A', -2, -3, 'A3'],
  ['alto saxophone', -5, -9, 'Eb3'],
  ['tenor saxophone', -8, -14, 'Bb2'],
  ['horn in F', -4, -7, 'F3'],
  ['piccolo', 7, 12, 'C5'],
])('%s', (_, steps, semitones, sounding) => expect(pitchName(transpose(pitch('C4'), { steps, semitones }))).toBe(sounding));

describe('intervals', () => {
  test('the major scale, continued both ways', () => {
    expect([-7, -1, 0, 1, 2, 3, 4, 5, 6, 7, 9].map(naturalSemitones)).toEqual([-12, -1, 0, 2, 4, 5, 7, 9, 11, 12, 16]);
    expect(interval(2, -1)).toEqual({ steps: 2, semitones: 3 });
    expect(interval(-1)).toEqual({ steps: -1, semitones: -1 });
  });
  const any = fc
    .record({ steps: fc.integer({ min: -20, max: 20 }), alter: fc.integer({ min: -2, max: 2 }) })
    .map((x) => interval(x.steps, x.alter));
  test('sum, difference and opposite agree', () =>
    fc.assert(
      fc.property(any, any, (a, b) => {
        expect(minus(plus(a, b), b)).toEqual(a);
        expect(plus(a, negate(a))).toEqual(octaves(0));
      }),
    ));
  const anyPitch = fc.constantFrom(...PITCHES).map(pitch);
  test('there and back again is the same pitch, spelling and all', () =>
    fc.assert(
      fc.property(anyPitch, any, (p, by) => {
        expect(samePitch(transpose(transpose(p, by), negate(by)), p)).toBe(true);
        expect(stepOf(transpose(p, by)) - stepOf(p)).toBe(by.steps);
        expect(transposeClass(p, by)).toEqual({ letter: transpose(p, by).letter, alter: transpose(p, by).alter });
      }),
    ));
});

describe('names', () => {
  test.each(PITCHES)('%s is read and written alike', (name) => expect(pitchName(pitch(name))).toBe(name));
  test.each([
    ['E♭', 'Eb', 'E♭'],
    ['f#', 'F#', 'F♯'],
    ['B𝄫', 'Bbb', 'B𝄫'],
    ['F𝄪', 'F##', 'F𝄪'],
    ['b', 'B', 'B'],
  ])('%s is %s, printed %s', (source, plain, printed) => {
    const found = parseClass(source);
    expect(found && className(found)).toBe(plain);
    expect(found && classText(found)).toBe(printed);
  });
  test.each(['', 'H', 'C4', 'Bbbb', 'do', '4'])('"%s" is no tone name', (source) => expect(parseClass(source)).toBeUndefined());
  test.each(['', 'C', 'C-1', 'C10', 'H4', 'C###4'])('"%s" is no pitch name', (source) => expect(parsePitch(source)).toBeUndefined());
  test('a natural prints no sign', () => expect(accidentalText(0)).toBe(''));
});
