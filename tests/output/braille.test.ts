/**
 * Checked against worked examples of the Music Braille Code (Braille Authority of North America, 1997, as published at
 * braille.brl.org/music/code/bmb), named by their numbers, and rules of the New International Manual of Braille Music Notation
 * (World Blind Union, 1996, brl.org/music/manual). Both are published there with their tables of signs as pictures, so signs
 * that stand in no example are checked from memory: the triplet, the breath mark, the sectional double bar, which sign is the
 * staccato, which the accent and which the tenuto; and Unified English Braille for words and the characters of BRF.
 */
import { describe, expect, it } from 'vitest';
import { barsOf } from '../../core/engrave/bars.js';
import { needsOctave } from '../../core/output/braille/bar.js';
import { brailleLines, brailleText, brfFile } from '../../core/output/braille/braille.js';
import {
  brf,
  lowerDigits,
  metreCells,
  noteCell,
  octaveMark,
  restCell,
  SIGN,
  signatureCells,
  wordCells,
} from '../../core/output/braille/cells.js';
import type { Line } from '../../core/player/line.js';
import { frac } from '../../core/theory/fraction.js';
import { METRES, type MetreName } from '../../core/theory/metre.js';
import { parsePitch } from '../../core/theory/pitch.js';
import { player, realised, type Words } from '../player/fixture.js';
import { demoLines, pieceOf } from './exported.js';
import { readings } from './read-braille.js';

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

  // Half, quarter, eighth and whole in examples 4.1-1 (`U`, `V`, `X`, `M`) and 7.4-1; a sixteenth looks like a whole by 1.1.
  it('rests', () => expect(brf([1, 2, 4, 8, 16].map(restCell).join(''))).toBe('MUVXM'));
  it('octave marks, the fourth from middle C', () =>
    expect([0, 1, 2, 3, 4, 5, 6, 7, 8].map((octave) => brf(octaveMark(octave))).join(' ')).toBe('@@ @ ^ _ " . ; , ,,'));
});

