/**
 * The shape of a saved book, and a sentence for each way to get it wrong. What a field may hold is stated here; what
 * it means (is there such an instrument, does the figure parse) is found out when the book is resolved.
 */
import { z } from 'zod';
import { error, good, type Issue, quotable, type Result, told, warning } from '../base/issue.js';
import { didYouMean } from '../base/nearest.js';
import type { Contour, Directions, Dynamic, Ending, Level, Signs, Turnaround } from '../exercise/exercise.js';
import { KEY_ORDER_NAMES } from '../exercise/key-order.js';
import type { House, PageSize } from './book.js';
import type { JsonObject } from './json.js';

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
function prose(wanted: string) {
  const says = { error: wrong(`${wanted} as Markdown text or a list of lines of text`) };
  return z.union(
    [
      z.string(says).max(200_000, says).regex(WHOLE, says),
      z.array(z.string(says).max(20_000, says).regex(WHOLE, says), says).max(5_000, says),
    ],
    says,
  );
}

const flag = (wanted: string) => z.boolean({ error: wrong(`true or false (${wanted})`) });

export function number(low: number, high: number, wanted: string) {
  const says = { error: wrong(`${wanted}, a number from ${low} to ${high}`) };
  return z.number(says).min(low, says).max(high, says);
}

/** The sentence for a word that is not one of these. */
const notOneOf = (values: readonly string[]) => (issue: { readonly input?: unknown }) => {
  const hint = typeof issue.input === 'string' ? didYouMean(issue.input, values) : '';
  return `${found(issue.input)}; write one of ${values.map((value) => `"${value}"`).join(', ')}${hint || '.'}`;
};

export const choice = <const T extends readonly [string, ...string[]]>(values: T) => z.enum(values, { error: notOneOf(values) });

