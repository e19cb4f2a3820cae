/**
 * A map of values that can be made again: the first few are held, the others are made anew whenever they are asked for, so
 * that a long list of them takes little memory.
 */

/** `make` gives equal values for one key. The last value made is held besides, as it is often asked for again at once. */
export function recomputedMap<K, V>(keys: readonly K[], make: (key: K) => V, held: ReadonlyMap<K, V>): ReadonlyMap<K, V> {
  const known = new Set(keys);
  let last: { readonly key: K; readonly value: V } | undefined;

  function made(key: K): V {
    const found = held.get(key);
    if (found !== undefined) return found;
    if (last === undefined || last.key !== key) last = { key, value: make(key) };
    return last.value;
  }

  const get = (key: K): V | undefined => (known.has(key) ? made(key) : undefined);

  function* entries(): MapIterator<[K, V]> {
    for (const key of known) yield [key, made(key)];
  }

  function* values(): MapIterator<V> {
    for (const [, value] of entries()) yield value;
  }

  const map: ReadonlyMap<K, V> = {
    size: known.size,
    get,
    has: (key) => known.has(key),
    keys: () => known.keys(),
    values,
    entries,
    [Symbol.iterator]: entries,
    forEach(hear) {
      for (const [key, value] of entries()) hear(value, key, map);
    },
  };
  return map;
}