/** `#D` and a sign for four or more: New International Manual, 3-4, and example 1.6-1. Metres as in examples 1.2-1, 2.1.4-1 and 12.5-1. */
describe('signatures and metres', () => {
  it.each([
    [0, ''],
    [1, '%'],
    [3, '%%%'],
    [4, '#D%'],
    [-2, '<<'],
    [-6, '#F<'],
  ])('%i: %s', (fifths, text) => expect(brf(signatureCells(fifths))).toBe(text));

  it('stand together without a space: examples 1.6-1 and 18.3-1', () => {
    expect(brf(signatureCells(-4) + metreCells(3, 4))).toBe('#D<#C4');
    expect(brf(signatureCells(1) + metreCells(4, 4))).toBe('%#D4');
  });

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

/** The sign of an irregular group: `_11'` in example 1.6-2, a group of eleven. The music hyphen: dot 5 where its lines end. */
it('signs that stand in examples', () => {
  expect(brf(SIGN.tupletFrom + lowerDigits(11) + SIGN.tupletTo)).toBe("_11'");
  expect(brf(SIGN.hyphen)).toBe('"');
  // 9.1-1, 18.4 (`>P>CR'`), 1.1-1, 1.6-1.
  expect([SIGN.tie, SIGN.word, SIGN.smallValues, SIGN.largeValues, SIGN.finalBar].map(brf)).toEqual(['@C', '>', ',<1', '^<1', '<K']);
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
    // The tie follows the dot and the slur (Music Braille Code, 9.1), as in examples 9.1-1 and 9.2-1.
    ['a tie over the bar', { figure: '1 2', rhythm: '1/2. 1/2' }, '"N\':@C :V'],
    // 9.2: the accidental is not written again behind the bar line.
    ['a tied note with an accidental', { figure: '1 b3', rhythm: '1/2. 1/2' }, '"N\'<$@C $V'],
  ])('%s', (_, words, cells) => expect(music(words).join(' ')).toContain(cells));

  it('a breath mark stands behind its note', () => {
    expect(music({ figure: '1 2 3 4', rhythm: 'quarters' }, 'flute', new Map([[1, { parenthesised: false }]]))[0]).toBe('"?:,/$]<K');
  });

  it('values that could be read in two ways are told apart: a half and a thirty-second', () => {
    const rhythm = '1/2 1/8.. 1/32 1/4';
    expect(music({ figure: '1 2 3 4', rhythm })[0]).toBe('"NE\'@C,<1OP^<1]<K');
    expect(music({ figure: '1 2 3 4', rhythm: '1/2 1/8. 1/16 1/4' })[0]).toBe('"NE\'&]<K');
  });

  const sixteenths = (count: number): string => Array.from({ length: count }, () => '1/16').join(' ');

  /** Groups of short notes: New International Manual, 4-2 to 4-6; Music Braille Code, 7.2 to 7.3.5. */
  it.each<[string, Words, string]>([
    ['fours in quarters', { figure: '1 2 3 4 5 6 7 8', rhythm: `${sixteenths(8)}`, metre: '2/4' }, '"YEFG(IJD<K'],
    ['sixes over 8', { figure: '1 2 3 4 5 6 7 8 7 6 5 4', rhythm: sixteenths(12), metre: '6/8' }, '"YEFGHI)DJIHG<K'],
    ['no fours over 8', { figure: '1 2 3 4 5 6 7 8 7 6', rhythm: sixteenths(10), metre: '5/8' }, '"YEFGHI)Y)!<K'],
    ['a rest may begin', { figure: 'r 1 2 3 4 5 6 7', rhythm: sixteenths(8), metre: '2/4' }, 'M"DEF=HIJ<K'],
    ['no rest inside', { figure: '1 r 2 3 4 5 6 7', rhythm: sixteenths(8), metre: '2/4' }, '"YMZ&=HIJ<K'],
    ['no eighth behind', { figure: '1 2 3 4 5 6', rhythm: `${sixteenths(4)} 1/8 1/8`, metre: '2/4' }, '"YZ&=HI<K'],
    ['no eighth rest behind', { figure: '1 2 3 4 r 5', rhythm: `${sixteenths(4)} 1/8 1/8`, metre: '2/4' }, '"YZ&=XH<K'],
    ['no dotted eighth behind', { figure: '1 2 3 4 5 6', rhythm: `${sixteenths(4)} 1/8. 1/16`, metre: '2/4' }, '"YZ&=H\'!<K'],
    ['an eighth in the next bar', { figure: '1 2 3 4 5 6 7 8', rhythm: `1/4 ${sixteenths(4)} 1/8 1/8 1/4`, metre: '2/4' }, '"?ZFGH IJ?<K'],
    ['a quarter behind', { figure: '1 2 3 4 5', rhythm: `${sixteenths(4)} 1/4`, metre: '2/4' }, '"YEFG\\<K'],
    [
      'only the last of two before an eighth',
      { figure: '1 2 3 4 5 6 7 8 7', rhythm: `${sixteenths(8)} 1/8`, metre: '5/8' },
      '"YEFGHI)YJ<K',
    ],
    ['not of different values', { figure: '1 2 3 4 5', rhythm: '1/16 1/16 1/8 1/8 1/8', metre: '2/4' }, '"YZFGH<K'],
    ['not across beats', { figure: '1 2 3 4 5 6', rhythm: `1/8 ${sixteenths(4)} 1/8`, metre: '2/4' }, '"DZ&=(I<K'],
    ['thirty-seconds in fours', { figure: '1 2 3 4 5 6', rhythm: '1/8 1/32 1/32 1/32 1/32 1/4', metre: '2/4' }, '"DOFGH[<K'],
    ['a triplet', { figure: '1 2 3 4 5 6 7', rhythm: '3:2(1/16 1/16 1/16) 3:2(1/16 1/16 1/16) 1/4', metre: '2/4' }, '2"YEF2=HIW<K'],
    [
      'a mark before each note',
      { figure: '1 2 3 4', rhythm: sixteenths(4), metre: '2/4', articulation: { groups: [], mark: 'staccato' } },
      '8"Y8E8F8G',
    ],
    ['an accidental in the group', { figure: '1 b2 b3 4', rhythm: sixteenths(4), metre: '2/4' }, '"Y<E<FG'],
  ])('short notes: %s', (_, words, cells) => expect(music(words).join(' ')).toContain(cells));

  it('eighths that might be taken for sixteenths are told apart, and at the end of a beat are not', () => {
    expect(music({ figure: '1 2 3 4 5 6', rhythm: '1/16 1/8 1/8 1/8 1/16 1/2', metre: '2/2' })[0]).toMatch(/^"Y\^<1EFG\(/);
    expect(music({ figure: '1 2 3 4 5 6', rhythm: '1/8. 1/16 1/8 1/8 1/8 1/8', metre: '3/4' })[0]).toBe('"D\'ZFGHI<K');
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
    [
      '7.4-1: syncopated eighths, its two bars as one of 2/2',
      { figure: '10 9 8 7 6 5 r', rhythm: '1/16 1/8 1/8 1/8 1/16 1/4 1/4', metre: '2/2' },
      'C4-C8',
      ['.&^<1EDJ!\\V<K'],
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

/** New International Manual, 3-9, 9-3; Music Braille Code, 6.3 and example 6.3-1: between spaces, then an octave mark. */
it.each([
  [0, ['C', 'G'], /^#A "\?:\$\](?:<K')? % ["^]\\\[W\?<K$/],
  [4, ['G', 'C'], /^#A ["^]\\\[W\?(?:<K')? \* "\?:\$\]<K$/],
])('a change of signature stands between spaces, and the next note has an octave mark: from %s, %s', (letter, keys, cells) => {
  const start = { kind: 'concert', key: { letter, alter: 0 } } as const;
  const line = realised(
    { figure: '1 2 3 4', rhythm: 'quarters', signs: 'signature', order: { name: 'custom', keys }, start, contour: 'low' },
    player('flute'),
  );
  const [row] = brailleLines('', { line, score: barsOf(line) }, { width: 60 }).slice(-1);
  expect(brf(row!)).toMatch(cells);
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

describe('a reader who knows the rules alone reads one thing in every bar, and that is ours', () => {
  /** Bars of a line with the values that are ours; those with tuplets are left out. */
  function barsRead(line: Line): { readonly bar: string; readonly ours: string; readonly theirs: string[] }[] {
    const score = barsOf(line);
    const { beats, unit } = line.exercise.metre;
    const rows = brailleLines('', { line, score }, { width: 4000 });
    const [, ...bars] = brf(rows.at(-1) as string)
      .replace(/ (?:[*%<]{1,3}|#[A-J][*%<])(?= )/g, '')
      .split(' ');
    expect(bars.length).toBe(score.bars.length);
    return score.bars.flatMap(({ events, tuplets }, i) => {
      const bar = bars[i] as string;
      if (tuplets.length > 0) return [];
      return [{ bar, ours: events.map(({ duration }) => (1024 * duration.n) / duration.d).join(' '), theirs: readings(bar, beats, unit) }];
    });
  }

  it('in the demo books', () => {
    let grouped = 0;
    for (const line of demoLines([0, 3])) {
      for (const { bar, ours, theirs } of barsRead(line)) {
        expect(theirs, bar).toEqual([ours]);
        if (/[YZ&=(!)][^D-J ]*[D-J]/.test(bar)) grouped++;
      }
    }
    expect(grouped).toBeGreaterThan(10);
  });

  it('in rhythms by chance', () => {
    let seed = 7;
    const below = (count: number): number => {
      seed = (seed * 48271) % 2147483647;
      return seed % count;
    };
    const VALUES = ['1/4', '1/8', '1/8', '1/16', '1/16', '1/16', '1/16', '1/8.', '1/32', '1/32', '1/4.', '1/2'];
    let bars = 0;
    for (let k = 0; k < 400; k++) {
      const metre = METRES[below(METRES.length)] as MetreName;
      const values: string[] = [];
      while (values.length < 12) {
        const value = VALUES[below(VALUES.length)] as string;
        values.push(...Array.from({ length: below(3) === 0 ? 4 : 1 }, () => value));
      }
      const figure = values.map((_, i) => (below(6) === 0 ? 'r' : String(1 + (i % 7)))).join(' ');
      if (!/\d/.test(figure)) continue;
      const words = { figure, rhythm: values.join(' '), metre, order: { name: 'custom', keys: ['C'] }, contour: 'low' } as const;
      for (const { bar, ours, theirs } of barsRead(realised({ ...words, padding: { to: 'bar', by: 'rests' } }, player('flute')))) {
        expect(theirs, `${metre}: ${bar}`).toEqual([ours]);
        bars++;
      }
    }
    expect(bars).toBeGreaterThan(800);
  });

  it('without its sign of value example 1.1-1 can be read in several ways', () => {
    expect(readings('.N,<1NOPQH', 3, 4)).toEqual(['512 32 32 32 32 128']);
    expect(readings('.NNOPQH', 3, 4).length).toBeGreaterThan(1);
  });

  it('fours over 8 cannot be read', () => {
    expect(readings('"YEFGHI', 3, 8)).toEqual(['64 64 64 64 64 64']);
    expect(readings('"YEFG(=', 3, 8)).toEqual([]);
  });
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
    expect(rows.slice(-2)).toEqual(['#A "YEFG(IJD)IHG"', '  "&EDE<K']);
  });

  it('a group that has no room in a line is written out and parted', () => {
    const line = realised(
      {
        figure: '1 #8 b2 #9 b3 #10',
        rhythm: 'sixteenths',
        metre: '3/8',
        contour: 'low',
        order: { name: 'custom', keys: ['C'] },
        articulation: { groups: [], mark: 'accent' },
      },
      player('flute'),
    );
    const rows = (width: number): string[] => brailleLines('', { line, score: barsOf(line) }, { width }).map(brf);
    expect(rows(60).at(-1)).toBe('#A .8"Y.8%.D.8<"E.8%.E.8<"F.8%.F<K');
    expect(rows(20).slice(-2)).toEqual(['#A .8"Y.8%.Y.8<"Z"', '  .8%.Z.8<"&.8%.&<K']);
  });

  it('pages have 25 lines and are parted by form feeds', () => {
    const line = realised({ figure: '1 b3 #4 5 6 b7 8 9', rhythm: 'quarters', passes: 2 }, player('flute'));
    const pages = brfFile('', own(line), { width: 20 }).split('\f');
    expect(pages.length).toBeGreaterThan(1);
    for (const page of pages) expect(page.split('\r\n').length - 1).toBeLessThanOrEqual(25);
  });
});
