/** What an author is told about a figure, a rhythm or an order, word for word; and the tables that are shown to be chosen from. */
import { describe, expect, it, test } from 'vitest';
import { parseFigure } from '../../core/exercise/figure.js';
import { figureById } from '../../core/exercise/figure-library.js';
import { KEY_ORDER_NAMES, type KeyOrderSpec, keyOrder } from '../../core/exercise/key-order.js';
import { KEY_ORDERS } from '../../core/exercise/key-order-catalogue.js';
import { parseRhythm, RHYTHM_NAMES } from '../../core/exercise/rhythm.js';

const sentences = ({ issues }: { readonly issues: readonly { readonly message: string }[] }): string[] =>
  issues.map(({ message }) => message);

describe('what is wrong with a figure', () => {
  it.each<[string, string[]]>([
    ['', ['The figure is empty: write degrees such as `1 2 3 5`.']],
    ['1,2', ['Degrees are separated by blanks: write `1 2 3` without commas or semicolons.']],
    ['1 x', ['The character `x` has no meaning in a figure: write degrees such as `1`, `b3`, `#4`, `-7`, or `r` for a rest.']],
    ['1 ♮3', ['A figure has no natural sign: write the degree alone, and choose the scale it is read in.']],
    ['0', ['There is no degree 0: the tonic is 1, and its lower octave is -1.']],
    ['03', ['Write the degree without a leading zero: `3`.']],
    [
      '1 23',
      [
        'The highest degree is 22, three octaves above the tonic: write a lower one. If two degrees were meant, put a blank between them: `2 3`.',
      ],
    ],
    ['30', ['The highest degree is 22, three octaves above the tonic: write a lower one.']],
    ['123', ['Put a blank between degrees: write `1 2 3`.']],
    ['12345678912345', ['Put a blank between degrees: write `1 2 3 4 5 6 7 8 9 1 2 3 …`.']],
    ['1b3', ['Put a blank between two tones: write `1 b3`, not `1b3`.']],
    ['3b', ['A sign stands before its degree: write `b3`, not `3b`.']],
    ['b#3', ['A degree takes flats or sharps, not both: keep one kind.']],
    ['bbb7', ['A degree takes at most two flats or two sharps: take some away.']],
    ['b', ['A degree must follow `b`: write `b3`, for example.']],
    ['b-7', ['The minus stands first: write `-b7`, not `b-7`.']],
    ['--7', ['A degree takes one minus: write `-7`.']],
    ['-8', ['Below the tonic there are -7 (just under 1) down to -1 (an octave under 1): write one of these.']],
    ['r r', ['The figure has only rests: write at least one degree.']],
    ['1 '.repeat(65), ['A figure has at most 64 tones, this one has 65: shorten it.']],
  ])('%j', (text, words) => expect(sentences(parseFigure(text))).toEqual(words));
});

