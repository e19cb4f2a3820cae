/** Exact time. The unit everywhere is the whole note: a quarter is 1/4, an eighth of a triplet 1/12. */

export type Fraction = { readonly n: number; readonly d: number };

function gcd(a: number, b: number): number {
  let x = Math.abs(a);
  let y = Math.abs(b);
  while (y) [x, y] = [y, x % y];
  return x || 1;
}

const fractions = new Map<number, Fraction>();
/** Numerators and denominators of everyday music: longer than a thousand whole notes is rare, finer than 1/192 too. */
const COMMON = { n: 2048, d: 192 } as const;

/** The one value for a common fraction: a book has many notes and few lengths. */
function shared(n: number, d: number): Fraction {
  if (n < 0 || n >= COMMON.n || d > COMMON.d) return { n, d };
  const id = n * 256 + d;
  let found = fractions.get(id);
  if (!found) {
    found = { n, d };
    fractions.set(id, found);
  }
  return found;
}

/** n/d in lowest terms with a positive denominator. Throws a RangeError on a zero denominator. */
export function frac(n: number, d = 1): Fraction {
  if (d === 0 || !Number.isSafeInteger(n) || !Number.isSafeInteger(d)) throw new RangeError(`not a fraction: ${n}/${d}`);
  const g = gcd(n, d) * (d < 0 ? -1 : 1);
  return shared(n / g || 0, d / g);
}

export const ZERO: Fraction = frac(0);

export const add = (a: Fraction, b: Fraction): Fraction => (a.d === b.d ? frac(a.n + b.n, a.d) : frac(a.n * b.d + b.n * a.d, a.d * b.d));
export const sub = (a: Fraction, b: Fraction): Fraction => (a.d === b.d ? frac(a.n - b.n, a.d) : frac(a.n * b.d - b.n * a.d, a.d * b.d));
export const mul = (a: Fraction, b: Fraction): Fraction => frac(a.n * b.n, a.d * b.d);
export const div = (a: Fraction, b: Fraction): Fraction => frac(a.n * b.d, a.d * b.n);
export const compare = (a: Fraction, b: Fraction): number => a.n * b.d - b.n * a.d;
export const equal = (a: Fraction, b: Fraction): boolean => a.n === b.n && a.d === b.d;
export const less = (a: Fraction, b: Fraction): boolean => compare(a, b) < 0;
export const min = (a: Fraction, b: Fraction): Fraction => (less(b, a) ? b : a);
export const max = (a: Fraction, b: Fraction): Fraction => (less(a, b) ? b : a);
export const toNumber = (a: Fraction): number => a.n / a.d;
export const text = (a: Fraction): string => (a.d === 1 ? `${a.n}` : `${a.n}/${a.d}`);

/** The remainder of a after whole multiples of b, in [0, b). */
export function mod(a: Fraction, b: Fraction): Fraction {
  const q = Math.floor((a.n * b.d) / (a.d * b.n));
  return sub(a, mul(b, frac(q)));
}

/** The smallest multiple of b that is not below a. */
export function roundUp(a: Fraction, b: Fraction): Fraction {
  const rest = mod(a, b);
  return rest.n === 0 ? a : add(a, sub(b, rest));
}

export function sum(all: readonly Fraction[]): Fraction {
  return all.reduce(add, ZERO);
}

/** Reads `3/8` or `1`; undefined if it is neither. */
export function parseFraction(source: string): Fraction | undefined {
  const match = /^\s*(\d{1,6})(?:\s*\/\s*([1-9]\d{0,5}))?\s*$/.exec(source);
  return match ? frac(Number(match[1]), match[2] ? Number(match[2]) : 1) : undefined;
}
