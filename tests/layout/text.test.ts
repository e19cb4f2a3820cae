import { describe, expect, test } from 'vitest';
import { coverageIssues, lineOf, runsOf, type Span, widthOf } from '../../core/layout/text/text.js';
import { isFigure, withRealSigns } from '../../core/layout/text/text-sign.js';
import { testFonts } from '../fonts.js';

const fonts = testFonts();
const roman = (text: string, more: Partial<Span> = {}): Span => ({ text, font: 'roman', ...more });
const set = (text: string, font: Span['font'] = 'roman') => runsOf([{ text, font }], 0, 0, 10, fonts);
/** Runs as `font:text`, joined. */
const shape = (text: string, font: Span['font'] = 'roman') =>
  set(text, font)
    .map((r) => `${r.font}:${r.text}`)
    .join(' | ');

describe('signs within text', () => {
  test.each([
    ['B♭ Clarinet', 'roman:B | music:♭ | roman: Clarinet'],
    ['F♯m', 'roman:F | music:♯ | roman:m'],
    ['E\u{1D12B}', 'roman:E | music:\uE264'],
    ['G\u{1D12A}', 'roman:G | music:\uE263'],
    ['♩ = 60', 'music:\uECA5 | roman: = 60'],
    ['♩. = 60', 'music:\uECA5 | music:\uECB7 | roman: = 60'],
    ['the end. B', 'roman:the end. B'],
    // A half note is one character for the author and two in normal form C.
    ['\u{1D15E} = 60', 'music:\uECA3 | roman: = 60'],
    ['B♭\uFE0E', 'roman:B | music:♭'],
  ])('%s', (text, expected) => expect(shape(text)).toBe(expected));

  test('a flat stands on the baseline and reaches just above the capitals', () => {
    const [, flat] = set('B♭');
    const box = fonts.glyph(0x266d);
    const bottom = flat!.y + (box.y1 / 4) * flat!.size;
    const top = flat!.y + (box.y0 / 4) * flat!.size;
    expect(bottom).toBeGreaterThan(0);
    expect(bottom).toBeLessThan(0.4);
    // Capitals of the face are 6.7 of 10 points high.
    expect(-top).toBeGreaterThan(6.4);
    expect(-top).toBeLessThan(7.4);
  });

  test('B♭ is one word: its parts neither touch nor fall apart', () => {
    const [b, flat, rest] = set('B♭m');
    expect(flat!.x - (b!.x + b!.width)).toBeGreaterThan(0.1);
    expect(flat!.x - (b!.x + b!.width)).toBeLessThan(1);
    expect(rest!.x - (flat!.x + flat!.width)).toBeGreaterThan(0.2);
    expect(rest!.x - (flat!.x + flat!.width)).toBeLessThan(1);
  });

  test('the width of a text counts the room after a last sign', () => {
    const [b, flat] = set('B♭');
    expect(widthOf([roman('B♭')], 10, fonts)).toBeGreaterThan(flat!.x + flat!.width - b!.x);
    expect(widthOf([roman('B♭')], 20, fonts)).toBeCloseTo(2 * widthOf([roman('B♭')], 10, fonts), 9);
  });
});

describe('characters that no font has', () => {
  test.each([
    ['漢字', '[U+6F22][U+5B57]'],
    ['a\u0007b', 'a b'],
    ['so\u00ADft', 'soft'],
    ['e\u0301', 'é'],
  ])('%j is printed as %s', (text, expected) => {
    expect(
      set(text)
        .map((r) => r.text)
        .join(''),
    ).toBe(expected);
    for (const run of set(text)) expect(fonts.covers(run.font, run.text)).toBe(true);
  });
  test('each is reported once', () => {
    const issues = coverageIssues(['title'], 'Études 漢漢 B♭', fonts);
    expect(issues.map((i) => [i.code, i.path])).toEqual([['no-glyph', ['title']]]);
    expect(issues[0]!.message).toContain('[U+6F22]');
    expect(coverageIssues(['title'], 'Études for B♭ clarinet, ♩ = 60', fonts)).toEqual([]);
  });
});

describe('lines', () => {
  const edges = { left: 100, right: 300 };
  const ends = (align: 'left' | 'center' | 'right') => {
    const runs = lineOf([roman('Book')], edges, 50, 12, align, fonts);
    return [runs[0]!.x, runs.at(-1)!.x + runs.at(-1)!.width];
  };
  const width = widthOf([roman('Book')], 12, fonts);
  test('left', () => expect(ends('left')[0]).toBe(100));
  test('right', () => expect(ends('right')[1]).toBeCloseTo(300, 9));
  test('center', () => expect(ends('center')[0]).toBeCloseTo(200 - width / 2, 9));
  test('too wide a text begins at the left edge', () => {
    expect(lineOf([roman('w'.repeat(99))], edges, 0, 12, 'right', fonts)[0]!.x).toBe(100);
  });
  test('letter-spacing widens each character but does not shift the right edge', () => {
    const spaced = [roman('Press', { tracking: 1 })];
    expect(widthOf(spaced, 10, fonts)).toBeCloseTo(widthOf([roman('Press')], 10, fonts) + 4, 9);
  });
});

describe('degrees and note names in code spans', () => {
  test.each([
    ['1 2 b3 5', '1 2 ♭3 5'],
    ['#4 bb7 -7', '♯4 𝄫7 −7'],
    ['Bb F# C', 'B♭ F♯ C'],
    ['Bb3', 'B♭3'],
    ['bar', 'bar'],
    ['Bbb', 'B𝄫'],
    ['basic b', 'basic b'],
  ])('%s → %s', (code, expected) => expect(withRealSigns(code)).toBe(expected));
  test.each([
    ['1 2 b3', true],
    ['r 5', true],
    ['Bb', false],
    ['1 x', false],
    ['', false],
  ])('%j is a figure: %s', (code, expected) => expect(isFigure(code)).toBe(expected));
});