describe('what is wrong with a rhythm', () => {
  it.each<[string, string[]]>([
    ['', ['The rhythm is empty: write note values such as `1/8`, or a name such as `eighths`.']],
    ['eighth triplet', ['There is no rhythm called "eighth triplet"; did you mean "eighth triplets"?']],
    [
      'syncopated',
      [
        'There is no rhythm called "syncopated": write note values such as `1/8`, or one of halves, quarters, eighths, sixteenths, quarter triplets, eighth triplets, sixteenth sextuplets, long-short triplets, dotted quarter and eighth, dotted eighth and sixteenth, quarter and two eighths, eighth and two sixteenths, two sixteenths and eighth.',
      ],
    ],
    ['1/8 3/8', ['`3/8` is not a note value: write `1/4.`.']],
    ['8', ['`8` is not a note value: write `1/8`.']],
    ['1/5', ['`1/5` is not a note value: write one of 1/1, 1/2, 1/4, 1/8, 1/16, 1/32, with a dot or two behind it when dotted.']],
    ['1/4...', ['A note value takes at most two dots: take some away.']],
    ['1/8,1/8', ['Note values are separated by blanks: write `1/8 1/16 1/16`.']],
    ['1/8 r', ['A rhythm has no rests: write `r` in the figure instead.']],
    ['1/8 q', ['`q` has no meaning in a rhythm: write note values such as `1/8`, `1/4.` or `3:2(1/8 1/8 1/8)`.']],
    ['1/81/8', ['Put a blank between note values: write `1/8 1/8`.']],
    ['3:2(1/8 1/8)', ['The values in this tuplet must add up to 3 equal notes, such as `3:2(1/8 1/8 1/8)`: add or change values.']],
    ['4:2(1/8)', ['`4:2` is not a tuplet: write two different numbers from 2 to 15, neither twice the other or more, such as 3:2 or 5:4.']],
    ['(1/8', ['Two numbers stand before the bracket of a tuplet: write `3:2(`.']],
    ['3:2 1/8', ['The values of a tuplet stand in brackets: write `3:2(1/8 …)`.']],
    ['1/8)', ['This bracket closes no tuplet: take it out, or write `3:2(` before the values.']],
    ['3:2(1/8', ['This tuplet is not closed: write `)` behind its last value.']],
    [
      '3:2(5:4(1/8))',
      [
        'A tuplet cannot stand inside another: close the first one with `)`.',
        'This bracket closes no tuplet: take it out, or write `3:2(` before the values.',
      ],
    ],
    ['1/8 '.repeat(65), ['A rhythm has at most 64 values, this one has 65: shorten it.']],
  ])('%j', (text, words) => expect(sentences(parseRhythm(text))).toEqual(words));
});

describe('what is wrong with an order', () => {
  it.each<[KeyOrderSpec, string[]]>([
    [{ name: 'custom' }, ['The order `custom` needs its keys: list note names such as `C`, `Am`, `F#`.']],
    [{ name: 'custom', keys: ['C', 'H'] }, ['`H` is not a key: write a note name such as `Bb`, with `m` behind it for minor.']],
    [{ name: 'custom', keys: ['C', 'C'] }, ['The key `C` is in the list already: take it out, each key comes once.']],
    [{ name: 'shuffle' }, ['The order `shuffle` needs a seed or a stored sequence, so that all printings agree: give a seed such as 1.']],
    [{ name: 'shuffle', seed: -1 }, ['The seed must be a whole number from 0 to 4294967295.']],
    [{ name: 'shuffle', sequence: [1] }, ['The stored order must hold each of the numbers 0 to 11 once: correct the list.']],
    [
      { name: 'minor-thirds', sets: [0, 3, 1] },
      ['The order `minor-thirds` needs 3 set offsets in semitones, 0 first, that reach each key once: for example 0, 1, 2.'],
    ],
    [
      { name: 'semitone-pairs', sets: [0] },
      ['The order `semitone-pairs` needs 6 set offsets in semitones, 0 first, that reach each key once: for example 0, 2, 4, 6, 8, 10.'],
    ],
    [
      { name: 'fourths', down: true },
      [
        'The order `fourths` has no `down`: take it out, or use one of the orders whole-tones, minor-thirds, major-thirds, semitone-pairs (or `fifths`, `chromatic-down`).',
      ],
    ],
    [
      { name: 'fourths', sets: [0] },
      [
        'The order `fourths` has no `sets`: take it out, or use one of the orders in sets: whole-tones, minor-thirds, major-thirds, tritones, semitone-pairs.',
      ],
    ],
    [{ name: 'fourths', keys: ['C'] }, ['The order `fourths` has no `keys`: take it out, or use the order `custom`.']],
    [{ name: 'fourths', seed: 1 }, ['The order `fourths` has no `seed`: take it out, or use the order `shuffle`.']],
    [{ name: 'fourths', sequence: [1] }, ['The order `fourths` has no `sequence`: take it out, or use the order `shuffle`.']],
  ])('%j', (spec, words) => expect(sentences(keyOrder(spec))).toEqual(words));
});

