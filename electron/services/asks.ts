/** What a window may ask, checked field by field before anything is done: a window is never trusted. */
import { z } from 'zod';
import type { Ask, Channel } from './contract.js';
import { preferencesShape } from './preferences-shape.js';
import { peopleShape } from './roster.js';

const nothing = z.strictObject({});
const path = z.string().min(1).max(4096);
const name = z.string().max(300);
const document = z.string().regex(/^[A-Za-z0-9-]{8,64}$/);
const ticket = z.string().min(1).max(64);
/** Checked in depth by the book's own schema where it is used. */
const source = z.looseObject({});
const count = z.number().int().min(0).max(100_000);
const place = z.strictObject({ chapter: count, exercise: count });
const breather = z.strictObject({
  lungTime: z.number().optional(),
  longTone: z.number().optional(),
  lungClass: z.enum(['adult', 'teen', 'child']).optional(),
});
const bpm = z.number().positive().max(1000).optional();
const manner = z.enum(['in-time', 'added-beat']);
const clef = z.enum(['treble', 'bass', 'alto', 'tenor']);
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
  }),
  figure: z.strictObject({ library: degrees, text: degrees, clef }),
  staff: z.strictObject({ clef, notes: z.array(z.string().max(8)).max(40) }),
  perform: z.strictObject({ source, edition: count, focus: place, bpm, breather, manner, breaths: z.boolean() }),
  fits: z.strictObject({ source }),
  prove: z.strictObject({ source, edition: count, ticket }),
  build: z.strictObject({
    source,
    editions: z.array(count).min(1).max(200),
    folder: path,
    kinds: z.array(z.enum(['pdf', 'svg', 'midi'])).min(1),
    ticket,
  }),
  cancel: z.strictObject({ ticket }),
  'book-demo': nothing,
  'book-open': z.strictObject({ path }),
  'book-save': z.strictObject({ source, path, stamp: z.string().max(64).optional(), force: z.boolean(), document }),
  'book-recent': nothing,
  'recovery-keep': z.strictObject({ document, source, path: path.optional(), name }),
  'recovery-drop': z.strictObject({ document }),
  'recovery-list': nothing,
  'recovery-open': z.strictObject({ document }),
  'choose-book': nothing,
  'choose-place': z.strictObject({ name }),
  'choose-folder': nothing,
  places: z.strictObject({ folder: path.optional() }),
  'roster-read': nothing,
  'roster-write': z.strictObject({ people: peopleShape }),
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
