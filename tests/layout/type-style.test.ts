import { describe, expect, test } from 'vitest';
import { typeStyles } from '../../core/layout/text/type-style.js';

describe('type grows gently with the staff', () => {
  test.each([
    [7, 10.5],
    [8, 11.25],
    [9, 12],
    // Beyond what a book uses, the table stops growing.
    [14, typeStyles(10).body.size],
  ])('staff of %f mm: body of %f pt', (staff, size) => expect(typeStyles(staff).body.size).toBe(size));

  test('leading leaves room for the letters of every style, and sizes are quarters of a point', () => {
    for (const staff of [6, 7, 7.5, 9]) {
      for (const [kind, style] of Object.entries(typeStyles(staff))) {
        expect(style.leading / style.size, kind).toBeGreaterThan(1.1);
        expect(style.size * 4, kind).toBe(Math.round(style.size * 4));
      }
    }
  });

  test('the hierarchy holds', () => {
    const { 'book-title': title, 'chapter-title': chapter, heading, 'exercise-title': exercise, body, caption } = typeStyles(7.5);
    const sizes = [title, chapter, heading, exercise, body, caption].map((style) => style.size);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
  });
});

/** kind | font | size | leading | space before | space after | features | letter-spacing, in points for a staff of 7 mm (house choices). */
const TABLE = `
book-title        | display |   34 |   39 |  0 | 10 | -         | -
subtitle          | italic  |   15 |   20 |  0 |  0 | -         | -
instrument        | roman   |   23 |   28 |  0 |  0 | smcp onum | 1.5
author            | roman   |   14 |   18 |  0 |  0 | -         | -
publisher         | roman   | 10.5 |   14 |  0 |  0 | smcp onum | 0.8
colophon          | roman   |    9 | 12.5 |  0 |  6 | onum      | -
chapter-number    | roman   | 11.5 |   15 |  0 |  8 | smcp onum | 0.8
chapter-title     | display |   25 |   30 |  0 | 22 | -         | -
heading           | display |   20 |   25 | 20 | 20 | -         | -
small-heading     | bold    |   11 | 14.5 | 10 |  3 | -         | -
exercise-number   | bold    |   13 |   16 |  0 |  0 | lnum      | -
exercise-title    | bold    |   13 |   16 |  0 |  2 | lnum      | -
instruction       | roman   |   10 |   13 |  0 |  4 | onum      | -
body              | roman   | 10.5 | 14.5 |  0 |  7 | onum      | -
running-head      | italic  |    9 |   12 |  0 |  9 | onum      | -
folio             | roman   |   10 |   12 |  0 |  9 | onum      | -
contents-chapter  | bold    |   11 |   15 | 11 |  2 | tnum lnum | -
contents-exercise | roman   | 10.5 |   15 |  0 |  0 | tnum lnum | -
caption           | italic  |    9 |   12 |  3 |  6 | onum      | -
chart             | roman   |   10 |   13 |  0 |  0 | tnum lnum | -
chart-small       | roman   |    8 | 10.5 |  0 |  0 | tnum lnum | -
table-head        | italic  |    9 | 11.5 |  0 |  3 | tnum lnum | -
table-cell        | roman   |    9 |   12 |  0 |  0 | tnum lnum | -
`;

test('the table of type, kind by kind', () => {
  const styles = Object.entries(typeStyles(7)).map(([kind, { font, size, leading, before, after, features, tracking }]) =>
    [kind, font, size, leading, before, after, features?.join(' ') ?? '-', tracking ?? '-'].join(' | '),
  );
  // Sizes and letter-spacing are rounded to quarters of a point: 0.8 is 0.75.
  const rows = TABLE.trim().split('\n');
  expect(styles).toEqual(
    rows.map((row) =>
      row
        .split('|')
        .map((cell) => cell.trim())
        .join(' | ')
        .replace(/0\.8$/, '0.75'),
    ),
  );
});
