/** A cache: the same key gives the same value again. The window's pages come quickly by it; a build of a book needs none. */

/** A part of a key: data by its content; an object that `identity` names, by what it is. */
export type KeyPart = string | number | boolean | undefined | object;

/** Gives what was made for this key before, or makes it. What is made must depend on the key alone. */
export type Cached = <T>(key: readonly KeyPart[], make: () => T) => T;

/** Remembers nothing: everything is made anew. */
export const uncached: Cached = (_key, make) => make();

export type Cache = {
  readonly cached: Cached;
  /** An object as a part of a key by identity: short, and true for values with functions in them. */
  readonly identity: (object: object) => string;
  /** Drops what was not asked for since the last call but `generations` - 1. */
  readonly sweep: () => void;
  readonly size: () => number;
};

/**
 * `generations`: for how many sweeps something unused stays, so that what is undone comes back at once. `made` is told the
 * key of everything that had to be made.
 */
export function openCache(generations = 12, made: (key: readonly KeyPart[]) => void = () => undefined): Cache {
  const entries = new Map<string, { value: unknown; used: number }>();
  const names = new WeakMap<object, string>();
  let count = 0;
  let now = 0;
  return {
    cached(key, make) {
      const id = JSON.stringify(key);
      const found = entries.get(id);
      if (found) {
        found.used = now;
        return found.value as ReturnType<typeof make>;
      }
      made(key);
      const value = make();
      entries.set(id, { value, used: now });
      return value;
    },
    identity(object) {
      let name = names.get(object);
      if (name === undefined) {
        name = `#${++count}`;
        names.set(object, name);
      }
      return name;
    },
    sweep() {
      now++;
      for (const [id, { used }] of entries) if (used <= now - generations) entries.delete(id);
    },
    size: () => entries.size,
  };
}

/** A cache that remembers nothing: what is made with it is what is made with any other. */
export const noCache: Cache = { cached: uncached, identity: () => '', sweep: () => undefined, size: () => 0 };
