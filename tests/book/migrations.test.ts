import { describe, expect, it } from 'vitest';
import { MIGRATIONS, type Migration, migrate, VERSION } from '../../core/book/migrations.js';
import { readBook } from '../../core/book/read.js';

/** A file of version 0, literally. */
const OLD = `{
  "format": "twelvefold",
  "version": 0,
  "title": "An Old Book",
  "date": "2024-05-01",
  "instruments": ["oboe", { "instrument": "tuba", "level": "beginner" }],
  "sections": [
    {
      "title": "First",
      "exercises": [
        { "id": "x", "figure": "1 3 5", "key_order": "minor-thirds", "tempo": [60, 90], "metre": "3/4" },
        { "id": "y", "figure": "1 2 3", "order": "fifths" }
      ]
    }
  ]
}`;

const NOW = {
  format: 'twelvefold',
  version: 1,
  title: 'An Old Book',
  date: '2024-05-01',
  editions: ['oboe', { instrument: 'tuba', level: 'beginner' }],
  chapters: [
    {
      title: 'First',
      exercises: [
        { id: 'x', figure: '1 3 5', order: 'minor-thirds', tempo: { from: 60, to: 90 }, metre: '3/4' },
        { id: 'y', figure: '1 2 3', order: 'fifths' },
      ],
    },
  ],
};

describe('version 0', () => {
  it('becomes this, and keeps the order of its fields', () => {
    const result = migrate(JSON.parse(OLD));
    expect(result).toEqual({ ok: true, value: NOW, issues: [] });
    expect(result.ok && JSON.stringify(result.value)).toBe(JSON.stringify(NOW));
  });

  it('reads as a book without a word of complaint', () => {
    const book = readBook(OLD);
    expect(book.issues).toEqual([]);
    expect(book.ok && book.value.editions.map((edition) => edition.instrument)).toEqual(['oboe', 'tuba']);
    expect(book.ok && book.value.chapters[0]?.exercises[0]?.order.name).toBe('minor-thirds');
  });

  it('is left as it was in memory', () => {
    const file = JSON.parse(OLD);
    migrate(file);
    expect(file).toEqual(JSON.parse(OLD));
  });

  it('with fields of the wrong kind is left for the checks', () => {
    expect(migrate({ format: 'twelvefold', version: 0, sections: 5 })).toMatchObject({ ok: true, value: { chapters: 5, version: 1 } });
  });
});

it('leads to the present version step by step', () => {
  const marks: Migration[] = [0, 1, 2].map((from) => ({
    from,
    to: from + 1,
    change: '',
    up: (old) => ({ ...old, seen: `${old.seen ?? ''}${from}` }),
  }));
  expect(migrate({ format: 'twelvefold', version: 1 }, marks)).toMatchObject({ value: { version: 3, seen: '12' } });
  expect(migrate({ format: 'twelvefold', version: 3 }, marks)).toMatchObject({ value: { version: 3 } });
  expect(MIGRATIONS.at(-1)?.to).toBe(VERSION);
});

describe('files that are not ours to read', () => {
  it.each([
    [{ title: 'x' }, 'not-a-book', '"format": "twelvefold"'],
    [{ format: 'other', version: 1 }, 'not-a-book', 'not a Twelvefold book'],
    [{ format: 'twelvefold' }, 'unknown-version', '"version": 1'],
    [{ format: 'twelvefold', version: 'one' }, 'unknown-version', 'whole number'],
    [{ format: 'twelvefold', version: 1.5 }, 'unknown-version', 'whole number'],
    [{ format: 'twelvefold', version: -1 }, 'unknown-version', 'whole number'],
    [{ format: 'twelvefold', version: 99 }, 'newer-version', 'newer Twelvefold (file version 99'],
  ])('%j', (file, code, words) => {
    const result = migrate(file);
    expect(result.ok).toBe(false);
    expect(result.issues).toHaveLength(1);
    expect(result.issues[0]).toMatchObject({ code, message: expect.stringContaining(words) });
  });
});
