/** What is kept between two settings of a page, and for how long. */
import { expect, it } from 'vitest';
import { openCache, uncached } from '../../core/base/cache.js';

it('makes a value once for a key, by the content of the key', () => {
  const made: unknown[] = [];
  const cache = openCache(12, (key) => made.push(key));
  let count = 0;
  const value = (...key: (string | number | object)[]) => cache.cached(key, () => ++count);
  expect([value('a', 1), value('a', 1), value('a', 2), value({ b: 1 }), value({ b: 1 })]).toEqual([1, 1, 2, 3, 3]);
  expect(made).toEqual([['a', 1], ['a', 2], [{ b: 1 }]]);
  expect(cache.size()).toBe(3);
});

it('knows an object by what it is, and no other by the same content', () => {
  const { identity } = openCache();
  const [a, b] = [{ x: 1 }, { x: 1 }];
  expect([identity(a), identity(b), identity(a)]).toEqual(['#1', '#2', '#1']);
});

it('drops what was not asked for in as many sweeps as it has generations', () => {
  const cache = openCache(2);
  let count = 0;
  const ask = () => cache.cached(['a'], () => ++count);
  expect(ask()).toBe(1);
  cache.sweep();
  expect(ask()).toBe(1);
  cache.sweep();
  expect(cache.size()).toBe(1);
  cache.sweep();
  expect(cache.size()).toBe(0);
  expect(ask()).toBe(2);
});

it('keeps twelve generations when nothing is said', () => {
  const cache = openCache();
  cache.cached(['a'], () => 1);
  for (let i = 0; i < 11; i++) cache.sweep();
  expect(cache.size()).toBe(1);
  cache.sweep();
  expect(cache.size()).toBe(0);
});

it('without a cache everything is made anew', () => {
  let count = 0;
  expect([uncached(['a'], () => ++count), uncached(['a'], () => ++count)]).toEqual([1, 2]);
});
