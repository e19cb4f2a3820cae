/** A book file as text: two spaces of indent, and what fits on a line stays on one line. Same book, same bytes. */
import type { BookSource } from './schema.js';

const WIDTH = 110;

/** The value on one line, with a space after commas, colons and inside braces. */
function flat(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(flat).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    const members = present(value).map(([name, item]) => `${JSON.stringify(name)}: ${flat(item)}`);
    return members.length === 0 ? '{}' : `{ ${members.join(', ')} }`;
  }
  return JSON.stringify(value);
}

const present = (value: object): [string, unknown][] => Object.entries(value).filter(([, item]) => item !== undefined);

/** `used`: characters that stand on the first line before and after the value. */
function pretty(value: unknown, indent: string, used: number): string {
  const short = flat(value);
  const list = Array.isArray(value);
  if (typeof value !== 'object' || value === null || short === '{}' || short === '[]') return short;
  // Lists of prose lines stand one below the other, however short they are.
  const lines = list && value.length > 1 && value.every((item) => typeof item === 'string' && (item === '' || item.includes(' ')));
  if (!lines && indent.length + used + short.length <= WIDTH) return short;
  const inner = `${indent}  `;
  const members = list
    ? value.map((item) => pretty(item, inner, 1))
    : present(value).map(([name, item]) => `${JSON.stringify(name)}: ${pretty(item, inner, name.length + 5)}`);
  const [open, close] = list ? '[]' : '{}';
  return `${open}\n${members.map((member) => inner + member).join(',\n')}\n${indent}${close}`;
}

/** The text of any file of this program: a roster, an ensemble. */
export const writeJson = (value: object): string => `${pretty(value, '', 0)}\n`;

/** The text of a book file. Fields stand in the order they have in the source; fields that are undefined are left out. */
export function writeBook(source: BookSource): string {
  return writeJson(source);
}
