import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseRhythm, RHYTHM_NAMES, type Rhythm, type RhythmValue, rhythmLength } from '../../core/exercise/rhythm.js';
import { add, div, equal, frac, mul, sum, text as written } from '../../core/theory/fraction.js';

function rhythm(text: string): Rhythm {
  const read = parseRhythm(text);
  if (!read.ok) throw new Error(read.issues.map((i) => i.message).join(' '));
  return read.value;
}
const durations = (text: string): string =>
  rhythm(text)
    .values.map((v) => written(v.duration))
    .join(' ');

// Arithmetic of note values (common practice): a dot adds half, a second dot a quarter; 3 in the time of 2.
test.each([
  ['1/1', '1'],
  ['1/4 1/8', '1/4 1/8'],
  ['1/4.', '3/8'],
  ['1/4..', '7/16'],
  ['1/32', '1/32'],
  ['1/2. 1/16.', '3/4 3/32'],
  ['3:2(1/8 1/8 1/8)', '1/12 1/12 1/12'],
  ['3:2 ( 1/4 1/8 )', '1/6 1/12'],
  ['3:2(1/8. 1/16 1/8)', '1/8 1/24 1/12'],
  ['5:4(1/16 1/16 1/16 1/16 1/16)', '1/20 1/20 1/20 1/20 1/20'],
  ['6:4(1/8 1/16 1/16 1/8)', '1/12 1/24 1/24 1/12'],
  ['7:4(1/16 1/8 1/8 1/8)', '1/28 1/14 1/14 1/14'],
  ['7:8(1/32 1/32 1/32 1/32 1/32 1/32 1/32)', '1/28 1/28 1/28 1/28 1/28 1/28 1/28'],
  ['2:3(1/8 1/8)', '3/16 3/16'],
  ['4:3(1/8 1/8 1/8 1/8)', '3/32 3/32 3/32 3/32'],
  ['1/4 3:2(1/8 1/8 1/8)', '1/4 1/12 1/12 1/12'],
])('%s lasts %s', (text, expected) => expect(durations(text)).toBe(expected));

test('a value keeps its written form', () => {
  expect(rhythm('1/4.').values[0]).toEqual({ base: frac(1, 4), dots: 1, duration: frac(3, 8) });
  expect(rhythm('3:2(1/4 1/8)').values[1]).toEqual({
    base: frac(1, 8),
    dots: 0,
    tuplet: { actual: 3, normal: 2, total: frac(1, 4) },
    duration: frac(1, 12),
  });
});

// Names in words, against their lengths in whole notes (common practice).
test.each([
  ['quarters', '1/4', 1],
  ['eighths', '1/8', 1],
  ['sixteenths', '1/16', 1],
  ['halves', '1/2', 1],
  ['eighth triplets', '1/4', 3],
  ['quarter triplets', '1/2', 3],
  ['sixteenth sextuplets', '1/4', 6],
  ['dotted eighth and sixteenth', '1/4', 2],
  ['dotted quarter and eighth', '1/2', 2],
  ['eighth and two sixteenths', '1/4', 3],
  ['two sixteenths and eighth', '1/4', 3],
  ['quarter and two eighths', '1/2', 3],
  ['long-short triplets', '1/4', 2],
  ['  Eighth   TRIPLETS ', '1/4', 3],
])('%s: %s, %d values', (name, length, count) => {
  expect(written(rhythmLength(rhythm(name)))).toBe(length);
  expect(rhythm(name).values).toHaveLength(count);
});

test.each(RHYTHM_NAMES.map((r) => [r.name, r] as const))('%s reads as its note values', (name, entry) => {
  expect(rhythm(name)).toEqual({ text: name, values: rhythm(entry.text).values });
});

test('names and titles differ', () => {
  expect(new Set(RHYTHM_NAMES.map((r) => r.name)).size).toBe(RHYTHM_NAMES.length);
  expect(new Set(RHYTHM_NAMES.map((r) => r.title)).size).toBe(RHYTHM_NAMES.length);
});

