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
