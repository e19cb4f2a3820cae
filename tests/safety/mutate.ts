/** Damage to JSON files: cut, swapped, blown up, nested, renamed, with odd characters and with names that reach into objects. */
import fc from 'fast-check';

/** Values as they stand in JSON text, to be put in the place of another. */
const VALUES: readonly string[] = [
  'null',
  'true',
  '-1',
  '0',
  '-0',
  '0.1',
  '1e308',
  '1e999',
  '-1e999',
  '9007199254740993',
  '1e-400',
  '123456789012345678901234567890',
  '""',
  '" "',
  '"null"',
  '[]',
  '{}',
  '[null]',
  '[[]]',
  '{"": ""}',
  '{"__proto__": {"polluted": 1}}',
  '{"constructor": {"prototype": {"polluted": 1}}}',
  '{"toString": 1, "hasOwnProperty": 2, "valueOf": null}',
  '"__proto__"',
  '"constructor"',
  '"toString"',
  `${'['.repeat(24)}${']'.repeat(24)}`,
  `${'['.repeat(500)}${']'.repeat(500)}`,
  `${'{"a":'.repeat(40)}1${'}'.repeat(40)}`,
  `${'['.repeat(3000)}`,
  `[${Array(2500).fill('0').join(',')}]`,
  `[${Array(300).fill('{"figure":"1 2"}').join(',')}]`,
  `"${'x'.repeat(100_000)}"`,
  `"${'1 '.repeat(900)}"`,
  `"${'#'.repeat(150)}"`,
  `"${'1'.repeat(199)}"`,
  '"\\u0000"',
  '"\\u001b[2J"',
  '"\\ud834"',
  '"\\udd1e\\ud834"',
  '"\\uffff\\ufffe"',
  '"\\u202e1 2 3\\u202c"',
  '"\\u2028\\u2029"',
  '"\u{1d11e} \u{1f3ba} e\u0301\u0301\u0301"',
  `"${'\u0301'.repeat(190)}"`,
  '"١ ٢ ٣"',
  '"１ ２ ３"',
  '"1\\t2\\n3"',
  '"../../etc/passwd"',
  '"C:\\\\CON"',
  '"<script>alert(1)</script>"',
  '"2026-02-30"',
  '"99999999/1"',
  '"1/0"',
  '{"from": 1e308, "to": -1e308}',
  '{"low": "C9", "high": "C1"}',
  '{"name": "shuffle", "seed": -9007199254740991}',
  '{"library": "__proto__"}',
];

/** Pieces of text that are put in anywhere, inside a word or between two. */
const PIECES: readonly string[] = [
  '"',
  '\\',
  '{',
  '}',
  '[',
  ']',
  ',',
  ':',
  '\u0000',
  '\ufeff',
  '\u2028',
  '\ud800',
  '\u{1d11e}',
  '\r\n',
  '//',
  '/* */',
  'NaN',
  'Infinity',
  '\\u12',
  'e',
  '-',
  '.',
  "'",
  '"__proto__":{"polluted":1},',
  '"a":1,"a":2,',
];

const KEYS: readonly string[] = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  '',
  ' ',
  'x'.repeat(5000),
  'a\\nb',
  '\\u001b[31m',
  '\\ud800',
];

/** `at` and `to` are shares of the file: 0 is its beginning, 1 its end. */
export type Mutation =
  | { readonly kind: 'cut'; readonly at: number }
  | { readonly kind: 'drop' | 'twice'; readonly at: number; readonly to: number }
  | { readonly kind: 'piece'; readonly at: number; readonly piece: string }
  | { readonly kind: 'bytes'; readonly at: number; readonly bytes: readonly number[] }
  | { readonly kind: 'value'; readonly at: number; readonly value: string }
  | { readonly kind: 'swap'; readonly at: number; readonly to: number }
  | { readonly kind: 'leave-out'; readonly at: number }
  | { readonly kind: 'rename' | 'field'; readonly at: number; readonly key: string; readonly value: string };

// Whole numbers are spread evenly; floating-point ones would nearly all be near 0.
const share = fc.noBias(fc.nat(999_999)).map((n) => n / 1_000_000);
const value = fc.constantFrom(...VALUES);
const key = fc.constantFrom(...KEYS);

export const mutation: fc.Arbitrary<Mutation> = fc.oneof(
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('cut' as const), at: share }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constantFrom('drop' as const, 'twice' as const), at: share, to: share }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('piece' as const), at: share, piece: fc.constantFrom(...PIECES) }) },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant('bytes' as const), at: share, bytes: fc.array(fc.nat(255), { minLength: 1, maxLength: 4 }) }),
  },
  { weight: 8, arbitrary: fc.record({ kind: fc.constant('value' as const), at: share, value }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('swap' as const), at: share, to: share }) },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('leave-out' as const), at: share }) },
  { weight: 3, arbitrary: fc.record({ kind: fc.constantFrom('rename' as const, 'field' as const), at: share, key, value }) },
);

