/** A small good book for tests, as a plain object to be spoiled in one place. */
import type { JsonObject } from '../../core/book/json.js';

export function smallBook(): JsonObject {
  return {
    format: 'twelvefold',
    version: 1,
    title: 'A Small Book',
    date: '2026-03-01',
    editions: ['flute'],
    defaults: { tempo: { from: 60, to: 100 } },
    chapters: [
      { title: 'One', exercises: [{ id: 'a', figure: '1 2 3 5' }] },
      {
        title: 'Two',
        exercises: [
          { id: 'b', figure: { library: 'turn' } },
          { id: 'c', figure: '1 3 5' },
        ],
      },
    ],
  };
}

/** The small book with one field changed: `at` is a path such as `chapters.1.exercises.0.figure`; undefined removes it. */
export function spoiled(at: string, value: unknown): JsonObject {
  const book = smallBook();
  const parts = at.split('.');
  let holder: JsonObject = book;
  for (const part of parts.slice(0, -1)) {
    holder[part] ??= {};
    holder = holder[part] as JsonObject;
  }
  const last = parts.at(-1) as string;
  if (value === undefined) delete holder[last];
  else holder[last] = value;
  return book;
}
