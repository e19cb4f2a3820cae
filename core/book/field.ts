/**
 * The kinds of fields that a file of this program is made of: a line of text, a number, a choice … Each says in one sentence
 * what to write where something else stands. `optional` and `required` add what a field is for, for people: the guide
 * docs/book-file.md and the JSON Schema are made from these words.
 */
import { z } from 'zod';
import { quotable } from '../base/issue.js';
import { didYouMean } from '../base/nearest.js';

/** Lone surrogates: no text in UTF-8 can hold them, and neither can the titles inside a PDF. */
const HALVES = /\p{Cs}/u;
const WHOLE = /^\P{Cs}*$/u;

/** What stands in the file, for the first half of a sentence. */
function found(input: unknown): string {
  if (input === undefined) return 'This is missing';
  if (input === null) return 'This is null';
  if (typeof input === 'string' && HALVES.test(input)) return 'This text has half of a character, a surrogate without the other';
  if (typeof input === 'string') return input === '' ? 'This is empty' : `This is the text "${quotable(input)}"`;
  if (typeof input === 'number' && !Number.isFinite(input)) return 'This number is too large';
  if (typeof input === 'number' || typeof input === 'boolean') return `This is ${input}`;
  return Array.isArray(input) ? 'This is a list' : 'This is an object';
}

export const wrong = (wanted: string) => (issue: { readonly input?: unknown }) => `${found(issue.input)}; write ${wanted}.`;

/** One line of text without control characters and halves of characters. */
export function line(wanted: string, longest = 200) {
  const says = { error: wrong(`${wanted}, on one line of at most ${longest} characters`) };
  return z
    .string(says)
    .min(1, says)
    .max(longest, says)
    .regex(/^[^\p{Cc}\p{Cs}]*$/u, says);
}

/** One line that may be empty. */
export const optionalLine = (wanted: string) => z.union([line(wanted), z.literal('')], { error: wrong(`${wanted}, on one line`) });

/** Markdown in one text or as a list of lines. */
export function prose(wanted: string) {
  const says = { error: wrong(`${wanted} as Markdown text or a list of lines of text`) };
  return z.union(
    [
      z.string(says).max(200_000, says).regex(WHOLE, says),
      z.array(z.string(says).max(20_000, says).regex(WHOLE, says), says).max(5_000, says),
    ],
    says,
  );
}

export const flag = (wanted: string) => z.boolean({ error: wrong(`true or false (${wanted})`) });

export function number(low: number, high: number, wanted: string) {
  const says = { error: wrong(`${wanted}, a number from ${low} to ${high}`) };
  return z.number(says).min(low, says).max(high, says);
}

/** The sentence for a word that is not one of these. */
export const notOneOf = (values: readonly string[]) => (issue: { readonly input?: unknown }) => {
  const hint = typeof issue.input === 'string' ? didYouMean(issue.input, values) : '';
  return `${found(issue.input)}; write one of ${values.map((value) => `"${value}"`).join(', ')}${hint || '.'}`;
};

/** One of these words; `meanings` says what each stands for, where the word alone does not. */
export function choice<const T extends readonly [string, ...string[]]>(values: T, meanings?: Readonly<Record<T[number], string>>) {
  const words = z.enum(values, { error: notOneOf(values) });
  if (!meanings) return words;
  const told: Readonly<Record<string, string>> = meanings;
  return words.meta({ enumDescriptions: values.map((value) => told[value]) });
}

/** An object with these fields. Each field that is not known gets a line of the message, in the order of its keys. */
export function fields<S extends z.ZodRawShape>(wanted: string, shape: S) {
  const known = Object.keys(shape);
  return z.strictObject(shape, {
    error: (issue) => {
      if (issue.code !== 'unrecognized_keys') return wrong(wanted)(issue);
      return issue.keys
        .map(
          (key, i) =>
            `The field "${quotable(key)}" is not known here and was not used${(i < 100 && didYouMean(key, known)) || '; remove it or correct its name.'}`,
        )
        .join('\n');
    },
  });
}

export function list<T extends z.ZodType>(item: T, wanted: string, most = 2_000) {
  return z.array(item, { error: wrong(wanted) }).max(most, { error: `This list is too long; write at most ${most} items.` });
}

/** What there is to say about a field beside what it is for. */
type Said<T> = {
  /** What holds where the field is left out; each `default` is the one that the reader fills in. */
  readonly default?: T;
  /** The same in words, where it depends on something else. */
  readonly leftOut?: string;
  readonly examples?: readonly T[];
};

export const optional = <S extends z.ZodType>(field: S, description: string, said: Said<z.input<S>> = {}) =>
  field.optional().meta({ description, ...said });

export const required = <S extends z.ZodType>(field: S, description: string, said: Pick<Said<z.input<S>>, 'examples'> = {}): S =>
  field.meta({ description, ...said });

/** Where an editor finds the JSON Schema of the file. The program does not read it, and keeps it. */
export const schemaField = optional(
  line('the place of a JSON Schema, such as "book.schema.json"', 1_000),
  'Where a text editor finds the JSON Schema of such files, so that it completes and checks what you type. The program keeps it and makes nothing of it.',
  { leftOut: 'your editor knows nothing of the fields', examples: ['./book.schema.json'] },
);
