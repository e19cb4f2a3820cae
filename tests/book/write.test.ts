import { describe, expect, it } from 'vitest';
import { readBook, readBookSource } from '../../core/book/read.js';
import { newBook } from '../../core/book/template.js';
import { writeBook } from '../../core/book/write.js';

const text = writeBook(newBook('2026-03-01'));

describe('the book to begin from', () => {
  it('reads without a word and has music for several players', () => {
    const book = readBook(text);
    expect(book.issues).toEqual([]);
    expect(book.ok && book.value.chapters.map((chapter) => chapter.exercises.length)).toEqual([2, 2]);
    expect(book.ok && book.value.editions).toHaveLength(4);
  });

  it('comes back the same after writing and reading', () => {
    const source = readBookSource(text);
    expect(source.ok && source.value).toEqual(newBook('2026-03-01'));
    expect(source.ok && writeBook(source.value)).toBe(text);
  });
});

it('keeps short things on one line and ends with a line break', () => {
  expect(text).toContain('\n  "house": { "page": "letter" },\n');
  expect(text).toContain('\n          "order": ["Bb", "Eb", "Ab", "F", "C", "G"],\n');
  expect(text.endsWith('}\n')).toBe(true);
  expect(JSON.parse(text)).toEqual(newBook('2026-03-01'));
});
