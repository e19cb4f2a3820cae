/**
 * Braille cells as sets of dots, in Unicode and in the ASCII of embossers. Music signs after the Music Braille Code of the
 * Braille Authority of North America: its edition of 1997 (braille.brl.org/music/code) has in its rules and examples the
 * notes, values, rests, dots, octave marks, accidentals, signatures, slurs, value signs and the final bar as they are here, and
 * those signs that name their place below. Its tables of signs are pictures there, so what stands in no example is from memory:
 * the triplet, the breath mark, the sectional double bar, the signs of the tempo, and which of the signs in example 18.1-1 is
 * the staccato, the accent and the tenuto.
 */

import { assert } from '../../base/issue.js';
import { at, mustGet } from '../../base/list.js';

/** `145 15` → ⠙⠑: one word of dots for each cell; 0 is the empty cell. */
export function cells(dots: string): string {
  return dots
    .split(' ')
    .map((one) => String.fromCodePoint([...one].reduce((sum, dot) => sum + (dot === '0' ? 0 : 1 << (Number(dot) - 1)), 0x2800)))
    .join('');
}

/** North American ASCII Braille, by the number of the cell: dot 1 counts 1, dot 2 counts 2, dot 3 counts 4 … */
const ASCII = ' A1B\'K2L@CIF/MSP"E3H9O6R^DJG>NTQ,*5<-U8V.%[$+X!&;:4\\0Z7(_?W]#Y)=';

/** Unicode braille → BRF characters; line ends stay. */
export function brf(text: string): string {
  return [...text]
    .map((c) => {
      if (c === '\n' || c === '\r' || c === '\f') return c;
      const cell = ASCII[c.charCodeAt(0) - 0x2800];
      assert(cell !== undefined, `${c} is a braille cell of six dots`);
      return cell;
    })
    .join('');
}

/** The dots of notes C to B as an eighth note; larger values add dots to them. */
const NOTES = ['145', '15', '124', '1245', '125', '24', '245'] as const;

/** Dots added for the value, which two values share: a whole looks like a sixteenth. */
const VALUE_DOTS: ReadonlyMap<number, string> = new Map([
  [1, '36'],
  [2, '3'],
  [4, '6'],
  [8, ''],
  [16, '36'],
  [32, '3'],
  [64, '6'],
  [128, ''],
]);

const sorted = (dots: string): string => [...dots].sort().join('');

/** `letter` 0 is C; `denominator` 4 is a quarter. */
export const noteCell = (letter: number, denominator: number): string =>
  cells(sorted(at(NOTES, letter) + mustGet(VALUE_DOTS, denominator)));

const RESTS: ReadonlyMap<number, string> = new Map([
  [1, '134'],
  [2, '136'],
  [4, '1236'],
  [8, '1346'],
  [16, '134'],
  [32, '136'],
  [64, '1236'],
  [128, '1346'],
]);

export const restCell = (denominator: number): string => cells(mustGet(RESTS, denominator));

/** Values that look alike: large ones are a whole to an eighth. */
export const isLarge = (denominator: number): boolean => denominator <= 8;

/** Octave 4 begins on middle C. */
export function octaveMark(octave: number): string {
  if (octave < 1) return cells('4 4');
  return cells(['4', '45', '456', '5', '46', '56', '6'][octave - 1] ?? '6 6');
}

export const SIGN = {
  sharp: cells('146'),
  flat: cells('126'),
  natural: cells('16'),
  dot: cells('3'),
  number: cells('3456'),
  /** 9.1-1. */
  tie: cells('4 14'),
  slur: cells('14'),
  triplet: cells('23'),
  /** Around the lowered number of notes: 1.6-2, a group of eleven. */
  tupletFrom: cells('456'),
  tupletTo: cells('3'),
  staccato: cells('236'),
  accent: cells('46 236'),
  tenuto: cells('456 236'),
  /** Behind its note, as the music comma is (18.1). */
  breath: cells('6 34'),
  /** 18.4. */
  word: cells('345'),
  /** Between a word sign and a sign with dots on its left side. */
  separator: cells('3'),
  doubleBar: cells('126 13 3'),
  finalBar: cells('126 13'),
  /** The bar goes on in the next line: 1.6-1. */
  hyphen: cells('5'),
  equals: cells('2356'),
  dash: cells('36'),
  largeValues: cells('45 126 2'),
  smallValues: cells('6 126 2'),
} as const;

export function accidentalCells(alter: number): string {
  if (alter === 0) return SIGN.natural;
  return (alter < 0 ? SIGN.flat : SIGN.sharp).repeat(Math.abs(alter));
}

const DIGITS = ['245', '1', '12', '14', '145', '15', '124', '1245', '125', '24'] as const;
/** The same digits a row lower. */
const LOWERED: Readonly<Record<string, string>> = { 1: '2', 2: '3', 4: '5', 5: '6' };

const digitDots = (number: number): readonly string[] => [...String(number)].map((digit) => at(DIGITS, Number(digit)));

/** Digits without their number sign. */
export const upperDigits = (number: number): string => cells(digitDots(number).join(' '));
export const lowerDigits = (number: number): string =>
  cells(
    digitDots(number)
      .map((dots) => [...dots].map((dot) => LOWERED[dot]).join(''))
      .join(' '),
  );
export const numberCells = (number: number): string => SIGN.number + upperDigits(number);

/** `##`, `♭♭♭` as repeated signs up to three, as a number with one sign from four on. */
export function signatureCells(fifths: number): string {
  const sign = fifths < 0 ? SIGN.flat : SIGN.sharp;
  return repeated(sign, Math.abs(fifths));
}

export const repeated = (sign: string, count: number): string => (count > 3 ? numberCells(count) + sign : sign.repeat(count));

/** Metre over its unit: upper digits, then lower ones. */
export const metreCells = (beats: number, unit: number): string => numberCells(beats) + lowerDigits(unit);

const LETTERS = '1 12 14 145 15 124 1245 125 24 245 13 123 134 1345 135 1234 12345 1235 234 2345 136 1236 2456 1346 13456 1356'.split(' ');

const PUNCTUATION: Readonly<Record<string, string>> = {
  ' ': '0',
  ',': '2',
  ';': '23',
  ':': '25',
  '.': '256',
  '!': '235',
  '?': '236',
  '-': '36',
  '–': '36',
  '’': '3',
  "'": '3',
  '(': '5 126',
  ')': '5 345',
  '/': '456 34',
  '&': '4 12346',
  '♭': '3456 126',
  '♯': '3456 146',
  '♮': '3456 16',
};

/** Words without contractions (Unified English Braille, from memory). Accents are left off; other unknown signs are dropped. */
export function wordCells(text: string): string {
  let number = false;
  const plain = text.normalize('NFKD').replace(/\p{M}/gu, '');
  return [...plain]
    .map((c) => {
      const letter = c.toLowerCase().charCodeAt(0) - 97;
      if (c >= '0' && c <= '9') {
        const cell = (number ? '' : SIGN.number) + cells(at(DIGITS, Number(c)));
        number = true;
        return cell;
      }
      // A letter a to j right behind a number would be read as a digit.
      const grade = number && letter >= 0 && letter < 10 && c === c.toLowerCase() ? cells('56') : '';
      number = false;
      if (/^[a-z]$/i.test(c)) return grade + (c === c.toLowerCase() ? '' : cells('6')) + cells(at(LETTERS, letter));
      const dots = PUNCTUATION[c];
      return dots === undefined ? '' : cells(dots);
    })
    .join('');
}