/** An object with these fields. Each field that is not known gets a line of the message, in the order of its keys. */
export function fields<S extends z.ZodRawShape>(wanted: string, shape: S) {
  const known = Object.keys(shape);
  return z.strictObject(shape, {
    error: (issue) => {
      if (issue.code !== 'unrecognized_keys') return wrong(wanted)(issue);
      return (issue.keys as string[])
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

export const LEVELS = ['beginner', 'intermediate', 'advanced', 'professional'] as const satisfies readonly Level[];
export const PAGES = ['letter', 'a4', '9x12', 'jis-b4'] as const satisfies readonly PageSize[];
const BINDINGS = ['none', 'stapled', 'punched', 'perfect'] as const satisfies readonly House['binding'][];
const DIRECTIONS = ['up', 'down', 'alternate-from-up', 'alternate-from-down'] as const satisfies readonly Directions[];
const TURNAROUNDS = ['restart', 'repeat-last-key'] as const satisfies readonly Turnaround[];
const ENDINGS = ['none', 'long-root', 'back-to-first-root'] as const satisfies readonly Ending[];
const CONTOURS = ['nearest', 'sweep', 'low', 'high'] as const satisfies readonly Contour[];
const DYNAMICS = ['pp', 'p', 'mp', 'mf', 'f', 'ff'] as const satisfies readonly Dynamic[];
const SIGNS = ['signature', 'accidentals'] as const satisfies readonly Signs[];
const PADDINGS = ['flow', 'beat, long note', 'beat, rests', 'bar, long note', 'bar, rests'] as const;

export const name = line('a short name of letters, digits, points and hyphens', 64).regex(/^[A-Za-z0-9][A-Za-z0-9.-]*$/, {
  error: wrong('a short name of letters, digits, points and hyphens, such as "long-tones"'),
});
export const key = line('a note name such as "Bb" or "F#"', 8);
export const note = line('a note name with its octave, such as "Bb3"', 8);
export const staff = number(4, 12, 'the height of the staff in millimetres');
const margin = number(0, 80, 'a margin in millimetres');

export const spelling = fields('an object such as {"tie": "sharps", "prefer": ["C#"]}', {
  tie: choice(['flats', 'sharps']).optional(),
  prefer: list(key, 'a list of key names such as ["C#"]').optional(),
});

/** What is known of the person who breathes. */
export const breather = fields('an object such as {"lungs": "teen"} or {"longTone": 14}', {
  lungTime: z.number({ error: wrong('seconds of playing from one breath') }).optional(),
  longTone: z.number({ error: wrong('seconds of the longest long tone') }).optional(),
  age: z.number({ error: wrong('the age in years') }).optional(),
  height: z.number({ error: wrong('the height in centimeters') }).optional(),
  sex: choice(['female', 'male']).optional(),
  lungs: choice(['adult', 'teen', 'child']).optional(),
  experience: choice(['beginner', 'default', 'advanced']).optional(),
});

const breath = fields('an object such as {"print": "marks and ladders", "manner": "in time"}', {
  print: choice(['none', 'marks', 'marks and ladders']).optional(),
  manner: choice(['in time', 'added beat']).optional(),
  added: line('the value by which the music stops, such as "1/4"', 16).optional(),
  player: breather.optional(),
});

const edition = z.union(
  [
    line('the id of an instrument'),
    fields('the id of an instrument, or an object such as {"instrument": "flute", "level": "advanced"}', {
      instrument: line('the id of an instrument, such as "alto-saxophone"'),
      level: choice(LEVELS).optional(),
      compass: fields('an object such as {"low": "Bb3", "high": "C6"}', { low: note.optional(), high: note.optional() }).optional(),
      spelling: spelling.optional(),
      staff: staff.optional(),
      page: choice(PAGES).optional(),
      breath: breath.optional(),
    }),
  ],
  { error: wrong('the id of an instrument, or an object such as {"instrument": "flute", "level": "advanced"}') },
);

const FIGURE = 'the figure as degrees, such as "1 2 3 5", or {"library": "…"} with the id of a figure in the library';
const START = '"lowest", {"concert": "Bb"} or {"written": "C"}';
/** Most keys of a list of keys: each of the 24 four times. */
const MOST_KEYS = 96;
const MISFIT = '"report", "leave-out", "turn" or {"level": "advanced"}';
const ORDER = 'the name of a key order such as "fourths", a list of keys such as ["Bb", "Eb", "F"], or {"name": "shuffle", "seed": 7}';

/** What an exercise may state, and what `defaults` may state for many. */
const settings = {
  scale: line('the name of a scale, such as "harmonic minor"').optional(),
  rhythm: line('the rhythm as a name such as "eighths", or as note values such as "1/8 1/16 1/16"', 1_000).optional(),
  metre: line('a metre such as "4/4"', 12).optional(),
  padding: choice(PADDINGS).optional(),
  order: z
    .union(
      [
        z.enum(KEY_ORDER_NAMES),
        list(key, ORDER, MOST_KEYS),
        fields(ORDER, {
          name: choice(KEY_ORDER_NAMES),
          keys: list(key, 'a list of keys such as ["Bb", "Eb", "F"]', MOST_KEYS).optional(),
          sequence: list(z.int({ error: wrong('a whole number from 0 to 11') }), 'a list of the numbers 0 to 11', MOST_KEYS).optional(),
          seed: z.int({ error: wrong('a whole number of your choice') }).optional(),
          sets: list(z.int({ error: wrong('a whole number of semitones') }), 'a list of semitones such as [0, 1, 2]', MOST_KEYS).optional(),
          down: flag('whether the order steps down within each set').optional(),
        }),
      ],
      { error: (issue) => (typeof issue.input === 'string' ? notOneOf(KEY_ORDER_NAMES) : wrong(ORDER))(issue) },
    )
    .optional(),
  directions: choice(DIRECTIONS).optional(),
  passes: z.union([z.literal(1), z.literal(2)], { error: wrong('1 or 2, the number of times through the keys') }).optional(),
  turnaround: choice(TURNAROUNDS).optional(),
  start: z
    .union([z.literal('lowest'), fields(START, { concert: key.optional(), written: key.optional() })], { error: wrong(START) })
    .optional(),
  ending: choice(ENDINGS).optional(),
  contour: choice(CONTOURS).optional(),
  misfit: z
    .union([z.enum(['report', 'leave-out', 'turn']), fields(MISFIT, { level: choice(LEVELS) })], { error: wrong(MISFIT) })
    .optional(),
  articulation: optionalLine('the articulation in words, such as "slur 2, tongue 2"').optional(),
  variants: list(line('an articulation in words'), 'a list of articulations such as ["all slurred", "slur 2, tongue 2"]', 24).optional(),
  dynamic: choice(DYNAMICS).optional(),
  tempo: fields('an object such as {"from": 60, "to": 120}', {
    beat: line('the beat as a fraction of a whole note, such as "1/4"', 16).optional(),
    from: z.number({ error: wrong('the slowest speed in beats a minute') }),
    to: z.number({ error: wrong('the fastest speed in beats a minute') }).optional(),
  }).optional(),
  signs: choice(SIGNS).optional(),
  simpleSpelling: flag('whether double accidentals are written as simple notes').optional(),
  keyNames: flag('whether key names are printed').optional(),
  degreeNumbers: flag('whether degree numbers are printed').optional(),
};

const defaults = fields('an object with settings for exercises, such as {"metre": "4/4"}', settings);

const exercise = fields('an object such as {"title": "…", "figure": "1 2 3 5"}', {
  id: name.optional(),
  title: line('the title of the exercise').optional(),
  instruction: prose('one to three lines for the player').optional(),
  figure: z.union([line(FIGURE, 2_000), fields(FIGURE, { library: line('the id of a figure in the library') })], { error: wrong(FIGURE) }),
  ...settings,
});

const chapter = fields('an object such as {"title": "…", "exercises": []}', {
  id: name.optional(),
  title: line('the title of the chapter'),
  text: prose('the text of the chapter').optional(),
  defaults: defaults.optional(),
  exercises: list(exercise, 'a list of exercises'),
});

const house = fields('an object such as {"page": "a4"}', {
  page: choice(PAGES).optional(),
  staff: staff.optional(),
  margins: fields('an object such as {"top": 15, "bottom": 15, "inner": 18, "outer": 14}, in millimetres', {
    top: margin.optional(),
    bottom: margin.optional(),
    inner: margin.optional(),
    outer: margin.optional(),
  }).optional(),
  binding: choice(BINDINGS).optional(),
  bleed: number(0, 10, 'the bleed in millimetres').optional(),
  cropMarks: flag('whether crop marks are printed').optional(),
  chaptersOnRight: flag('whether chapters open on a right-hand page').optional(),
});

const extra = flag('whether these pages are printed').optional();
const extras = fields('an object such as {"practiceRecord": true}', {
  compassChart: extra,
  keyChart: extra,
  scaleAppendix: extra,
  figureIndex: extra,
  keyIndex: extra,
  contentsGrid: extra,
  metronomeLadder: extra,
  practiceRecord: extra,
});

const book = fields('an object with the fields of a book', {
  format: z.literal('twelvefold', { error: wrong('"twelvefold"') }),
  version: z.literal(1, { error: wrong('1') }),
  title: line('the title of the book'),
  subtitle: optionalLine('the subtitle').optional(),
  author: optionalLine('the author').optional(),
  publisher: optionalLine('the publisher').optional(),
  copyright: optionalLine('the copyright line').optional(),
  date: line('the date of this printing as year-month-day, such as "2026-03-01"', 10),
  language: line('a language tag such as "en-US"', 35).optional(),
  preface: prose('the preface').optional(),
  howToUse: prose('how to use the book').optional(),
  house: house.optional(),
  extras: extras.optional(),
  spelling: spelling.optional(),
  breath: breath.optional(),
  editions: list(edition, 'a list of instruments, such as ["flute", "oboe"]'),
  defaults: defaults.optional(),
  chapters: list(chapter, 'a list of chapters'),
});

/** The book as saved, short forms and left-out fields and all. */
export type BookSource = z.infer<typeof book>;
export type ChapterSource = z.infer<typeof chapter>;
export type ExerciseSource = z.infer<typeof exercise>;
export type BreathSource = z.infer<typeof breath>;
export type EditionSource = z.infer<typeof edition>;
export type SettingsSource = z.infer<typeof defaults>;

type RawIssue = z.core.$ZodIssue;

const atRoot = (issue: RawIssue) => issue.path.length === 0 && (issue.code === 'invalid_type' || issue.code === 'invalid_value');

/** Of the forms that a field may take, the one that was meant is the one whose type fits; its faults are told, not those of the others. */
function flatten(issue: RawIssue, prefix: readonly PropertyKey[] = []): RawIssue[] {
  const path = [...prefix, ...issue.path];
  if (issue.code !== 'invalid_union') return [{ ...issue, path }];
  const meant = issue.errors.filter((branch) => branch.length > 0 && !branch.some(atRoot));
  if (meant.length !== 1) return [{ ...issue, path }];
  return (meant[0] as RawIssue[]).flatMap((inner) => flatten(inner, path));
}

const plainPath = (path: readonly PropertyKey[]) => path.map((part) => (typeof part === 'number' ? part : String(part)));

/** Fields to leave out, and where deeper ones stand: one walk takes all of them, however many there are. */
type Cut = { readonly fields: Set<PropertyKey>; readonly below: Map<PropertyKey, Cut> };

const noCut = (): Cut => ({ fields: new Set(), below: new Map() });

function cutAt(cut: Cut, path: readonly PropertyKey[]): Cut {
  return path.reduce((at, part) => {
    const next = at.below.get(part) ?? noCut();
    at.below.set(part, next);
    return next;
  }, cut);
}

function without(value: unknown, { fields: gone, below }: Cut): unknown {
  const inner = (place: PropertyKey, item: unknown): unknown => {
    const deeper = below.get(place);
    return deeper ? without(item, deeper) : item;
  };
  if (Array.isArray(value)) return value.map((item, i) => inner(i, item));
  const entries = Object.entries(value as object).filter(([name]) => !gone.has(name));
  return Object.fromEntries(entries.map(([name, item]) => [name, inner(name, item)]));
}

/** Fields of this shape, or everything that is wrong with them. Fields that are not known are warnings and are left out. */
export function checkFields<S extends z.ZodType>(shape: S, file: JsonObject): Result<z.infer<S>> {
  const first = shape.safeParse(file);
  // The file itself, not the reader's copy of it: the order of the fields stays the author's.
  if (first.success) return good(file as z.infer<S>);
  const errors: Issue[] = [];
  const warnings: Issue[] = [];
  const cut = noCut();
  for (const issue of first.error.issues.flatMap((it) => flatten(it))) {
    if (issue.code !== 'unrecognized_keys') {
      errors.push(error('wrong-field', plainPath(issue.path), issue.message));
      continue;
    }
    const sentences = issue.message.split('\n');
    const { fields: gone } = cutAt(cut, issue.path);
    issue.keys.forEach((name, i) => {
      warnings.push(warning('unknown-field', plainPath([...issue.path, name]), sentences[i] as string));
      gone.add(name);
    });
  }
  if (errors.length > 0) return { ok: false, issues: told([...errors, ...warnings]) };
  return good(without(file, cut) as z.infer<S>, told(warnings));
}

/** A book file of the present version → its fields, or everything that is wrong with their shape. */
export const checkShape = (file: JsonObject): Result<BookSource> => checkFields(book, file);
