/** Keeping what was made: the same key gives the same value again. The editor's pages come from it; a build of a book needs none. */

/** A part of a key: data by its content, an object marked with `same` by its identity. */
export type KeyPart = string | number | boolean | undefined | object;

/** Gives what was made for this key before, or makes it. What is made must depend on the key alone. */
export type Keep = <T>(key: readonly KeyPart[], make: () => T) => T;

/** Keeps nothing. */
export const makeAnew: Keep = (_key, make) => make();

export type Keeper = {
  readonly keep: Keep;
  /** An object as a part of a key by identity: short, and true for values with functions in them. */
  readonly same: (object: object) => string;
  /** Drops what was not asked for since the last call but `generations` - 1. */
  readonly sweep: () => void;
  readonly size: () => number;
};

/**
 * `generations`: for how many sweeps something unused is held, so that what is undone comes back at once. `made` is told the
 * key of everything that had to be made.
 */
export function keeper(generations = 12, made: (key: readonly KeyPart[]) => void = () => undefined): Keeper {
  const held = new Map<string, { value: unknown; used: number }>();
  const names = new WeakMap<object, string>();
  let count = 0;
  let now = 0;
  return {
    keep(key, make) {
      const id = JSON.stringify(key);
      const found = held.get(id);
      if (found) {
        found.used = now;
        return found.value as ReturnType<typeof make>;
      }
      made(key);
      const value = make();
      held.set(id, { value, used: now });
      return value;
    },
    same(object) {
      let name = names.get(object);
      if (name === undefined) {
        name = `#${++count}`;
        names.set(object, name);
      }
      return name;
    },
    sweep() {
      now++;
      for (const [id, { used }] of held) if (used <= now - generations) held.delete(id);
    },
    size: () => held.size,
  };
}