type Holder = Record<string | number, unknown>;
type Place = { readonly holder: Holder; readonly name: string | number };

/** Every value below the root, in the order of the text. */
function places(root: unknown): Place[] {
  if (typeof root !== 'object' || root === null) return [];
  const holder = root as Holder;
  const names: (string | number)[] = Array.isArray(root) ? root.map((_, i) => i) : Object.keys(root);
  return names.flatMap((name) => [{ holder, name }, ...places(holder[name])]);
}

const MARK = '@mark@';
const MARK_KEY = '@key@';

/** The text of a good file with one damage done to its tree. */
function inTree(text: string, mutation: Exclude<Mutation, { kind: 'cut' | 'drop' | 'twice' | 'piece' | 'bytes' }>): string {
  const root = JSON.parse(text) as unknown;
  const all = places(root);
  const pick = (at: number, from = all): Place => from[Math.floor(at * from.length)] as Place;
  const at = pick(mutation.at);
  switch (mutation.kind) {
    case 'value':
      at.holder[at.name] = MARK;
      return JSON.stringify(root, null, 2).replace(`"${MARK}"`, () => mutation.value);
    case 'swap': {
      const other = pick(mutation.to);
      const [a, b] = [JSON.stringify(at.holder[at.name]), JSON.stringify(other.holder[other.name])];
      at.holder[at.name] = JSON.parse(b);
      // The other place may just have gone with what stood at the first.
      other.holder[other.name] = JSON.parse(a);
      return JSON.stringify(root);
    }
    case 'leave-out':
      if (Array.isArray(at.holder)) at.holder.splice(at.name as number, 1);
      else delete at.holder[at.name];
      return JSON.stringify(root);
    default: {
      const { holder, name } = pick(
        mutation.at,
        all.filter((place) => !Array.isArray(place.holder)),
      );
      const value = mutation.kind === 'rename' ? holder[name] : MARK;
      if (mutation.kind === 'rename') delete holder[name];
      holder[MARK_KEY] = value;
      return JSON.stringify(root)
        .replace(`"${MARK_KEY}"`, () => `"${mutation.key}"`)
        .replace(`"${MARK}"`, () => mutation.value);
    }
  }
}

/** The bytes of the damaged file. `text` is a good JSON file. */
export function mutated(text: string, mutation: Mutation): Buffer {
  const at = Math.floor(mutation.at * text.length);
  switch (mutation.kind) {
    case 'cut':
      return Buffer.from(text.slice(0, at));
    case 'drop':
      return Buffer.from(text.slice(0, at) + text.slice(at + Math.ceil(mutation.to * 40)));
    case 'twice': {
      const end = at + Math.ceil(mutation.to * 400);
      return Buffer.from(text.slice(0, end) + text.slice(at));
    }
    case 'piece':
      return Buffer.from(text.slice(0, at) + mutation.piece + text.slice(at));
    case 'bytes': {
      const bytes = Buffer.from(text);
      for (const [i, byte] of mutation.bytes.entries()) if (at + i < bytes.length) bytes[at + i] = byte;
      return bytes;
    }
    default:
      return Buffer.from(inTree(text, mutation));
  }
}

const line = (issue: string): boolean => /^[^\p{Cc}]{10,1500}$/u.test(issue) && /[.!?)]$/.test(issue);

/** The sentence without what it quotes of the file. */
const unquoted = (message: string): string => message.replace(/"[^"]*"|`[^`]*`/g, '');

/** What is wrong with an answer: an issue that nobody can use, a refusal without a reason, a pollution of all objects. */
export function complaint(answer: {
  readonly ok: boolean;
  readonly issues: readonly { readonly severity: string; readonly message: string; readonly code: string }[];
}): string | undefined {
  if (Object.keys(Object.prototype).length > 0 || 'polluted' in {}) return 'all objects have got a new field';
  const refused = answer.issues.some((issue) => issue.severity === 'error');
  if (refused === answer.ok) return answer.ok ? 'loaded with an error' : 'refused without an error';
  if (answer.issues.length > 501) return `${answer.issues.length} issues`;
  const unclear = answer.issues.find(
    ({ message, code }) => !line(message) || /undefined|\[object|NaN|Infinity/.test(unquoted(message)) || !/^[a-z0-9-]+$/.test(code),
  );
  return unclear && `${unclear.code}: ${unclear.message.slice(0, 200)}`;
}
