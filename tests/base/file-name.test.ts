import fc from 'fast-check';
import { expect, it } from 'vitest';
import { distinct, editionStems, slug } from '../../core/base/file-name.js';

it.each([
  ['The Keywright’s Daybook', 'the-keywrights-daybook'],
  ['Études & Scales, No. 2', 'etudes-scales-no-2'],
  ['In B♭ and F♯', 'in-b-flat-and-f-sharp'],
  ['  ../../etc/passwd  ', 'etc-passwd'],
  ['a:b*c?"d<e>f|g\\h', 'a-b-c-d-e-f-g-h'],
  ['東京', 'book'],
  ['', 'book'],
  ['NUL', 'nul-book'],
  ['com1', 'com1-book'],
  ['Console', 'console'],
])('%j → %s', (text, name) => {
  expect(slug(text)).toBe(name);
});

it('names nothing twice', () => {
  expect(editionStems('My Book', ['flute', 'oboe', 'flute', 'flute'])).toEqual([
    'my-book-flute',
    'my-book-oboe',
    'my-book-flute-2',
    'my-book-flute-3',
  ]);
  expect(distinct(['a', 'a', 'a-2'])).toEqual(['a', 'a-3', 'a-2']);
});

it('gives safe and different names for any text', () => {
  fc.assert(
    fc.property(
      fc.array(fc.oneof(fc.string({ unit: 'binary', maxLength: 120 }), fc.constantFrom('a', 'a-2', 'A', '')), { maxLength: 20 }),
      (texts) => {
        const names = distinct(texts.map(slug));
        expect(new Set(names).size).toBe(texts.length);
        for (const name of names) expect(name).toMatch(/^(?!(?:con|prn|aux|nul|com\d|lpt\d)$)[a-z0-9]+(?:-[a-z0-9]+)*$/);
        for (const name of names) expect(name.length).toBeLessThan(100);
      },
    ),
    { seed: 12, numRuns: 40 },
  );
});
