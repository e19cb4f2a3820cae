/** Items that are known to be there, and the words where they are not. */
import { describe, expect, it } from 'vitest';
import { at, first, last, mustGet, pairs, zip } from '../../core/base/list.js';

const LETTERS = ['a', 'b', 'c'];

describe('items of a list', () => {
  it('are found by index, at its start and at its end', () => {
    expect([at(LETTERS, 0), at(LETTERS, 2), first(LETTERS), last(LETTERS)]).toEqual(['a', 'c', 'a', 'c']);
    expect([at([0, null], 0), at([0, null], 1), first([false]), last([''])]).toEqual([0, null, false, '']);
  });

  it.each([-1, 3, 0.5])('are missed with words: at %s', (index) => {
    expect(() => at(LETTERS, index)).toThrow('assumption broken: the index is inside the list');
  });

  it('are missed with words where the list is empty', () => {
    expect(() => first([])).toThrow('the list has a first item');
    expect(() => last([])).toThrow('the list has a last item');
  });

  it('are joined with those after them', () => {
    expect(pairs(LETTERS)).toEqual([
      ['a', 'b'],
      ['b', 'c'],
    ]);
    expect(pairs(['a'])).toEqual([]);
    expect(pairs([])).toEqual([]);
  });

  it('are joined with those of a list of the same length only', () => {
    expect(zip(LETTERS, [1, 2, 3])).toEqual([
      ['a', 1],
      ['b', 2],
      ['c', 3],
    ]);
    expect(() => zip(LETTERS, [1, 2])).toThrow('one length');
  });
});

describe('values of a map', () => {
  const ages = new Map([['a', 0]]);

  it('are found by key', () => {
    expect(mustGet(ages, 'a')).toBe(0);
  });

  it('are missed with words', () => {
    expect(() => mustGet(ages, 'b')).toThrow('assumption broken: the map has the key');
  });
});
