/** Numbers as the painters write them: short, without exponents, the same on every machine. */
import { at } from '../base/list.js';

/**
 * A length with three decimals at most: a thousandth of a point is a third of a micrometre, finer than any printer.
 * Throws for a number that no page can hold (not finite, or 100 m away): a programmer's mistake.
 */
export function decimal(value: number): string {
  if (!(Math.abs(value) < 300_000)) throw new Error(`assumption broken: ${value} is a length on a page`);
  // The sum turns -0 into 0.
  return String(Math.round(value * 1000) / 1000 + 0);
}

/** A factor between font units and the page, with seven decimals at most: it is multiplied by a thousand units and more. */
export function factor(value: number): string {
  const text = value.toFixed(7);
  return text.replace(/\.?0+$/, '');
}

/** What stands behind the whole number, for each of so many parts of one: nothing, `.001`, ... `.5`, ... */
function fractions(parts: number): readonly string[] {
  return Array.from({ length: parts }, (_, count) => String(count / parts).slice(1));
}
const HUNDREDTHS = fractions(100);
const THOUSANDTHS = fractions(1000);

/**
 * So many hundredths as PDF likes them: `.5`, `-.25`, `12` (ISO 32000-1, 7.3.3). Counted in whole hundredths, so that
 * steps between rounded places add up without error. Throws as `decimal` does.
 */
export function hundredths(count: number): string {
  return written(count, HUNDREDTHS);
}

/** So many thousandths, written in the same way. */
export function thousandths(count: number): string {
  return written(count, THOUSANDTHS);
}

/** Put together from whole numbers: a page has some thousands of them, and floating point takes longer to write. */
function written(count: number, parts: readonly string[]): string {
  const size = Math.abs(count);
  const unit = parts.length;
  if (!(size < 300_000 * unit)) throw new Error(`assumption broken: ${count / unit} is a length on a page`);
  const whole = Math.floor(size / unit);
  const fraction = at(parts, size - whole * unit);
  const digits = whole === 0 && fraction !== '' ? fraction : `${whole}${fraction}`;
  return count < 0 ? `-${digits}` : digits;
}
