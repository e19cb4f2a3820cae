/** Keys and signatures, checked against the circle of fifths as every rudiments book prints it (common practice). */
import { expect, test } from 'vitest';
import {
  classAtFifths,
  fifthsOfClass,
  keyAtFifths,
  keyFifths,
  keysAtChroma,
  keyText,
  keyWords,
  type Mode,
  signatureAlter,
  signatureLetters,
  transposeKey,
} from '../../core/theory/key.js';
import { chroma, className, letterName, type PitchClass, parseClass } from '../../core/theory/pitch.js';
import { degreeInterval } from '../../core/theory/scale.js';

const tone = (name: string): PitchClass => parseClass(name) as PitchClass;
const MAJOR = 'Cb Gb Db Ab Eb Bb F C G D A E B F# C#'.split(' ');
const MINOR = 'Ab Eb Bb F C G D A E B F# C# G# D# A#'.split(' ');
const letters = (fifths: number): string => signatureLetters(fifths).map(letterName).join('');

test.each(MAJOR.map((name, i) => [name, i - 7] as const))('%s major has %d fifths', (name, fifths) => {
  expect(keyFifths({ tonic: tone(name), mode: 'major' })).toBe(fifths);
  expect(className(keyAtFifths(fifths, 'major').tonic)).toBe(name);
});

test.each(MINOR.map((name, i) => [name, i - 7] as const))('%s minor has %d fifths', (name, fifths) => {
  expect(keyFifths({ tonic: tone(name), mode: 'minor' })).toBe(fifths);
  expect(className(keyAtFifths(fifths, 'minor').tonic)).toBe(name);
});

test('the line of fifths goes through every spelling', () => {
  for (let fifths = -15; fifths <= 19; fifths++) expect(fifthsOfClass(classAtFifths(fifths))).toBe(fifths);
  expect(className(classAtFifths(13))).toBe('F##');
  expect(className(classAtFifths(-9))).toBe('Bbb');
});

test.each([
  [0, ''],
  [1, 'F'],
  [4, 'FCGD'],
  [7, 'FCGDAEB'],
  [-1, 'B'],
  [-3, 'BEA'],
  [-7, 'BEADGCF'],
])('a signature of %d fifths: %s', (fifths, expected) => expect(letters(fifths)).toBe(expected));

test('every major and minor signature gives exactly the tones of its scale', () => {
  for (const mode of ['major', 'minor'] as const) {
    for (let fifths = -7; fifths <= 7; fifths++) {
      const key = keyAtFifths(fifths, mode);
      for (let degree = 1; degree <= 7; degree++) {
        const by = degreeInterval(degree, mode === 'major' ? 'major' : 'natural minor');
        const { tonic } = transposeKey(key, by);
        expect(tonic.alter, `${keyText(key)} degree ${degree}`).toBe(signatureAlter(fifths, tonic.letter));
      }
    }
  }
});

test.each<[number, Mode, string]>([
  [0, 'major', 'C'],
  [1, 'major', 'D♭ C♯'],
  [6, 'major', 'G♭ F♯'],
  [11, 'major', 'B C♭'],
  [8, 'major', 'A♭'],
  [8, 'minor', 'G♯m A♭m'],
  [3, 'minor', 'E♭m D♯m'],
  [10, 'minor', 'B♭m A♯m'],
  [1, 'minor', 'C♯m'],
])('spellings at chroma %d %s: %s', (at, mode, expected) => expect(keysAtChroma(at, mode).map(keyText).join(' ')).toBe(expected));

test('every chroma has a key in both modes', () => {
  for (let at = 0; at < 12; at++) {
    for (const mode of ['major', 'minor'] as const) {
      expect(keysAtChroma(at, mode).length).toBeGreaterThan(0);
      for (const key of keysAtChroma(at, mode)) expect(chroma(key.tonic)).toBe(at);
    }
  }
});

test('words', () => {
  expect(keyWords({ tonic: tone('Bb'), mode: 'major' })).toBe('B flat major');
  expect(keyWords({ tonic: tone('F#'), mode: 'minor' })).toBe('F sharp minor');
  expect(keyWords({ tonic: tone('C'), mode: 'major' })).toBe('C major');
});
