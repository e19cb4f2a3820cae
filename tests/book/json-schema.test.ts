/** The JSON Schemas, held against the program's own check of the shape by an independent validator (ajv, draft 2020-12). */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { checkFields } from '../../core/book/check-fields.js';
import { isObject, type JsonObject } from '../../core/book/json.js';
import { editorSchema } from '../../core/book/json-schema.js';
import { readBook, readBookSource } from '../../core/book/read.js';
import { book } from '../../core/book/schema.js';
import { newBook } from '../../core/book/template.js';
import { writeBook } from '../../core/book/write.js';
import { ensembleShape } from '../../core/ensemble/schema.js';
import { rosterShape } from '../../core/people/schema.js';
import { workbench } from '../cli/run.js';
import { bookText, book as randomBook } from '../proof/random-book.js';
import { smallBook, spoiled } from './small-book.js';

const ajv = new Ajv2020();
ajv.addVocabulary(['enumDescriptions']);

const SHAPES = { book, roster: rosterShape, ensemble: ensembleShape } as const;
const schemas = {
  book: ajv.compile(editorSchema(book, 'book')),
  roster: ajv.compile(editorSchema(rosterShape, 'roster')),
  ensemble: ajv.compile(editorSchema(ensembleShape, 'ensemble')),
} as const;
type Kind = keyof typeof SHAPES;

const asset = (name: string): JsonObject => {
  const file: unknown = JSON.parse(readFileSync(new URL(`../../assets/books/${name}`, import.meta.url), 'utf8'));
  if (!isObject(file)) throw new Error(`${name} is no object`);
  return file;
};
const DEMO = {
  'small-wheels.twelvefold': 'book',
  'keywrights-daybook.twelvefold': 'book',
  'harrow-lane.roster': 'roster',
  'harrow-lane-band.ensemble': 'ensemble',
} as const satisfies Record<string, Kind>;

/** Our own check says nothing at all: an unknown field is a warning here, and a fault for an editor, who marks a slip at once. */
const ours = (kind: Kind, file: JsonObject): boolean => {
  const result = checkFields(SHAPES[kind], file);
  return result.ok && result.issues.length === 0;
};

describe('the files that come with the program', () => {
  it.each(Object.entries(DEMO))('%s is a valid %s', (name, kind) => {
    expect([schemas[kind](asset(name)), schemas[kind].errors]).toEqual([true, null]);
    for (const other of ['book', 'roster', 'ensemble'] as const) expect(schemas[other](asset(name))).toBe(other === kind);
  });

  it('and a new book are valid', () => {
    expect(schemas.book(JSON.parse(writeBook(newBook('2026-03-01'))))).toBe(true);
  });
});

describe('a fault of each kind', () => {
  const ex = 'chapters.1.exercises.0';
  it.each([
    ['missing', 'title', undefined],
    ['of the wrong type', 'title', 5],
    ['empty', 'title', ''],
    ['too long', 'title', 'x'.repeat(201)],
    ['with a line break', 'title', 'two\nlines'],
    ['a word that is none of the choices', `${ex}.contour`, 'nearst'],
    ['a number out of range', 'house.staff', 13],
    ['a number that is not whole', `${ex}.order`, { name: 'shuffle', seed: 0.5 }],
    ['a number that is none of two', `${ex}.passes`, 3],
    ['a flag in words', `${ex}.keyNames`, 'yes'],
    ['a list that is none', 'editions', 'flute'],
    ['a list that is too long', `${ex}.variants`, Array.from({ length: 25 }, () => 'all slurred')],
    ['none of the forms', `${ex}.start`, 'Bb'],
    ['a name with blanks', `${ex}.id`, 'no blanks'],
    ['a field that is not known', `${ex}.tempi`, { from: 60 }],
    ['another version', 'version', 2],
  ])('%s: %s', (_, at, value) => {
    const file: JsonObject = JSON.parse(JSON.stringify(spoiled(at, value)));
    expect(schemas.book(file)).toBe(false);
    expect(ours('book', file)).toBe(false);
  });

  it('and without one the same file is valid', () => expect(schemas.book(smallBook())).toBe(true));
});

/** Every place of a value: the list, object or text itself, and everything in it. */
function places(value: unknown, path: readonly (string | number)[] = []): (readonly (string | number)[])[] {
  const inner = Array.isArray(value)
    ? value.flatMap((item, i) => places(item, [...path, i]))
    : isObject(value)
      ? Object.entries(value).flatMap(([name, item]) => places(item, [...path, name]))
      : [];
  return [path, ...inner];
}

/** The value with the one at the path replaced. */
function replaced(value: unknown, [head, ...rest]: readonly (string | number)[], by: unknown): unknown {
  if (head === undefined) return by;
  if (Array.isArray(value)) return value.map((item, i) => (i === head ? replaced(item, rest, by) : item));
  return isObject(value)
    ? Object.fromEntries(Object.entries(value).map(([name, item]) => [name, name === head ? replaced(item, rest, by) : item]))
    : value;
}

