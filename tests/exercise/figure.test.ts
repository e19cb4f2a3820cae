import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  distinctKeys,
  type Figure,
  figureMode,
  figureSpan,
  figureText,
  MAX_DEGREE,
  type NoteTone,
  parseFigure,
  reversed,
  type Tone,
  toneInterval,
  toneText,
} from '../../core/exercise/figure.js';
import type { Mode } from '../../core/theory/key.js';
import { SCALE_NAMES, type ScaleName } from '../../core/theory/scale.js';

function figure(text: string): Figure {
  const read = parseFigure(text);
  if (!read.ok) throw new Error(read.issues.map((i) => i.message).join(' '));
  return read.value;
}
const note = (text: string): NoteTone => figure(text).tones[0] as NoteTone;

describe('reading', () => {
  // text, degree, alter, plain
  test.each<[string, number, number, boolean]>([
    ['1', 1, 0, true],
    ['22', 22, 0, true],
    ['b3', 3, -1, false],
    ['♭3', 3, -1, false],
    ['bb7', 7, -2, false],
    ['♭♭7', 7, -2, false],
    ['𝄫7', 7, -2, false],
    ['#4', 4, 1, false],
    ['♯4', 4, 1, false],
    ['##4', 4, 2, false],
    ['𝄪4', 4, 2, false],
    ['-7', -7, 0, true],
    ['−7', -7, 0, true],
    ['-b7', -7, -1, false],
    ['b10', 10, -1, false],
  ])('%s', (text, degree, alter, plain) => {
    expect(note(text)).toEqual({ kind: 'note', degree, alter, plain, span: [0, text.length] });
  });

  test('blanks of any kind and number stand between tones', () => {
    expect(figureText(figure('  1\t2\n b3   r 5 ').tones)).toBe('1 2 b3 r 5');
  });
  test('spans point into the text', () => {
    const text = ' 1  𝄫7 -b7 r';
    expect(figure(text).tones.map((t) => text.slice(...t.span))).toEqual(['1', '𝄫7', '-b7', 'r']);
  });
});

