/** Numbers as the painters write them: short, without exponents, the same on every machine. */

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