// What may stand anywhere, right or wrong. Characters beyond 16 bits are left out: JSON Schema counts them once, we twice.
const VALUES: readonly unknown[] = [
  '',
  ' ',
  'x',
  'C',
  'Bb3',
  'flute',
  'lowest',
  'fourths',
  'bar, rests',
  'a4',
  'x\ty',
  'é',
  'x'.repeat(65),
  'x'.repeat(500),
  '\ud800',
  0,
  1,
  2,
  -1,
  0.5,
  9,
  12,
  12.5,
  60,
  400,
  401,
  2 ** 53,
  1e300,
  true,
  false,
  null,
  [],
  ['C'],
  ['Bb', ''],
  [1],
  [[]],
  {},
  { x: 1 },
  { from: 60 },
  { from: 60, to: 80 },
  { concert: 'Bb' },
  { library: 'turn' },
  { level: 'advanced' },
  { instrument: 'flute' },
  { name: 'shuffle', seed: 1 },
  { tie: 'flats' },
  { longTone: 12 },
];

const spoiling = fc.array(fc.tuple(fc.nat(), fc.constantFrom(...VALUES)), { minLength: 0, maxLength: 2 });

/** The file with some values replaced and, as often as not, a field added. */
function changed(file: JsonObject, changes: readonly (readonly [number, unknown])[]): JsonObject {
  return changes.reduce<JsonObject>((now, [at, by]) => {
    const all = places(now).slice(1);
    const path = all[at % all.length] ?? [];
    const next = replaced(now, path, by);
    return isObject(next) ? next : now;
  }, file);
}

describe('agree with the program’s own check of the shape, both ways', () => {
  const seen = { valid: 0, invalid: 0 };
  const agree = (kind: Kind, file: JsonObject) => {
    const valid = ours(kind, file);
    seen[valid ? 'valid' : 'invalid']++;
    expect(schemas[kind](file), JSON.stringify(schemas[kind].errors)).toBe(valid);
  };

  it('for random books', () => {
    fc.assert(
      fc.property(randomBook, spoiling, (wish, changes) => agree('book', changed(JSON.parse(bookText(wish)), changes))),
      { numRuns: 400 },
    );
  });

  it.each(Object.entries(DEMO))('for %s with values exchanged', (name, kind) => {
    const file = asset(name);
    fc.assert(
      fc.property(spoiling, (changes) => agree(kind, changed(file, changes))),
      { numRuns: 150 },
    );
  });

  it('and both answers were met often', () => {
    expect(seen.valid).toBeGreaterThan(100);
    expect(seen.invalid).toBeGreaterThan(300);
  });
});

describe('"$schema"', () => {
  const text = writeBook({ ...newBook('2026-03-01'), $schema: './book.schema.json' });

  it('in a book is read without a word, kept on saving, and changes nothing', () => {
    const source = readBookSource(text);
    expect(source.issues).toEqual([]);
    expect(source.ok && writeBook(source.value)).toBe(text);
    expect(readBook(text)).toEqual(readBook(writeBook(newBook('2026-03-01'))));
  });
});

describe('twelvefold schema', () => {
  const bench = workbench();
  afterAll(bench.clear);

  it.each(['book', 'roster', 'ensemble'] as const)('prints that of a %s', async (kind) => {
    const { code, out, err } = await bench.run(['schema', kind]);
    expect([code, err]).toEqual([0, '']);
    expect(JSON.parse(out)).toEqual(editorSchema(SHAPES[kind], `Twelvefold ${kind}`));
    const answer = await bench.run(['schema', kind, '--json']);
    expect(JSON.parse(answer.out)).toEqual({ ok: true, issues: [], kind, schema: JSON.parse(out) });
  });

  it('prints that of a book when no kind is named, and refuses a kind that it does not know', async () => {
    expect(await bench.run(['schema'])).toEqual(await bench.run(['schema', 'book']));
    expect(await bench.run(['schema', 'score'])).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringContaining('book, roster, ensemble'),
    });
  });

  it('`progress` keeps the field in a roster', async () => {
    bench.write('my.twelvefold', readFileSync(new URL('../../assets/books/small-wheels.twelvefold', import.meta.url), 'utf8'));
    bench.write('my.roster', { ...asset('harrow-lane.roster'), $schema: './roster.schema.json' });
    const done = await bench.run(['progress', 'my.twelvefold', 'my.roster', '--student', '1', '--exercise', 'long-home', '--tempo', '64']);
    expect(done.err).toBe('');
    expect(JSON.parse(readFileSync(`${bench.folder}/my.roster`, 'utf8'))).toMatchObject({ $schema: './roster.schema.json' });
  });
});