describe('what is wrong: code, the characters that are wrong, a word of the remedy', () => {
  test.each<[string, string, string, string]>([
    ['', 'rhythm-empty', '', '`eighths`'],
    ['  ', 'rhythm-empty', '  ', '`eighths`'],
    ['eighth triplet', 'rhythm-name', 'eighth triplet', '"eighth triplets"'],
    ['syncopated', 'rhythm-name', 'syncopated', 'one of halves'],
    ['1/8 3/8', 'rhythm-value', '3/8', '`1/4.`'],
    ['7/8', 'rhythm-value', '7/8', '`1/2..`'],
    ['2/4', 'rhythm-value', '2/4', '`1/2`'],
    ['8', 'rhythm-value', '8', '`1/8`'],
    ['1/5', 'rhythm-value', '1/5', '1/16'],
    ['1/64', 'rhythm-value', '1/64', '1/32'],
    ['1/0', 'rhythm-value', '1/0', '1/32'],
    ['1/', 'rhythm-value', '1/', '1/32'],
    ['1/8 .', 'rhythm-value', '.', '1/32'],
    ['1/4...', 'rhythm-dots', '1/4...', 'at most two'],
    ['1/8,1/8', 'rhythm-comma', ',', 'blanks'],
    ['1/8 r', 'rhythm-rest', 'r', 'in the figure'],
    ['1/8 q', 'rhythm-unknown', 'q', '`1/8`'],
    ['1/81/8', 'rhythm-missing-blank', '1/81/8', 'blank'],
    ['1/4.1/8', 'rhythm-missing-blank', '1/4.1/8', 'blank'],
    ['3:2(1/8 1/8 1/8)1/8', 'rhythm-missing-blank', '1/8', 'blank'],
    ['3:2(1/8 1/8)', 'rhythm-tuplet-sum', '3:2(1/8 1/8)', '`3:2(1/8 1/8 1/8)`'],
    ['3:2()', 'rhythm-tuplet-sum', '3:2()', '3 equal notes'],
    ['3:2(1/8 1/8 1/8 1/8)', 'rhythm-tuplet-sum', '3:2(1/8 1/8 1/8 1/8)', '3 equal notes'],
    ['4:2(1/8 1/8 1/8 1/8)', 'rhythm-tuplet-ratio', '4:2(', '3:2'],
    ['3:3(1/8 1/8 1/8)', 'rhythm-tuplet-ratio', '3:3(', '3:2'],
    ['3:0(1/8 1/8 1/8)', 'rhythm-tuplet-ratio', '3:0(', '3:2'],
    ['99999999999999999999:2(1/8)', 'rhythm-tuplet-ratio', '99999999999999999999:2(', '15'],
    ['(1/8', 'rhythm-tuplet-open', '(', '`3:2(`'],
    ['3:2 1/8', 'rhythm-tuplet-open', '3:2', 'brackets'],
    ['1/8)', 'rhythm-tuplet-close', ')', 'take it out'],
    ['3:2(1/8 1/8 1/8', 'rhythm-tuplet-close', '3:2(', '`)`'],
    ['3:2(1/8 5:4(1/8 1/8)', 'rhythm-tuplet-nested', '5:4(', 'close the first'],
    [Array.from({ length: 65 }, () => '1/8').join(' '), 'rhythm-too-long', Array.from({ length: 65 }, () => '1/8').join(' '), '64'],
  ])('%j: %s at %j', (text, code, wrong, remedy) => {
    const read = parseRhythm(text);
    expect(read.ok).toBe(false);
    expect(read.issues.map((i) => i.code)).toEqual([code]);
    expect(text.slice(...(read.issues[0]?.span ?? [0, 0]))).toBe(wrong);
    expect(read.issues[0]?.message).toContain(remedy);
  });

  test('every wrong word is reported', () => {
    expect(parseRhythm('1/8 3/8 x').issues.map((i) => i.code)).toEqual(['rhythm-value', 'rhythm-unknown']);
  });

  test('any text gives a rhythm or issues whose spans lie in it', () =>
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'123468/./.:() ,r'), maxLength: 30 }), (text) => {
        const read = parseRhythm(text);
        if (read.ok) return;
        expect(read.issues.length).toBeGreaterThan(0);
        for (const { span } of read.issues) {
          const [from, to] = span ?? [-1, -1];
          expect(from >= 0 && from <= to && to <= text.length).toBe(true);
        }
      }),
    ));
});

test('a tuplet of equal notes fills its total exactly', () =>
  fc.assert(
    fc.property(
      fc.integer({ min: 2, max: 15 }),
      fc.integer({ min: 2, max: 15 }),
      fc.constantFrom(1, 2, 4, 8, 16, 32),
      (actual, normal, d) => {
        fc.pre(actual !== normal && actual < 2 * normal && normal < 2 * actual);
        const { values } = rhythm(`${actual}:${normal}(${Array.from({ length: actual }, () => `1/${d}`).join(' ')})`);
        const total = (values[0] as RhythmValue).tuplet?.total;
        expect(total).toEqual(frac(normal, d));
        expect(sum(values.map((v) => v.duration))).toEqual(total);
      },
    ),
  ));

test('each dot adds half of what went before', () =>
  fc.assert(
    fc.property(fc.constantFrom(1, 2, 4, 8, 16, 32), (d) => {
      const [none, one, two] = ['', '.', '..'].map((dots) => (rhythm(`1/${d}${dots}`).values[0] as RhythmValue).duration);
      expect(one && none && equal(one, add(none, mul(none, frac(1, 2))))).toBe(true);
      expect(two && one && none && equal(two, add(one, div(none, frac(4))))).toBe(true);
    }),
  ));
