/**
 * Checked against worked examples of the Music Braille Code (Braille Authority of North America, 1997, as published at
 * braille.brl.org/music/code/bmb), named by their numbers, and rules of the New International Manual of Braille Music Notation
 * (World Blind Union, 1996, brl.org/music/manual). Ties, tuplets, marks of articulation, the breath mark, the double bar, the
 * hyphen, half rests, Unified English Braille for words and the characters of BRF are checked from memory.
 */
import { describe, expect, it } from 'vitest';
import { barsOf } from '../../core/engrave/bars.js';
import { needsOctave } from '../../core/output/braille/bar.js';
import { brailleLines, brailleText, brfFile } from '../../core/output/braille/braille.js';
import { brf, metreCells, noteCell, octaveMark, restCell, signatureCells, wordCells } from '../../core/output/braille/cells.js';
import { frac } from '../../core/theory/fraction.js';
import { parsePitch } from '../../core/theory/pitch.js';
import { player, realised, type Words } from '../player/fixture.js';
import { demoLines, pieceOf } from './exported.js';

const NO_BREATHS = new Map<number, { parenthesised: boolean }>();

/** Notes C to B of each value; eighths, quarters and halves are printed so in example 1.5-1, sixteenths and wholes in 1.1's rule. */
describe('note values', () => {
  it.each([
    [8, 'DEFGHIJ'],
    [4, '?:$]\\[W'],
    [2, 'NOPQRST'],
    [1, 'YZ&=(!)'],
    [16, 'YZ&=(!)'],
    [32, 'NOPQRST'],
  ])('1/%i: %s', (denominator, row) => {
    expect(brf([0, 1, 2, 3, 4, 5, 6].map((letter) => noteCell(letter, denominator)).join(''))).toBe(row);
  });

  it('rests', () => expect(brf([1, 2, 4, 8, 16].map(restCell).join(''))).toBe('MUVXM'));
  it('octave marks, the fourth from middle C', () =>
    expect([0, 1, 2, 3, 4, 5, 6, 7, 8].map((octave) => brf(octaveMark(octave))).join(' ')).toBe('@@ @ ^ _ " . ; , ,,'));
});

/** `#D` and a sign for four or more: New International Manual, 3-4. Metres as in examples 1.2-1, 2.1.4-1 and 12.5-1. */
describe('signatures and metres', () => {
  it.each([
    [0, ''],
    [1, '%'],
    [3, '%%%'],
    [4, '#D%'],
    [-2, '<<'],
    [-6, '#F<'],
  ])('%i: %s', (fifths, text) => expect(brf(signatureCells(fifths))).toBe(text));

  it.each([
    [4, 4, '#D4'],
    [6, 8, '#F8'],
    [12, 8, '#AB8'],
    [2, 2, '#B2'],
    [3, 4, '#C4'],
    [2, 4, '#B4'],
  ])('%i/%i: %s', (beats, unit, text) => expect(brf(metreCells(beats, unit))).toBe(text));
});

/** Music Braille Code 1997, 2.1.3 to 2.1.5: no mark for less than a fourth; a fourth or fifth only into another octave; a sixth or more always. */
describe('octave marks', () => {
  it.each([
    ['C4', 'E4', false],
    ['B4', 'C5', false],
    ['A4', 'C5', false],
    ['C4', 'F4', false],
    ['C4', 'G4', false],
    ['G4', 'C5', true],
    ['F4', 'C5', true],
    ['C4', 'A4', true],
    ['C4', 'C5', true],
    ['C5', 'G4', true],
    ['G4', 'C4', false],
  ])('%s %s: %s', (before, now, mark) => expect(needsOctave(parsePitch(before), parsePitch(now)!)).toBe(mark));

  it('the first note has one', () => expect(needsOctave(undefined, parsePitch('C4')!)).toBe(true));
});

