/** Values of JSON as a person changes them: most of what comes is what was there before. */

type Fields = { readonly [field: string]: unknown };

const isObject = (value: unknown): value is Fields => typeof value === 'object' && value !== null;

/**
 * `after` with every part that equals its part in `before` replaced by that very object; `before` itself when all is the
 * same. Lists are matched place by place from both ends, so that one item more or less leaves the others what they are.
 * The order of fields is part of a value: it stands in the file that is written.
 */
export function shareStructure(before: unknown, after: unknown): unknown {
  if (before === after || !isObject(before) || !isObject(after)) return after;
  if (Array.isArray(before) && Array.isArray(after)) return sameItems(before, after);
  if (Array.isArray(before) || Array.isArray(after)) return after;
  const names = Object.keys(after);
  const old = Object.keys(before);
  let equal = names.length === old.length;
  const entries = names.map((name, i): [string, unknown] => {
    const part = Object.hasOwn(before, name) ? shareStructure(before[name], after[name]) : after[name];
    equal &&= name === old[i] && part === before[name];
    return [name, part];
  });
  return equal ? before : Object.fromEntries(entries);
}

function sameItems(before: readonly unknown[], after: readonly unknown[]): readonly unknown[] {
  const items = [...after];
  const shift = before.length - after.length;
  const least = Math.min(before.length, after.length);
  let head = 0;
  for (; head < least; head++) {
    items[head] = shareStructure(before[head], after[head]);
    if (shift !== 0 && items[head] !== before[head]) break;
  }
  if (shift === 0) return items.every((item, i) => item === before[i]) ? before : items;
  for (let i = after.length - 1; i >= head && i + shift >= 0; i--) items[i] = shareStructure(before[i + shift], after[i]);
  return items;
}
