import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { syllables } from '../../core/layout/text/hyphenation.js';
import { type ParagraphStyle, type SetLine, setParagraph } from '../../core/layout/text/paragraph.js';
import type { Span } from '../../core/layout/text/text.js';
import { testFonts } from '../fonts.js';

const fonts = testFonts();
const roman = (text: string): Span => ({ text, font: 'roman' });
const style: ParagraphStyle = { width: 200, size: 10, align: 'justify', language: 'en-US' };
const text = (line: SetLine) =>
  line.runs
    .map((r) => r.text)
    .join('')
    .trimEnd();
const edge = (line: SetLine) => Math.max(...line.runs.map((r) => r.x + r.width));

const ESSAY =
  'The turnaround is the place where most players lose the pulse, and the unrelenting counterpoint of the metronome ' +
  'discourages procrastination. Carry the figure through all twelve keys, transposing by ear; the hand learns the shape ' +
  'and the ear learns the sound before the eye has read a single note of the next statement.';

describe('hyphenation', () => {
  // Divisions as in a desk dictionary of American English (from memory).
  test.each([
    ['transposition', 'trans-po-si-tion'],
    ['practice', 'prac-tice'],
    ['signature', 'sig-na-ture'],
    ['scale', 'scale'],
    ['x7figure', 'x7figure'],
  ])('%s', (word, expected) => expect(syllables(word, 'en-US').join('-')).toBe(expected));
  test('follows the language of the book', () => {
    expect(syllables('Tonleitern', 'de').join('-')).toBe('Ton-lei-tern');
    expect(syllables('embouchure', 'xx')).toEqual(['embouchure']);
  });
});

describe('justified text', () => {
  const lines = setParagraph([roman(ESSAY)], { ...style, width: 340 }, fonts);
  test('has every word, with hyphens only where lines end', () => {
    const whole = lines.map((line) => (text(line).endsWith('-') ? text(line).slice(0, -1) : `${text(line)} `)).join('');
    expect(whole.trim()).toBe(ESSAY);
    expect(lines.some((line) => text(line).endsWith('-'))).toBe(true);
  });
  test('ends every line but the last at the margin', () => {
    for (const line of lines.slice(0, -1)) expect(edge(line)).toBeCloseTo(340, 6);
    expect(edge(lines.at(-1)!)).toBeLessThan(340);
  });
  test('keeps spaces within the tolerance, and natural in the last line', () => {
    for (const line of lines) {
      expect(line.ratio).toBeGreaterThanOrEqual(-1 - 1e-6);
      expect(line.ratio).toBeLessThanOrEqual(1.5 + 1e-6);
    }
    expect(lines.at(-1)!.ratio).toBe(0);
  });
  test('the words of neighbouring lines are apart for readers by ear, unless one word goes on', () => {
    for (const line of lines.slice(0, -1)) {
      const whole = line.runs.map((r) => r.text).join('');
      expect(whole.endsWith(text(line).endsWith('-') ? '-' : ' ')).toBe(true);
    }
  });
  test('a short paragraph is one line of its natural width', () => {
    const [line, ...more] = setParagraph([roman('Slowly at first.')], style, fonts);
    expect(more).toEqual([]);
    expect(line!.width).toBeCloseTo(fonts.width('roman', 'Slowly at first.') * 10, 1);
  });
});

describe('words', () => {
  test('a comma after an italic word stays with it', () => {
    const spans: Span[] = [roman('play it '), { text: 'slowly', font: 'italic' }, roman(', then')];
    const [line] = setParagraph(spans, style, fonts);
    expect(line!.runs.map((r) => `${r.font}:${r.text}`)).toEqual(['roman:play ', 'roman:it ', 'italic:slowly', 'roman:, ', 'roman:then']);
  });
  test('a word wider than the line is divided anywhere rather than set outside', () => {
    const lines = setParagraph([roman(`see ${'w'.repeat(80)} there`)], style, fonts);
    expect(lines.map((line) => edge(line) <= 200 + 1e-6)).toEqual(lines.map(() => true));
    expect(lines.map(text).join('').replaceAll(' ', '')).toBe(`see${'w'.repeat(80)}there`);
  });
  test('no text, no lines', () => {
    expect(setParagraph([roman('')], style, fonts)).toEqual([]);
    expect(setParagraph([roman('  \n ')], style, fonts)).toEqual([]);
  });
});

test('centred titles are broken to even lengths', () => {
  const title = [roman('Exercises for the First Year of Playing in All the Twelve Keys')];
  const lines = setParagraph(title, { width: 180, size: 12, align: 'center' }, fonts);
  expect(lines.length).toBe(2);
  const [a, b] = lines.map((line) => line.width) as [number, number];
  expect(Math.min(a, b) / Math.max(a, b)).toBeGreaterThan(0.75);
  for (const line of lines) expect(line.runs[0]!.x).toBeCloseTo((180 - line.width) / 2, 6);
});

test('whatever the text and the measure, nothing is lost and nothing stands outside', () => {
  const word = fc.string({ unit: fc.constantFrom(...'abcdefghijklmnopqrstuvwxyz-—♭♯,.é'), minLength: 1, maxLength: 18 });
  const align = fc.constantFrom('justify' as const, 'left' as const, 'center' as const, 'right' as const);
  fc.assert(
    fc.property(fc.array(word, { minLength: 1, maxLength: 25 }), fc.integer({ min: 40, max: 400 }), align, (words, width, how) => {
      const lines = setParagraph([roman(words.join(' '))], { ...style, width, align: how }, fonts);
      for (const line of lines) {
        expect(edge(line)).toBeLessThanOrEqual(width + 1e-6);
        expect(line.runs[0]!.x).toBeGreaterThanOrEqual(-1e-6);
      }
      const plain = (s: string) => s.replace(/[ -]/g, '');
      expect(plain(lines.map(text).join(''))).toBe(plain(words.join('')));
    }),
    { numRuns: 150, seed: 7 },
  );
});