/** The lines of music only, in ASCII braille, without bar numbers. */
function music(words: Words, instrument = 'flute', breaths = NO_BREATHS): string[] {
  const line = realised({ order: { name: 'custom', keys: ['C'] }, contour: 'low', ...words }, player(instrument));
  // No title; the player, the figure and the heading are a line each.
  const lines = brailleLines('', { line, score: barsOf(line, breaths) }, { width: 60 }).slice(3);
  return lines.map((row) => brf(row).replace(/^#[A-J]+ /, ''));
}

describe('an exercise', () => {
  it.each<[string, Words, string]>([
    ['the scale', { figure: '1 2 3 4 5 6 7 8' }, '"DEFGHIJD<K'],
    ['quarters', { figure: '1 2 3 4', rhythm: 'quarters' }, '"?:$]<K'],
    ['a leap of an octave', { figure: '1 8 1 8', rhythm: 'quarters' }, '"?.?"?.?<K'],
    ['signs before the note and its octave mark', { figure: 'b3 8 #4 1', rhythm: 'quarters' }, '<"$.?%"]?<K'],
    ['a natural', { figure: 'b3 3 2 1', rhythm: 'quarters' }, '<"$*$:?<K'],
    ['double signs', { figure: '1 bb3 ##4 1', rhythm: 'quarters' }, '"?<<$%%]?<K'],
    ['dots', { figure: '1 2', rhythm: '1/2. 1/4' }, '"N\':<K'],
    ['rests', { figure: '1 r 2 r', rhythm: 'quarters' }, '"?V:V<K'],
    ['triplets', { figure: '1 2 3 4 5 4 3 2 1 2 3 4', rhythm: 'eighth triplets' }, '2"DEF2GHG2FED2EFG<K'],
    ['other tuplets', { figure: '1 2 3 4 5 6', rhythm: '6:4(1/8 1/8 1/8 1/8 1/8 1/8)', metre: '2/4' }, '_6\'"DEFGHI<K'],
    ['a short slur', { figure: '1 2 3 4', rhythm: 'quarters', articulation: { groups: [3, 1] } }, '"?C:C$]<K'],
    ['a slur over more than four notes', { figure: '1 2 3 4 5 6 7 8', articulation: { groups: 'all' } }, '"DCCEFGHIJCD<K'],
    ['staccato', { figure: '1 2 3 4', rhythm: 'quarters', articulation: { groups: [], mark: 'staccato' } }, '8"?8:8$8]<K'],
    ['accent and tenuto are two cells', { figure: '1', rhythm: '1/1', articulation: { groups: [], mark: 'accent' } }, '.8"Y<K'],
    ['a dynamic, and a separator before a sign with dots on its left', { figure: 'b3 1', rhythm: 'halves', dynamic: 'mf' }, '>MF\'<"PN<K'],
    ['a dynamic before a plain note needs none', { figure: '1 2', rhythm: 'halves', dynamic: 'p' }, '>P"NO<K'],
    ['a tie over the bar', { figure: '1 2', rhythm: '1/2. 1/2' }, '"N\':@C :V'],
  ])('%s', (_, words, cells) => expect(music(words).join(' ')).toContain(cells));

  it('a breath mark stands behind its note', () => {
    expect(music({ figure: '1 2 3 4', rhythm: 'quarters' }, 'flute', new Map([[1, { parenthesised: false }]]))[0]).toBe('"?:,/$]<K');
  });

  it('values that could be read in two ways are told apart: a half and a thirty-second', () => {
    const rhythm = '1/2 1/8.. 1/32 1/4';
    expect(music({ figure: '1 2 3 4', rhythm })[0]).toBe('"NE\'@C,<1OP^<1]<K');
    expect(music({ figure: '1 2 3 4', rhythm: '1/2 1/8. 1/16 1/4' })[0]).toBe('"NE\'&]<K');
  });

  /** Words of an exercise and the example of the code that it is, in ASCII braille. */
  it.each<[string, Words, string, string[], number?]>([
    [
      '1.1-1: a half, then thirty-seconds',
      { figure: '1 1 2 3 4 5', rhythm: '1/2 1/32 1/32 1/32 1/32 1/8', metre: '3/4' },
      'C5-C8',
      ['.N,<1NOPQH<K'],
    ],
    [
      '2.1.3-1: less than a fourth',
      {
        figure: '1 3 5 6 8 9 11 13 14 16 18 17 19 21 22 20 18 16 14 12 11 9 7 5 4 2 3 1',
        rhythm: '1/8 1/8 1/8 1/4 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/4 1/8 1/4 1/8 1/2.',
        metre: '6/8',
      },
      'C4-C8',
      ['"DFH[D EGIJEG FHJDIG EJHGEJ', '"\\G:F N\'<K'],
      31,
    ],
    [
      '2.1.4-1: sixths and sevenths',
      { figure: '1 3 5 6 1 6 1 b7 1 6 1 6 5', rhythm: '1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/2.', metre: '6/8' },
      'C4-C8',
      ['"DFHI"D"I "D<"J"D"I"D"I R\'<K'],
    ],
    [
      '2.1.5-1 a: fourths and fifths within an octave',
      { figure: '1 2 3 1 4 1 5 1 6', rhythm: '1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/2', metre: '3/4' },
      'C4-C8',
      ['"DEFDGD HD"S<K'],
    ],
    [
      '2.1.5-1 b: fourths and fifths into another',
      { figure: '5 6 7 5 8 5 9 5 10', rhythm: '1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/2', metre: '3/4' },
      'C4-C8',
      ['"HIJH.D"H .E"H.P<K'],
    ],
  ])('example %s', (_, words, compass, wanted, width = 60) => {
    const line = realised({ order: { name: 'custom', keys: ['C'] }, contour: 'low', ...words }, player('flute', compass));
    const rows = brailleLines('', { line, score: barsOf(line) }, { width }).map((row) => brf(row).replace(/^#[A-J]+ /, ''));
    expect(rows.slice(-wanted.length)).toEqual(wanted);
  });

  it('the next line begins with the number of its bar and an octave mark', () => {
    const line = realised({ figure: '1 2 3 5', rhythm: 'quarters' }, player('flute'));
    const rows = brailleLines('', { line, score: barsOf(line) }).map(brf);
    expect(rows.filter((row) => /^#[A-J]+ (?:[<%*]*|8)*[@^_".;,]/.test(row)).length).toBeGreaterThan(1);
  });
});

it('the heading has tempo, signature and metre together', () => {
  const line = realised(
    {
      signs: 'signature',
      padding: { to: 'bar', by: 'rests' },
      start: { kind: 'concert', key: { letter: 1, alter: 0 } },
      tempo: { beat: frac(1, 4), from: 60, to: 96 },
    },
    player('flute'),
  );
  expect(
    brailleLines('', { line, score: barsOf(line) })
      .map(brf)
      .join('\n'),
  ).toContain('?7#FJ-#IF %%#D4');
});

describe('words', () => {
  it.each([
    ['A walk', ',A WALK'],
    ['No. 12', ',NO4 #AB'],
    ['5 flats', '#E FLATS'],
    ['12a', '#AB;A'],
    ['Études', ',ETUDES'],
    ['B♭', ',B#<'],
  ])('%s: %s', (text, cells) => expect(brf(wordCells(text))).toBe(cells));
});

describe('files', () => {
  const own = (line: ReturnType<typeof demoLines>[number]) => pieceOf(line).lines[0]!;

  it('no line of any demo exercise is wider than the page, and BRF has only its 64 characters', () => {
    for (const line of demoLines([0, 3])) {
      for (const width of [40, 24]) {
        const rows = brailleText(line.exercise.title, own(line), { width }).split('\n');
        expect(Math.max(...rows.map((row) => [...row].length))).toBeLessThanOrEqual(width);
        expect(brfFile(line.exercise.title, own(line), { width })).toMatch(/^[\x20-\x5f\r\n\f]*$/);
      }
    }
  });

  it('a bar longer than a line is parted by a hyphen, and goes on with an octave mark', () => {
    const line = realised(
      { figure: '1 2 3 4 5 6 7 8 7 6 5 4 3 2 1 2', rhythm: 'sixteenths', contour: 'low', order: { name: 'custom', keys: ['C'] } },
      player('flute'),
    );
    const rows = brailleLines('', { line, score: barsOf(line) }, { width: 20 }).map(brf);
    expect(rows.slice(-2)).toEqual(['#A "YZ&=(!)Y)!(=&ZY"', '  "Z<K']);
  });

  it('pages have 25 lines and are parted by form feeds', () => {
    const line = realised({ figure: '1 b3 #4 5 6 b7 8 9', rhythm: 'quarters', passes: 2 }, player('flute'));
    const pages = brfFile('', own(line), { width: 20 }).split('\f');
    expect(pages.length).toBeGreaterThan(1);
    for (const page of pages) expect(page.split('\r\n').length - 1).toBeLessThanOrEqual(25);
  });
});
