/** Text → JSON object, or the place of the first fault by line and column. Grammar: RFC 8259. */
import { bad, error, good, type Issue, quotable, type Result } from '../base/issue.js';

export type JsonObject = { [field: string]: unknown };

/** Longest book file that is read, in UTF-16 units: far above any real book, far below what fills the memory. */
export const MAX_LENGTH = 4 * 1024 * 1024;

/** Deepest nesting that is read; a book needs seven levels. */
export const MAX_DEPTH = 32;

/** Most values (texts, numbers, lists, objects) that are read; a book of 2,000 pages has about 40,000. */
export const MAX_VALUES = 100_000;

/** Names that would reach into the objects that hold the data. */
const FORBIDDEN_FIELDS: readonly string[] = ['__proto__', 'constructor', 'prototype'];

export const isObject = (value: unknown): value is JsonObject => typeof value === 'object' && value !== null && !Array.isArray(value);

/** `line 3, column 14`, both from 1. */
export function placeText(text: string, at: number): string {
  const before = text.slice(0, at);
  return `line ${before.split('\n').length}, column ${at - before.lastIndexOf('\n')}`;
}

/** Reads one JSON object. Faults: too long, empty, cut short, not JSON, nested too deeply, too many values, a field written twice. */
export function parseJson(source: string): Result<JsonObject> {
  if (source.length > MAX_LENGTH) {
    return bad(error('file-too-large', [], 'The file is larger than 4 MB, so it is not a book file; choose another file.'));
  }
  const text = source.startsWith('\uFEFF') ? source.slice(1) : source;
  if (text.trim() === '')
    return bad(error('file-empty', [], 'The file is empty; choose another file, or begin a book with "twelvefold new".'));
  if (!text.trimStart().startsWith('{')) {
    return bad(error('not-json', [], 'This is not a book file: a book file is JSON text that begins with "{"; choose another file.'));
  }
  const issue = findFault(text);
  if (issue) return bad(issue);
  const file: JsonObject = JSON.parse(text);
  return good(file);
}

/** Thrown and caught inside this file only. */
class Fault extends Error {
  constructor(
    readonly code: string,
    readonly at: number,
    readonly words: string,
  ) {
    super(words);
  }
}

const SPACE = /[ \t\r\n]*/y;
const STRING = /"(?:[^"\\\p{Cc}]|[\x7f-\x9f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/uy;
const ATOM = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;

/** The reading of one text: where it stands, and how it goes on. */
function scanner(text: string) {
  let at = 0;
  const take = (pattern: RegExp): string | undefined => {
    pattern.lastIndex = at;
    const found = pattern.exec(text)?.[0];
    if (found !== undefined) at += found.length;
    return found;
  };
  const fail = (words: string, code = 'not-json', where = at): never => {
    throw new Fault(code, where, words);
  };
  return {
    at: () => at,
    sign: () => text[at],
    step: (): void => {
      at++;
    },
    take,
    skip: () => take(SPACE),
    fail,
    /** Text in quotes, as it stands in the file. */
    string(what: string): string {
      const start = at;
      const found = take(STRING);
      if (found !== undefined) return found;
      if (text[start] !== '"') return fail(`write ${what} in double quotes here`);
      // Text may not run over the end of a line, so an unclosed quote is reported where it opens, or at the end of a file cut short.
      const open = text.includes('"', start + 1) ? start : text.length;
      return fail('close this text with a double quote on the same line, and write a backslash as "\\\\"', 'not-json', open);
    },
  };
}

type Scanner = ReturnType<typeof scanner>;

/** Members of a list or object, from its opening bracket to the closing one. */
function readMembers({ at, sign, step, skip, fail }: Scanner, close: string, member: () => void): void {
  step();
  skip();
  while (sign() !== close) {
    member();
    skip();
    if (sign() === close) break;
    const comma = at();
    if (sign() !== ',') fail(`write a comma or "${close}" here`);
    step();
    skip();
    if (sign() === close) fail(`remove the comma before "${close}"`, 'not-json', comma);
  }
  step();
}

/** An object; `value` reads what follows a name. */
function readObject(scan: Scanner, value: () => void): void {
  const { at, sign, step, skip, fail } = scan;
  const names = new Set<string>();
  readMembers(scan, '}', () => {
    const start = at();
    const name = String(JSON.parse(scan.string('a field name')));
    if (FORBIDDEN_FIELDS.includes(name)) fail(`remove the field "${name}", which no book file may have`, 'forbidden-field', start);
    if (names.has(name)) fail(`remove one of the two fields "${quotable(name)}"`, 'field-twice', start);
    names.add(name);
    skip();
    if (sign() !== ':') fail(`write a colon after "${quotable(name)}"`);
    step();
    value();
  });
}

/** Reads the whole text, and throws the first fault. */
function readAll(text: string): void {
  const scan = scanner(text);
  const { at, sign, skip, fail } = scan;
  let values = 0;
  const value = (depth: number): void => {
    skip();
    if (depth > MAX_DEPTH) fail(`take out some of the brackets inside brackets; ${MAX_DEPTH} levels are the most that is read`, 'too-deep');
    values++;
    if (values > MAX_VALUES) fail(`take out what follows; ${MAX_VALUES} values are the most that is read`, 'too-many-values');
    if (sign() === '[') readMembers(scan, ']', () => value(depth + 1));
    else if (sign() === '{') readObject(scan, () => value(depth + 1));
    else if (sign() === '"') scan.string('text');
    else if (scan.take(ATOM) === undefined) fail('write text in double quotes, a number, true, false, a list or an object here');
  };
  value(1);
  skip();
  if (at() < text.length) fail('remove what follows the closing "}" of the book');
}

/**
 * A recursive-descent reading of the text that only looks for the first fault. The platform's own reader tells the
 * place of a fault in some versions and not in others, and takes a field that is written twice without a word.
 */
function findFault(text: string): Issue | undefined {
  try {
    readAll(text);
    return undefined;
  } catch (fault) {
    if (!(fault instanceof Fault)) throw fault;
    const place = placeText(text, fault.at);
    if (fault.at >= text.trimEnd().length) {
      return error(
        'file-cut-short',
        [],
        `The file is cut short: it ends at ${place}, before the book is complete; use a whole copy of it.`,
      );
    }
    const reason = fault.code === 'not-json' ? 'The file is not valid JSON' : 'The file cannot be read';
    return error(fault.code, [], `${reason}: at ${place}, ${fault.words}.`);
  }
}
