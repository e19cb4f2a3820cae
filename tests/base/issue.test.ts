/** Problems as data: their parts, their places in words, and how many are told. */
import { describe, expect, it } from 'vitest';
import { assert, bad, enough, error, good, isError, note, pathText, quotable, told, under, warning } from '../../core/base/issue.js';

describe('an issue', () => {
  it('has its severity, and a span only where one is given', () => {
    expect(error('a', ['x', 1], 'Wrong.')).toEqual({ code: 'a', severity: 'error', path: ['x', 1], message: 'Wrong.' });
    expect(error('a', [], 'Wrong.', [0, 2])).toEqual({ code: 'a', severity: 'error', path: [], message: 'Wrong.', span: [0, 2] });
    expect('span' in error('a', [], 'Wrong.')).toBe(false);
    expect(warning('a', [], 'Look.')).toEqual({ code: 'a', severity: 'warning', path: [], message: 'Look.' });
    expect(note('a', [], 'Know.')).toEqual({ code: 'a', severity: 'note', path: [], message: 'Know.' });
    expect([error, warning, note].map((make) => isError(make('a', [], '')))).toEqual([true, false, false]);
  });
  it('comes with a result or instead of one', () => {
    expect(good(1)).toEqual({ ok: true, value: 1, issues: [] });
    expect(good(1, [note('a', [], '')]).issues).toHaveLength(1);
    expect(bad(error('a', [], ''), error('b', [], ''))).toMatchObject({ ok: false, issues: [{ code: 'a' }, { code: 'b' }] });
  });
  it('is placed under the path of what it is a part of', () =>
    expect(under(['chapters', 2], [error('a', ['title'], 'x'), error('b', [], 'y')]).map(({ path }) => path)).toEqual([
      ['chapters', 2, 'title'],
      ['chapters', 2],
    ]));
});

describe('very many issues', () => {
  const errors = (count: number) => Array.from({ length: count }, (_, i) => error(`e${i}`, [], ''));
  const notes = (count: number) => Array.from({ length: count }, (_, i) => note(`n${i}`, [], ''));
  it('are all told up to 500', () => {
    expect(told(errors(500))).toHaveLength(500);
    expect(told(errors(500)).at(-1)?.code).toBe('e499');
  });
  it('beyond are told to 500, errors first and in order, and that there are more', () => {
    const found = told([...notes(300), ...errors(201)]);
    expect(found).toHaveLength(501);
    expect([found[0]?.code, found[200]?.code, found[201]?.code, found[499]?.code]).toEqual(['e0', 'e200', 'n0', 'n298']);
    expect(found[500]).toEqual({
      code: 'more-faults',
      severity: 'note',
      path: [],
      message: 'There are more faults than these 500; correct these first.',
    });
  });
  it('are enough at 500 when the last is an error', () => {
    expect(enough(errors(499))).toBe(false);
    expect(enough(errors(500))).toBe(true);
    expect(enough([...errors(500), note('n', [], '')])).toBe(false);
    expect(enough([])).toBe(false);
  });
});

describe('places in words', () => {
  it.each([
    [['chapters', 2, 'exercises', 0, 'figure'], 'chapter 3, exercise 1, figure'],
    [['title'], 'title'],
    [[3, 'title'], 'item 4, title'],
    [['order', 'keys', 4], 'order, key 5'],
    [[0, 1], 'item 1, item 2'],
    [[], ''],
  ])('%j: %s', (path, words) => expect(pathText(path)).toBe(words));
});

describe('text of a file in a sentence', () => {
  it('is shortened beyond 40 characters, or beyond what is asked for', () => {
    expect(quotable('x'.repeat(40))).toBe('x'.repeat(40));
    expect(quotable('x'.repeat(41))).toBe(`${'x'.repeat(40)}…`);
    expect(quotable('abcdef', 5)).toBe('abcde…');
    expect(quotable('abcde', 5)).toBe('abcde');
  });
  it('has no signs that steer a terminal', () => expect(quotable('a\u001b[2J\nb\ud800')).toBe('a\ufffd[2J\ufffdb\ufffd'));
});

it('an assumption that is broken is named', () => {
  expect(() => assert(true, 'all is well')).not.toThrow();
  expect(() => assert(0, 'all is well')).toThrow('assumption broken: all is well');
});
