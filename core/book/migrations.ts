/** Old book files → the present version, one step a version. A step changes shape only; checking comes after. */
import { assert, bad, error, good, type Result } from '../base/issue.js';
import { isObject, type JsonObject } from './json.js';

export const FORMAT = 'twelvefold';
export const VERSION = 1;

export type Migration = {
  readonly from: number;
  readonly to: number;
  /** What changed between the two versions. */
  readonly change: string;
  /** The file of the older version → the same book in the newer one. Must leave its argument as it is. */
  readonly up: (old: JsonObject) => JsonObject;
};

/** Gives a field another name, where it is present, and keeps the order of the fields. */
function rename(object: JsonObject, from: string, to: string): JsonObject {
  return Object.fromEntries(Object.entries(object).map(([name, value]) => [name === from ? to : name, value]));
}

/** Applies a change to each object of a list field; anything else is left for the checks to report. */
function each(object: JsonObject, field: string, change: (item: JsonObject) => JsonObject): JsonObject {
  const list = object[field];
  return Array.isArray(list) ? { ...object, [field]: list.map((item) => (isObject(item) ? change(item) : item)) } : object;
}

function exerciseFrom0(old: JsonObject): JsonObject {
  const now = rename(old, 'key_order', 'order');
  const tempo = now.tempo;
  return Array.isArray(tempo) && tempo.length === 2 ? { ...now, tempo: { from: tempo[0], to: tempo[1] } } : now;
}

export const MIGRATIONS: readonly Migration[] = [
  {
    from: 0,
    to: 1,
    change:
      '"sections" became "chapters", "instruments" became "editions", "key_order" became "order", and a tempo of two numbers became {from, to}',
    up: (old) =>
      each(rename(rename(old, 'instruments', 'editions'), 'sections', 'chapters'), 'chapters', (chapter) =>
        each(chapter, 'exercises', exerciseFrom0),
      ),
  },
];

assert(
  MIGRATIONS.length === VERSION && MIGRATIONS.every((step, i) => step.from === i && step.to === i + 1),
  'the migrations lead from version 0 to the present one without a gap',
);

/** A book file of any known version → the same book in the present version. Faults: another format, a version that is not known. */
export function migrate(file: JsonObject, steps: readonly Migration[] = MIGRATIONS): Result<JsonObject> {
  const newest = steps.at(-1)?.to ?? VERSION;
  if (file.format !== FORMAT) {
    const words =
      'This JSON file is not a Twelvefold book; a book file begins with "format": "twelvefold", so choose another file or add that field.';
    return bad(error('not-a-book', ['format'], words));
  }
  const version = file.version;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 0) {
    const words = `The version of the book file is missing or not a whole number; write "version": ${newest}.`;
    return bad(error('unknown-version', ['version'], words));
  }
  if (version > newest) {
    const words = `The book was saved by a newer Twelvefold (file version ${version}; this one reads up to ${newest}); install the newer program to open it.`;
    return bad(error('newer-version', ['version'], words));
  }
  const book = steps.filter((step) => step.from >= version).reduce((old, step) => ({ ...step.up(old), version: step.to }), file);
  return good(book);
}
