/** What comes back says the same as what came, and shares every part with what was there before. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shareStructure } from '../../core/base/shared-structure.js';

const copy = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T;

describe('shareStructure', () => {
  it('gives the very object when nothing has changed', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const before = copy(value);
        expect(shareStructure(before, copy(before))).toBe(before);
      }),
    );
  });

  it('says the same as what came, to the letter', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (before, after) => {
        expect(JSON.stringify(shareStructure(before, after))).toBe(JSON.stringify(after));
      }),
    );
  });

  const before = { title: 'A', list: [{ a: 1 }, { b: [2, 3] }, { c: 4 }] };
  it.each([
    ['an item changed', { ...before, list: [{ a: 1 }, { b: [2, 9] }, { c: 4 }] }, [0, undefined, 2]],
    ['an item put in', { ...before, list: [{ a: 1 }, { new: 1 }, { b: [2, 3] }, { c: 4 }] }, [0, undefined, 1, 2]],
    ['an item taken out', { ...before, list: [{ a: 1 }, { c: 4 }] }, [0, 2]],
    ['the first item taken out', { ...before, list: [{ b: [2, 3] }, { c: 4 }] }, [1, 2]],
    ['fields in another order', { list: copy(before.list), title: 'A' }, [0, 1, 2]],
  ])('%s: the others stay the objects that they were', (_name, after, from) => {
    const found = shareStructure(before, copy(after)) as typeof before;
    expect(found).not.toBe(before);
    expect(found.list.map((item) => before.list.indexOf(item as never))).toEqual(from.map((it) => it ?? -1));
    expect(JSON.stringify(found)).toBe(JSON.stringify(after));
  });

  it('does not take a list for an object, nor one for nothing', () => {
    for (const [a, b] of [
      [[1], { 0: 1 }],
      [{ 0: 1 }, [1]],
      [null, {}],
      [{}, null],
    ])
      expect(shareStructure(a, b)).toBe(b);
  });
});
