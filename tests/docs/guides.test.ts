/** The guides are what the schemas say; and what the schemas say of examples and defaults is what the readers do. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Result } from '../../core/base/issue.js';
import { describedSchema, type JsonSchema } from '../../core/book/json-schema.js';
import { readBook } from '../../core/book/read.js';
import { book } from '../../core/book/schema.js';
import { readEnsemble } from '../../core/ensemble/read.js';
import { ensembleShape } from '../../core/ensemble/schema.js';
import { readRoster } from '../../core/people/read.js';
import { rosterShape } from '../../core/people/schema.js';
import { smallBook } from '../book/small-book.js';
import { BOOK_SECTIONS, TOLD_ELSEWHERE } from './book-guide.js';
import { ENSEMBLE_SECTIONS, ROSTER_SECTIONS } from './companions-guide.js';
import { fieldsOf, listOf, objectForm, objectOf, schemaAt } from './fields.js';
import { type Section, toldFields } from './guide.js';
import { GUIDES } from './guides.js';

it.each(Object.entries(GUIDES))('docs/%s is what `npm run docs` writes', (file, text) => {
  expect(readFileSync(new URL(`../../docs/${file}`, import.meta.url), 'utf8')).toBe(text());
});

/** Paths of all fields; objects that are told at another place are not gone into. */
function allFields(schema: JsonSchema, at: readonly string[], elsewhere: Readonly<Record<string, string>>): string[] {
  const form = objectForm({ ...schema });
  if (form)
    return fieldsOf(form).flatMap((field) => {
      const path = [...at, field.name];
      return [path.join('.'), ...(Object.hasOwn(elsewhere, path.join('.')) ? [] : allFields(field.schema, path, elsewhere))];
    });
  return schema.type === 'array' ? allFields(objectOf(schema.items), [...at, '[]'], elsewhere) : [];
}

/** A field is of no use without these neighbours. */
const NEIGHBOURS: Readonly<Record<string, object>> = {
  'order.name': { seed: 7 },
  'order.keys': { name: 'custom' },
  'order.sets': { name: 'minor-thirds' },
  'order.down': { name: 'minor-thirds' },
};

/** The first example of each field that is always needed. */
const needed = (schema: JsonSchema): object =>
  Object.fromEntries(
    fieldsOf(objectForm({ ...schema }) ?? {})
      .filter(({ required }) => required)
      .map((field) => [field.name, listOf(field.schema.examples)[0]]),
  );

/** The smallest file with this value at a path of fields; `undefined` leaves the field out. */
function fileWith(schema: JsonSchema, [head, ...rest]: readonly string[], value: unknown, before = ''): unknown {
  if (head === undefined) return value;
  const inner = fileWith(schemaAt({ ...schema }, [head]), rest, value, head);
  if (head === '[]') return [inner, ...listOf(listOf(schema.examples)[0]).slice(1)];
  return { ...needed(schema), ...NEIGHBOURS[`${before}.${head}`], [head]: inner };
}

const readable = readBook(JSON.stringify({ ...smallBook(), chapters: [{ title: 'One', exercises: [{ id: 'walk', figure: '1 2 3 5' }] }] }));
if (!readable.ok) throw new Error('the book is not read');

type Kind = {
  readonly name: string;
  readonly schema: JsonSchema;
  readonly sections: readonly Section[];
  readonly elsewhere: Readonly<Record<string, string>>;
  readonly read: (text: string) => Result<unknown>;
};

const KINDS: readonly Kind[] = [
  { name: 'book', schema: describedSchema(book), sections: BOOK_SECTIONS, elsewhere: TOLD_ELSEWHERE, read: readBook },
  {
    name: 'roster',
    schema: describedSchema(rosterShape),
    sections: ROSTER_SECTIONS,
    elsewhere: {},
    read: (text) => readRoster(text, readable.value),
  },
  {
    name: 'ensemble',
    schema: describedSchema(ensembleShape),
    sections: ENSEMBLE_SECTIONS,
    elsewhere: {},
    read: (text) => readEnsemble(text, readable.value),
  },
];

describe.each(KINDS)('a $name file', ({ schema, sections, elsewhere, read }) => {
  const told = toldFields(schema, sections);
  const paths = told.map((path) => path.split('.'));
  const about = (path: readonly string[]) => schemaAt({ ...schema }, path);
  const reading = (path: readonly string[], value: unknown) => read(JSON.stringify(fileWith(schema, path, value)));

  it('has every field told once', () => {
    expect([...told].sort()).toEqual(allFields(schema, [], elsewhere).sort());
  });

  it('has objects with the same fields where one is told for another', () => {
    for (const [path, other] of Object.entries(elsewhere)) {
      const names = (at: string) => fieldsOf(objectForm(about(at.split('.'))) ?? {}).map(({ name }) => name);
      expect(names(other)).toEqual(expect.arrayContaining(names(path)));
    }
  });

  it.each(paths.map((path) => [path.join('.'), path] as const))(
    'says of %s what it is for, what holds without it, and an example',
    (_, path) => {
      const { description, examples, leftOut } = about(path);
      expect(description).toMatch(/^[^a-z].{8,}[.]$/);
      expect(listOf(examples).length).toBeGreaterThan(0);
      const needs = listOf(objectForm(about(path.slice(0, -1)))?.required).includes(path.at(-1));
      expect(needs || leftOut !== undefined || Object.hasOwn(about(path), 'default')).toBe(true);
    },
  );

  const examples = paths.flatMap((path) => listOf(about(path).examples).map((example) => [path.join('.'), example, path] as const));
  it.each(examples)('%s: %j is read without a complaint', (_, example, path) => {
    expect(reading(path, example).issues.filter(({ severity }) => severity !== 'note')).toEqual([]);
  });

  const defaults = paths
    .filter((path) => Object.hasOwn(about(path), 'default'))
    .map((path) => [path.join('.'), about(path).default, path] as const);
  it.each(defaults)('%s: %j is what the reader fills in, and an example is something else', (name, standard, path) => {
    const without = reading(path, undefined);
    expect(without.ok).toBe(true);
    expect(reading(path, standard)).toEqual(without);
    // A remark is for its writer alone; only a second pass turns around.
    if (name !== 'remark') expect(reading(path, listOf(about(path).examples)[0])).not.toEqual(without);
  });
});