describe('what is wrong: code, the characters that are wrong, a word of the remedy', () => {
  test.each<[string, string, string, string]>([
    ['', 'figure-empty', '', '`1 2 3 5`'],
    ['   ', 'figure-empty', '   ', '`1 2 3 5`'],
    ['1,2,3', 'figure-comma', ',', 'blanks'],
    ['1, 2', 'figure-comma', ',', 'blanks'],
    ['1 2 x 4', 'figure-unknown-character', 'x', '`r` for a rest'],
    ['1 2. 3', 'figure-unknown-character', '.', 'write degrees'],
    ['1 R', 'figure-unknown-character', 'R', '`r` for a rest'],
    ['1 𝄞', 'figure-unknown-character', '𝄞', 'write degrees'],
    ['1 ♮3', 'figure-natural', '♮', 'choose the scale'],
    ['1 0', 'figure-degree-zero', '0', 'the tonic is 1'],
    ['1 b0', 'figure-degree-zero', '0', 'the tonic is 1'],
    ['03', 'figure-leading-zero', '03', '`3`'],
    ['1 23', 'figure-degree-high', '23', '`2 3`'],
    ['1 b30', 'figure-degree-high', '30', '22'],
    ['123', 'figure-missing-blank', '123', '`1 2 3`'],
    ['1235', 'figure-missing-blank', '1235', '`1 2 3 5`'],
    ['1 2b3', 'figure-missing-blank', 'b', 'blank'],
    ['1-7', 'figure-missing-blank', '-', 'blank'],
    ['1r', 'figure-missing-blank', 'r', 'blank'],
    ['rr', 'figure-missing-blank', 'r', 'blank'],
    ['r1', 'figure-missing-blank', '1', 'blank'],
    ['1 3b', 'figure-sign-after-degree', 'b', '`b3`'],
    ['b#3', 'figure-mixed-signs', 'b#', 'one kind'],
    ['1 #♭♭3', 'figure-mixed-signs', '#♭♭', 'one kind'],
    ['bbb7', 'figure-too-many-signs', 'bbb', 'at most two'],
    ['b𝄫7', 'figure-too-many-signs', 'b𝄫', 'at most two'],
    ['1 b', 'figure-no-degree', 'b', '`b3`'],
    ['-', 'figure-no-degree', '-', '`-3`'],
    ['b-7', 'figure-minus-first', '-', '`-b7`'],
    ['--7', 'figure-two-minuses', '-', 'one minus'],
    ['-8', 'figure-degree-low', '8', '-7'],
    ['r r', 'figure-only-rests', 'r r', 'at least one degree'],
    [`${'1 '.repeat(64)}5 6`, 'figure-too-long', '5 6', '66'],
  ])('%j: %s at %j', (text, code, wrong, remedy) => {
    const read = parseFigure(text);
    expect(read.ok).toBe(false);
    expect(read.issues.map((i) => i.code)).toEqual([code]);
    const [issue] = read.issues;
    expect(text.slice(...(issue?.span ?? [0, 0]))).toBe(wrong);
    expect(issue?.message).toContain(remedy);
    expect(issue?.severity).toBe('error');
  });

  test('every wrong word is reported', () => {
    expect(parseFigure('1 x 0 b#3').issues.map((i) => i.span)).toEqual([
      [2, 3],
      [4, 5],
      [6, 8],
    ]);
  });
  test('64 tones and one degree among rests are allowed', () => {
    expect(figure('1 '.repeat(64)).tones).toHaveLength(64);
    expect(figure('r 1 r').tones).toHaveLength(3);
  });
  test('any text gives a figure or issues whose spans lie in it', () =>
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0123456789b#♭♯𝄫r-−, xn♮'), maxLength: 40 }), (text) => {
        const read = parseFigure(text);
        if (read.ok) return;
        expect(read.issues.length).toBeGreaterThan(0);
        for (const { span } of read.issues) {
          const [from, to] = span ?? [-1, -1];
          expect(from >= 0 && from <= to && to <= text.length).toBe(true);
        }
      }),
    ));
});

const anyTone: fc.Arbitrary<string> = fc
  .record({
    alter: fc.integer({ min: -2, max: 2 }),
    degree: fc.integer({ min: -7, max: MAX_DEGREE }),
    rest: fc.integer({ max: 9, min: 0 }),
  })
  .map(({ alter, degree, rest }) => {
    const sign = alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter);
    return rest === 0 ? 'r' : (degree < 0 ? '-' : '') + sign + (Math.abs(degree) || 1);
  });
const anyFigure = fc.array(anyTone, { minLength: 0, maxLength: 63 }).map((tones) => figure([...tones, '1'].join(' ')));

describe('writing', () => {
  test('a figure written and read again is the same', () =>
    fc.assert(
      fc.property(anyFigure, (f) => {
        expect(figureText(f.tones)).toBe(f.text);
        expect(figure(figureText(f.tones))).toEqual(f);
      }),
    ));
  test('backwards reads as written backwards, and twice backwards is the same', () =>
    fc.assert(
      fc.property(anyFigure, (f) => {
        expect(reversed(f)).toEqual(figure([...f.tones].reverse().map(toneText).join(' ')));
        expect(reversed(reversed(f))).toEqual(f);
      }),
    ));
  test('1 2 b3 5 backwards', () => expect(reversed(figure('1  2 b3 5')).text).toBe('5 b3 2 1'));
});

