/**
 * Items of lists and maps that are known to be there. The compiler cannot know it of an index or a key; these look, and a
 * program that is wrong stops with words instead of going on with nothing. For lists and maps that hold no `undefined`.
 */
import { assert } from './issue.js';

type Something = NonNullable<unknown> | null;

/** The item at an index from 0. For a loop over many numbers in a typed array, index the array itself: that is faster. */
export function at<T extends Something>(list: readonly T[], index: number): T {
  const item = list[index];
  assert(item !== undefined, 'the index is inside the list');
  return item;
}

export function first<T extends Something>(list: readonly T[]): T {
  const item = list[0];
  assert(item !== undefined, 'the list has a first item');
  return item;
}

export function last<T extends Something>(list: readonly T[]): T {
  const item = list[list.length - 1];
  assert(item !== undefined, 'the list has a last item');
  return item;
}

/** Each item but the last with the one after it: of a, b, c the pairs [a, b] and [b, c]. */
export function pairs<T extends Something>(list: readonly T[]): (readonly [T, T])[] {
  return list.slice(1).map((after, i) => [at(list, i), after] as const);
}

/** The items of two lists of one length, side by side. */
export function zip<A extends Something, B extends Something>(left: readonly A[], right: readonly B[]): (readonly [A, B])[] {
  assert(left.length === right.length, 'lists that are joined have one length');
  return left.map((item, i) => [item, at(right, i)] as const);
}

/** What a map holds for a key. */
export function mustGet<K, V extends Something>(map: { get(key: K): V | undefined }, key: K): V {
  const value = map.get(key);
  assert(value !== undefined, 'the map has the key');
  return value;
}