test.each([
  ['dorain', 'The library has no figure "dorain"; did you mean "dorian"?'],
  ['zzzzzz', 'The library has no figure "zzzzzz": choose an id from the list of figures, such as "cell-1-2-3-5".'],
])('%s is no figure', (id, words) => expect(sentences(figureById(id))).toEqual([words]));

/** name | title | names in use | steps | sets | keys in each (common practice). */
const ORDERS = `
fourths        | Circle of fourths         | cycle of fourths, descending fifths, flat-wise order    | up a fourth | 1 | 12
fifths         | Circle of fifths          | cycle of fifths, sharp-wise order, clockwise            | up a fifth | 1 | 12
chromatic-up   | Chromatic, ascending      | by half steps                                           | up a half step | 1 | 12
chromatic-down | Chromatic, descending     | descending half steps                                   | down a half step | 1 | 12
whole-tones    | Whole tones               | whole steps, whole-tone cycle                           | up or down a whole step; the second set a half step higher | 2 | 6
minor-thirds   | Minor thirds              | minor-third cycle, diminished cycle                     | up or down a minor third; each set a half step higher | 3 | 4
major-thirds   | Major thirds              | major-third cycle, augmented cycle, three-tonic system  | up or down a major third; each set a half step higher | 4 | 3
tritones       | Tritones                  | tritone pairs, tritone substitution pairs               | a tritone; each pair a half step higher | 6 | 2
semitone-pairs | Half-step pairs           | semitone pairs, side-slip pairs                         | up or down a half step within a pair; each pair a whole step higher | 6 | 2
signatures     | One sharp, one flat       | order of key signatures, sharps and flats in turn       | fifths from the first key, above and below in turn | 1 | 12
relative-pairs | Major and relative minor  | relative pairs, relative keys                           | a major key, its relative minor, then up a fourth | 12 | 2
parallel-pairs | Major and parallel minor  | parallel pairs, tonic major and minor                   | a major key, the minor on the same tonic, then up a fourth | 12 | 2
wedge          | Chromatic wedge           | wedge, fan                                              | half steps from the first key, above and below in turn | 1 | 12
custom         | Own order                 |                                                         | as listed | - | -
shuffle        | Shuffled                  | random order                                            | each key once, in an order that is the same in every printing | 1 | 12
`;

test('orders to choose from', () => {
  const rows = ORDERS.trim()
    .split('\n')
    .map((row) => row.split('|').map((cell) => cell.trim()));
  expect(
    KEY_ORDERS.map(({ name, title, textbookNames, steps, sets, size }) => [
      name,
      title,
      textbookNames.join(', '),
      steps,
      `${sets ?? '-'}`,
      `${size ?? '-'}`,
    ]),
  ).toEqual(rows);
  expect(KEY_ORDER_NAMES).toEqual(rows.map(([name]) => name));
});

test('rhythms to choose from', () =>
  expect(RHYTHM_NAMES.map(({ name, title, text }) => `${name} | ${title} | ${text}`)).toEqual([
    'halves | Halves | 1/2',
    'quarters | Quarters | 1/4',
    'eighths | Eighths | 1/8',
    'sixteenths | Sixteenths | 1/16',
    'quarter triplets | Quarter triplets | 3:2(1/4 1/4 1/4)',
    'eighth triplets | Eighth triplets | 3:2(1/8 1/8 1/8)',
    'sixteenth sextuplets | Sixteenth sextuplets | 6:4(1/16 1/16 1/16 1/16 1/16 1/16)',
    'long-short triplets | Long-short triplets | 3:2(1/4 1/8)',
    'dotted quarter and eighth | Dotted quarter, eighth | 1/4. 1/8',
    'dotted eighth and sixteenth | Dotted eighth, sixteenth | 1/8. 1/16',
    'quarter and two eighths | Quarter, two eighths | 1/4 1/8 1/8',
    'eighth and two sixteenths | Eighth, two sixteenths | 1/8 1/16 1/16',
    'two sixteenths and eighth | Two sixteenths, eighth | 1/16 1/16 1/8',
  ]));