describe('interval above the tonic', () => {
  test.each<[string, ScaleName, Mode, number, number]>([
    ['3', 'major', 'major', 2, 4],
    ['3', 'natural minor', 'major', 2, 3],
    ['3', 'natural minor', 'minor', 2, 3],
    // Signs are relative to the major scale, whatever the scale.
    ['b3', 'major', 'major', 2, 3],
    ['b3', 'natural minor', 'minor', 2, 3],
    ['b6', 'harmonic minor', 'minor', 5, 8],
    ['#4', 'lydian', 'major', 3, 6],
    ['bb7', 'major', 'major', 6, 9],
    ['b10', 'major', 'major', 9, 15],
    ['-7', 'major', 'major', -1, -1],
    ['-b7', 'major', 'major', -1, -2],
    ['-7', 'natural minor', 'major', -1, -2],
    ['-1', 'major', 'major', -7, -12],
    ['-#1', 'major', 'major', -7, -11],
    // A major-scale figure in a minor key is read in harmonic minor.
    ['3', 'major', 'minor', 2, 3],
    ['6', 'major', 'minor', 5, 8],
    ['7', 'major', 'minor', 6, 11],
    ['-6', 'major', 'minor', -2, -4],
    ['#4', 'major', 'minor', 3, 6],
    ['6', 'dorian', 'minor', 5, 9],
  ])('%s in %s, %s key: %d steps, %d semitones', (text, scale, mode, steps, semitones) => {
    expect(toneInterval(note(text), scale, mode)).toEqual({ steps, semitones });
  });

  test('a tone stands on the letter of its degree in every scale', () =>
    fc.assert(
      fc.property(anyTone, fc.constantFrom(...SCALE_NAMES), fc.constantFrom<Mode>('major', 'minor'), (text, scale, mode) => {
        if (text === 'r') return;
        const tone = note(text);
        expect(toneInterval(tone, scale, mode).steps).toBe(tone.degree > 0 ? tone.degree - 1 : -tone.degree - 8);
      }),
    ));
});

test.each<[string, ScaleName, number, number]>([
  ['1 2 3 5', 'major', 0, 7],
  ['3', 'major', 4, 4],
  ['1 b2 1 -7 1', 'major', -1, 1],
  ['r 8 r', 'major', 12, 12],
  ['1 2 3 4 5 6', 'natural minor', 0, 8],
])('span of %s in %s: %d to %d', (text, scale, low, high) => expect(figureSpan(figure(text), scale)).toEqual({ low, high }));

test('span in a minor key', () => expect(figureSpan(figure('1 6'), 'major', 'minor')).toEqual({ low: 0, high: 8 }));

test.each<[string, ScaleName, Mode]>([
  ['1 2 3 5', 'major', 'major'],
  ['1 2 b3 5', 'major', 'minor'],
  ['1 4 b7 b10', 'major', 'minor'],
  ['1 -b3 1', 'major', 'minor'],
  ['1 b3 3 5', 'major', 'major'],
  ['1 b3 10', 'major', 'major'],
  ['1 #2 5', 'major', 'major'],
  ['1 bb3 5', 'major', 'major'],
  ['1 5', 'major', 'major'],
  ['1 5', 'harmonic minor', 'minor'],
  ['1 2 3 5', 'dorian', 'minor'],
  ['1 3 5 b7', 'mixolydian', 'major'],
])('signature of %s in %s: %s', (text, scale, mode) => expect(figureMode(figure(text), scale)).toBe(mode));

// The numbers of distinct transpositions are common practice.
test.each<[string, ScaleName, number]>([
  ['1 2 3 4 5 6 7 8', 'major', 12],
  ['1 2 3 #4 #5 b7 8', 'whole tone', 2],
  ['1 2 b3 4 b5 b6 6 7 8', 'octatonic whole-half', 3],
  ['1 b3 b5 bb7 8', 'major', 3],
  ['1 3 #5 8', 'major', 4],
  ['1 b5', 'major', 6],
  ['1 #1 2 #2 3 4 #4 5 #5 6 #6 7 8', 'chromatic', 1],
  ['1 b2 1 -7 1', 'chromatic', 12],
  ['1', 'major', 12],
])('%s: %d', (text, scale, count) => expect(distinctKeys(figure(text), scale)).toBe(count));

test('a rest is written r', () => expect(figure('1 r').tones.map((t: Tone) => toneText(t))).toEqual(['1', 'r']));
