/** The fields that questions are made of. Only who checks questions loads this file; the table of questions knows it by type. */
import { z } from 'zod';
import { isObject, type JsonObject } from '../../../core/book/json.js';
import { FORMATS } from '../../../core/export/format-names.js';
import type { Frozen } from './frozen.js';
import { PREFERENCES } from './preferences.js';

const count = z.number().int().min(0).max(100_000);
const path = z.string().min(1).max(4096);
const stamp = z.string().max(64).optional();
/** A book, a roster or an ensemble as it stands in the window: an object. Its own schema checks it in depth where it is used. */
const source = z.custom<JsonObject>(isObject);
const fileKind = z.enum(['book', 'roster', 'ensemble']);

export const fields = {
  z,
  nothing: z.strictObject({}),
  source,
  /** An index, or a number of something. */
  count,
  path,
  name: z.string().max(300),
  /** Name of a book in a window, saved or not: letters, digits, hyphens. */
  document: z.string().regex(/^[A-Za-z0-9-]{8,64}$/),
  /** Of long work, to follow and to stop it. */
  ticket: z.string().min(1).max(64),
  /** Of the text that was opened or saved last; a file with another one was changed by someone else. */
  stamp,
  fileKind: fileKind.optional(),
  companionKind: fileKind.exclude(['book']),
  /** `force`: write over a file that another program changed. */
  saved: { source, path, stamp, force: z.boolean() },
  /** Where an exercise stands: indices of chapter and exercise. */
  position: z.strictObject({ chapter: count, exercise: count }),
  /** Who is imagined to breathe. Nothing said: an adult. Ages in years, heights in centimeters, the others in seconds. */
  breather: z.strictObject({
    lungTime: z.number().optional(),
    longTone: z.number().optional(),
    lungClass: z.enum(['adult', 'teen', 'child']).optional(),
    age: z.number().optional(),
    height: z.number().optional(),
    sex: z.enum(['female', 'male']).optional(),
    experience: z.enum(['beginner', 'default', 'advanced']).optional(),
  }),
  /** As the edition says when undefined. */
  manner: z.enum(['in-time', 'added-beat']).optional(),
  /** Beats a minute; the exercise's working tempo when undefined. */
  bpm: z.number().positive().max(1000).optional(),
  clef: z.enum(['treble', 'bass', 'alto', 'tenor']),
  /** A library id or degrees. */
  figure: z.string().max(2000).optional(),
  format: z.enum(FORMATS),
  /** Base64 of a file of 32 MB at most. */
  bytes: z.string().max(45_000_000),
  /** How this person likes the window; what is missing gets its standard. */
  preferences: z.strictObject({
    theme: z.enum(['system', 'light', 'dark']).default(PREFERENCES.theme),
    /** Text size as a percentage. */
    text: z.number().int().min(80).max(200).default(PREFERENCES.text),
    /** Volume of notes and clicks, 0 to 1. */
    notes: z.number().min(0).max(1).default(PREFERENCES.notes),
    click: z.number().min(0).max(1).default(PREFERENCES.click),
    countIn: z.boolean().default(PREFERENCES.countIn),
    /** Folder of the last printing. */
    folder: z.string().max(4096).optional(),
  }),
};

export type Fields = typeof fields;
export type BreatherAsk = Frozen<z.output<Fields['breather']>>;
export type ExercisePosition = Frozen<z.output<Fields['position']>>;
export type Preferences = Frozen<z.output<Fields['preferences']>>;
