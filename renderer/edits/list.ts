/** Edits of a list that stands inside a file, and of the fields of an item: a new source each time, the old one untouched. */

/** The fields of a record, in its order. */
export const keysOf = <K extends string>(record: Readonly<Record<K, unknown>>): K[] => Object.keys(record) as K[];

const isNothing = (value: unknown): boolean =>
  value === undefined ||
  value === '' ||
  (typeof value === 'object' && value !== null && Object.values(value).every((it) => it === undefined));

/**
 * The object with these fields changed. What is undefined, an empty text, or a list or an object with nothing in it leaves no
 * trace; but a field that is needed stays as it is typed, and is told as a fault.
 */
export function withFields<T extends object>(object: T, part: Partial<T>, needed: readonly (keyof T)[] = []): T {
  const next = { ...object, ...part };
  for (const field in part) if (isNothing(next[field]) && !needed.includes(field)) delete next[field];
  return next;
}

/** The edits of one list: where it stands in its source, and how a source with another list is made. */
export function listIn<S, I>(of: (source: S) => readonly I[], put: (source: S, list: I[]) => S) {
  const edit = (source: S, make: (list: readonly I[]) => I[]): S => put(source, make(of(source)));
  return {
    of,
    add: (source: S, item: I, at = of(source).length): S => edit(source, (list) => list.toSpliced(at, 0, item)),
    remove: (source: S, at: number): S => edit(source, (list) => list.filter((_, i) => i !== at)),
    change: (source: S, at: number, make: (before: I) => I): S => edit(source, (list) => list.map((it, i) => (i === at ? make(it) : it))),
    /** Takes an item out and puts it before the place `to`, counted without it. */
    move: (source: S, from: number, to: number): S =>
      edit(source, (list) => list.filter((_, i) => i !== from).toSpliced(to, 0, ...list.slice(from, from + 1))),
    /** Puts a copy behind an item. */
    duplicate: (source: S, at: number, copy: (item: I) => I): S =>
      edit(source, (list) => list.flatMap((it, i) => (i === at ? [it, copy(it)] : [it]))),
  };
}

/** The edits of a list whose items have fields. */
export function recordsIn<S, I extends object>(
  of: (source: S) => readonly I[],
  put: (source: S, list: I[]) => S,
  needed: readonly (keyof I)[],
) {
  const list = listIn(of, put);
  return {
    ...list,
    set: (source: S, at: number, part: Partial<I>): S => list.change(source, at, (before) => withFields(before, part, needed)),
  };
}
