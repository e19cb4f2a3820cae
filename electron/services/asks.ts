/** What a window may ask, checked field by field before anything is done: a window is never trusted. */
import { z } from 'zod';
import { type Ask, type Channel, EXPORT_FORMATS } from './contract.js';
import { preferencesShape } from './preferences-shape.js';

const nothing = z.strictObject({});
const path = z.string().min(1).max(4096);
const name = z.string().max(300);
const document = z.string().regex(/^[A-Za-z0-9-]{8,64}$/);
const ticket = z.string().min(1).max(64);
/** Checked in depth by the book's own schema where it is used. */
const source = z.looseObject({});
const kind = z.enum(['book', 'roster', 'ensemble']).optional();
const count = z.number().int().min(0).max(100_000);
const place = z.strictObject({ chapter: count, exercise: count });
const breather = z
  .strictObject({
    lungTime: z.number().optional(),
    longTone: z.number().optional(),
    lungClass: z.enum(['adult', 'teen', 'child']).optional(),
    age: z.number().optional(),
    height: z.number().optional(),
    sex: z.enum(['female', 'male']).optional(),
    experience: z.enum(['beginner', 'default', 'advanced']).optional(),
  })
  .optional();
const bpm = z.number().positive().max(1000).optional();
const manner = z.enum(['in-time', 'added-beat']).optional();
const clef = z.enum(['treble', 'bass', 'alto', 'tenor']);
const stamp = z.string().max(64).optional();
const savedCompanion = z.strictObject({ source, path, stamp, force: z.boolean() });
/** Base64 of the largest file that is read: 32 MB. */
const MOST_IMPORTED = 45_000_000;
const degrees = z.string().max(2000).optional();

const shapes: { readonly [C in Channel]: z.ZodType } = {
  about: nothing,
  lists: nothing,
  show: z.strictObject({
    source,
    edition: count,
    focus: place.optional(),
    pages: z.array(count).max(400),
    withFocus: z.boolean(),
    have: z.record(z.string().regex(/^\d{1,6}$/), z.string().max(64)),
    breather,
    bpm,
    manner,
    hasty: z.boolean(),
    first: z.boolean(),
    tell: z.boolean(),
  }),
  figure: z.strictObject({ library: degrees, text: degrees, clef }),
  staff: z.strictObject({ clef, notes: z.array(z.string().max(8)).max(40) }),
  perform: z.strictObject({ source, edition: count, focus: place, bpm, breather, manner, breaths: z.boolean() }),
  fits: z.strictObject({ source }),
  prove: z.strictObject({ source, edition: count, ticket }),
  build: z
    .strictObject({
      source,
      editions: z.array(count).max(200),
      folder: path,
      kinds: z.array(z.enum(['pdf', 'svg', 'midi'])).max(3),
      booklets: z
        .strictObject({ roster: source, students: z.array(count).max(2000), summary: z.boolean(), date: z.string().max(10) })
        .optional(),
      set: z.strictObject({ ensemble: source, chairs: z.array(count).max(200), score: z.boolean() }).optional(),
      ticket,
    })
    .refine(
      ({ editions, kinds, booklets, set }) => (editions.length > 0 && kinds.length > 0) || booklets !== undefined || set !== undefined,
    ),
  export: z.strictObject({
    source,
    edition: count,
    focus: place,
    format: z.enum(EXPORT_FORMATS),
    folder: path,
    bpm,
    ladder: z.number().int().min(2).max(20).optional(),
    countIn: z.number().int().min(0).max(8).optional(),
    click: z.boolean(),
    drone: z.boolean(),
    a4: z.number().min(300).max(600).optional(),
    shape: z.enum(['16:9', '9:16']).optional(),
    dark: z.boolean(),
    eachKey: z.boolean(),
    ticket,
  }),
  import: z.strictObject({ bytes: z.string().max(MOST_IMPORTED), key: z.string().max(20).optional() }),
  'roster-check': z.strictObject({ source, roster: source }),
  'ensemble-check': z.strictObject({ source, ensemble: source }),
  cancel: z.strictObject({ ticket }),
  'book-demo': nothing,
  'book-open': z.strictObject({ path }),
  'book-save': z.strictObject({ source, path, stamp, force: z.boolean(), document }),
  'book-recent': nothing,
  'recovery-keep': z.strictObject({
    document,
    source,
    path: path.optional(),
    name,
    companions: z
      .array(z.strictObject({ kind: z.enum(['roster', 'ensemble']), source, path: path.optional(), name }))
      .max(2)
      .optional(),
  }),
  'recovery-drop': z.strictObject({ document }),
  'recovery-list': nothing,
  'recovery-open': z.strictObject({ document }),
  'choose-book': z.strictObject({ kind }),
  'choose-place': z.strictObject({ name, kind }),
  'choose-folder': nothing,
  places: z.strictObject({ folder: path.optional(), kind }),
  'roster-open': z.strictObject({ path }),
  'ensemble-open': z.strictObject({ path }),
  'roster-demo': nothing,
  'ensemble-demo': nothing,
  'roster-save': savedCompanion,
  'ensemble-save': savedCompanion,
  'beside-read': z.strictObject({ book: path }),
  'beside-write': z.strictObject({ book: path, roster: path.optional(), ensemble: path.optional() }),
  'preferences-read': nothing,
  'preferences-write': preferencesShape,
  'folder-open': z.strictObject({ path }),
  'file-print': z.strictObject({ path }),
  'close-now': nothing,
  'window-title': z.strictObject({ title: name, edited: z.boolean(), path: path.optional() }),
};

/** The ask as it may be used, or undefined when it has another shape. */
export function checkedAsk<C extends Channel>(channel: C, ask: unknown): Ask<C> | undefined {
  const found = shapes[channel].safeParse(ask);
  return found.success ? (ask as Ask<C>) : undefined;
}
