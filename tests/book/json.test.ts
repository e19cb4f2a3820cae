import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MAX_DEPTH, MAX_LENGTH, parseJson } from '../../core/book/json.js';

const fault = (text: string): string => {
  const result = parseJson(text);
  return result.ok ? 'none' : `${result.issues.length} ${result.issues[0]?.code}: ${result.issues[0]?.message}`;
};

describe('the place and the remedy of the first fault', () => {
  const cases: readonly [string, string, string][] = [
    ['empty', '', 'file-empty'],
    ['blanks only', ' \n\t ', 'file-empty'],
    ['another kind of file', '%PDF-1.7', 'begins with "{"'],
    ['a list', '[1]', 'begins with "{"'],
    ['cut short in a list', '{"a": [1, 2', 'cut short: it ends at line 1, column 12'],
    ['cut short in a text', '{"a": "one\n two', 'cut short'],
    ['cut short after a field name', '{"a"', 'cut short'],
    ['cut short after a comma', '{\n"a": 1,\n', 'cut short: it ends at line 3, column 1'],
    ['a comma too many', '{\n  "a": 1,\n}', 'at line 2, column 9, remove the comma before "}"'],
    ['a comma too few', '{"a": 1\n "b": 2}', 'at line 2, column 2, write a comma or "}" here'],
    ['no colon', '{"a" 1}', 'write a colon after "a"'],
    ['a bare word', '{"a": yes}', 'at line 1, column 7, write text in double quotes'],
    ['single quotes', "{'a': 1}", 'at line 1, column 2, write a field name in double quotes'],
    ['an unclosed quote before others', '{"a": "one,\n"b": 2}', 'at line 1, column 7, close this text'],
    ['a lone backslash', '{"a": "c:\\x"}', 'backslash'],
    ['text after the end', '{"a": 1} more', 'at line 1, column 10, remove what follows'],
    ['a field twice', '{"a": 1, "a": 2}', 'remove one of the two fields "a"'],
    ['a field that reaches into objects', '{"__proto__": {"x": 1}}', 'remove the field "__proto__"'],
    ['the same field, escaped', '{"\\u005f_proto__": 1}', 'remove the field "__proto__"'],
    ['a number with a leading zero', '{"a": 012}', 'write a comma or "}" here'],
  ];
  it.each(cases)('%s', (_, text, words) => {
    expect(fault(text)).toContain(words);
    expect(fault(text)).toMatch(/^1 /);
  });
});

it('bounds the nesting and the length', () => {
  const nested = (levels: number) => `{"a": ${'['.repeat(levels)}${']'.repeat(levels)}}`;
  expect(fault(nested(MAX_DEPTH - 1))).toBe('none');
  expect(fault(nested(MAX_DEPTH))).toContain('too-deep');
  expect(fault(nested(100_000))).toContain('too-deep');
  expect(fault(' '.repeat(MAX_LENGTH + 1))).toContain('file-too-large');
});

it('reads a byte order mark away', () => {
  expect(parseJson('\uFEFF{"a": 1}')).toEqual({ ok: true, value: { a: 1 }, issues: [] });
});

it('agrees with the platform on every JSON object and on every spoiled one', () => {
  const objects = fc
    .dictionary(fc.string(), fc.jsonValue({ maxDepth: 5 }))
    .filter((o) => !/__proto__|constructor|prototype/.test(JSON.stringify(o)));
  fc.assert(
    fc.property(objects, fc.nat(), fc.constantFrom('', '"', '}', ',', '\\', 'x', '\n'), (object, at, put) => {
      const text = JSON.stringify(object, null, 1);
      expect(parseJson(text)).toMatchObject({ ok: true, value: JSON.parse(text) });
      const place = at % text.length;
      const bad = text.slice(0, place) + put + text.slice(place + 1);
      let platform: unknown;
      try {
        platform = JSON.parse(bad);
      } catch {
        platform = undefined;
      }
      const ours = parseJson(bad);
      // A field written twice is the one thing that we refuse and the platform takes.
      if (platform === undefined) expect(ours.ok).toBe(false);
      else if (!ours.ok) expect(ours.issues[0]?.code).toBe('field-twice');
      else expect(ours.value).toEqual(platform);
    }),
    { numRuns: 300, seed: 12 },
  );
});
