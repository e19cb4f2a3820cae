/** Key orders: the order in which an exercise visits the keys. */
import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import type { ConcertKey } from '../theory/key.js';
import { keysAtChroma, keyText, type Mode } from '../theory/key.js';
import { chroma, parseClass } from '../theory/pitch.js';

/** Every key order that a book may name. */
export const KEY_ORDER_NAMES = [
  'fourths',
  'fifths',
  'chromatic-up',
  'chromatic-down',
  'whole-tones',
  'minor-thirds',
  'major-thirds',
  'tritones',
  'semitone-pairs',
  'signatures',
  'relative-pairs',
  'parallel-pairs',
  'wedge',
  'custom',
  'shuffle',
] as const;
export type KeyOrderName = (typeof KEY_ORDER_NAMES)[number];

export type KeyOrder = {
  readonly name: KeyOrderName;
  /** Keys in order, each as semitones above the first key of the route, with its mode. `custom` and `shuffle` too. */
  readonly keys: readonly ConcertKey[];
  /** How many keys a set holds (12 when the order is one circle). */
  readonly setSize: number;
};

export type KeyOrderSpec = {
  readonly name: KeyOrderName;
  /** For `custom`: note names, with `m` behind them for minor keys: `['C', 'Am', 'F#']`. */
  readonly keys?: readonly string[];
  /** For `shuffle`: the stored order, each of 0 to 11 once. It wins over the seed. */
  readonly sequence?: readonly number[];
  /** For `shuffle`: whole number from 0 to 4294967295. The same seed gives the same order in every printing. */
  readonly seed?: number;
  /** For orders in sets: semitones from the first set to each set, beginning with 0. Default: see `SETS`. */
  readonly sets?: readonly number[];
  /** For whole-tones, minor-thirds, major-thirds and semitone-pairs: step down within each set. */
  readonly down?: boolean;
};

const wrap = (semitones: number): number => ((semitones % 12) + 12) % 12;
const range = (count: number): readonly number[] => Array.from({ length: count }, (_, i) => i);

/** Orders of one circle: the keys by their place. */
const CIRCLES: Partial<Record<KeyOrderName, (place: number) => number>> = {
  fourths: (i) => 5 * i,
  fifths: (i) => 7 * i,
  'chromatic-up': (i) => i,
  'chromatic-down': (i) => -i,
  // One sharp, one flat, two sharps, two flats …
  signatures: (i) => 7 * Math.ceil(i / 2) * (i % 2 === 1 ? 1 : -1),
  wedge: (i) => Math.ceil(i / 2) * (i % 2 === 1 ? 1 : -1),
};

/** Orders in sets: step within a set, size of a set, and from one set to the next (successive semitones by default). */
const SETS: Partial<Record<KeyOrderName, { step: number; size: number; shift: number }>> = {
  'whole-tones': { step: 2, size: 6, shift: 1 },
  'minor-thirds': { step: 3, size: 4, shift: 1 },
  'major-thirds': { step: 4, size: 3, shift: 1 },
  tritones: { step: 6, size: 2, shift: 1 },
  'semitone-pairs': { step: 1, size: 2, shift: 2 },
};

/** Major key, minor key, then a fourth on: the minor tonic lies so many semitones above the major one. */
const PAIRS: Partial<Record<KeyOrderName, number>> = { 'relative-pairs': -3, 'parallel-pairs': 0 };

const TWO_WAY: readonly KeyOrderName[] = ['whole-tones', 'minor-thirds', 'major-thirds', 'semitone-pairs'];

const majors = (chromas: readonly number[]): readonly ConcertKey[] => chromas.map((c) => ({ chroma: wrap(c), mode: 'major' }));

/** Fields that the named order does not use. */
function unusedFields(spec: KeyOrderSpec): readonly Issue[] {
  const issues: Issue[] = [];
  const refuse = (field: keyof KeyOrderSpec, users: string): void => {
    if (spec[field] === undefined || spec[field] === false) return;
    issues.push(error(`order-${field}-unused`, [field], `The order \`${spec.name}\` has no \`${field}\`: take it out, or use ${users}.`));
  };
  if (spec.name !== 'custom') refuse('keys', 'the order `custom`');
  if (spec.name !== 'shuffle') refuse('sequence', 'the order `shuffle`');
  if (spec.name !== 'shuffle') refuse('seed', 'the order `shuffle`');
  if (!SETS[spec.name]) refuse('sets', `one of the orders in sets: ${Object.keys(SETS).join(', ')}`);
  if (!TWO_WAY.includes(spec.name)) refuse('down', `one of the orders ${TWO_WAY.join(', ')} (or \`fifths\`, \`chromatic-down\`)`);
  return issues;
}

/** Reads `Bb` or `F#m`; undefined if it is neither. */
function parseKey(text: string): ConcertKey | undefined {
  const [, tonic = '', minor] = /^\s*(.*?)(m?)\s*$/.exec(text) ?? [];
  const found = parseClass(tonic);
  return found && { chroma: chroma(found), mode: minor === 'm' ? 'minor' : 'major' };
}

function customOrder(names: readonly string[]): Result<KeyOrder> {
  if (names.length === 0)
    return bad(error('order-keys-missing', ['keys'], 'The order `custom` needs its keys: list note names such as `C`, `Am`, `F#`.'));
  const issues: Issue[] = [];
  const keys: ConcertKey[] = [];
  names.forEach((name, i) => {
    const key = parseKey(name);
    if (!key) {
      issues.push(
        error(
          'order-key-unknown',
          ['keys', i],
          `\`${name}\` is not a key: write a note name such as \`Bb\`, with \`m\` behind it for minor.`,
        ),
      );
    } else if (keys.some((k) => k.chroma === key.chroma && k.mode === key.mode)) {
      issues.push(error('order-key-twice', ['keys', i], `The key \`${name}\` is in the list already: take it out, each key comes once.`));
    } else {
      keys.push(key);
    }
  });
  const first = keys[0];
  if (issues.length > 0 || !first) return bad(...issues);
  return good({ name: 'custom', keys: keys.map((k) => ({ chroma: wrap(k.chroma - first.chroma), mode: k.mode })), setSize: keys.length });
}

/** Numbers in [0, 1) from a 32-bit seed: the mulberry32 generator (T. Ettinger, public domain). */
function randomNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** The eleven other keys behind the first, shuffled (Fisher and Yates). */
function shuffled(seed: number): readonly number[] {
  const random = randomNumbers(seed);
  const rest = range(12).slice(1);
  for (let i = rest.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [rest[i], rest[j]] = [rest[j] as number, rest[i] as number];
  }
  return [0, ...rest];
}

const isPermutation = (list: readonly number[]): boolean => list.length === 12 && range(12).every((n) => list.includes(n));

function shuffleOrder({ sequence, seed }: KeyOrderSpec): Result<KeyOrder> {
  if (sequence) {
    if (!isPermutation(sequence)) {
      return bad(error('order-sequence', ['sequence'], 'The stored order must hold each of the numbers 0 to 11 once: correct the list.'));
    }
    const first = sequence[0] as number;
    return good({ name: 'shuffle', keys: majors(sequence.map((n) => n - first)), setSize: 12 });
  }
  if (seed === undefined) {
    return bad(
      error(
        'order-seed-missing',
        ['seed'],
        'The order `shuffle` needs a seed or a stored sequence, so that all printings agree: give a seed such as 1.',
      ),
    );
  }
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff) {
    return bad(error('order-seed', ['seed'], `The seed must be a whole number from 0 to ${0xffffffff}.`));
  }
  return good({ name: 'shuffle', keys: majors(shuffled(seed)), setSize: 12 });
}

function setOrder(spec: KeyOrderSpec, { step, size, shift }: { step: number; size: number; shift: number }): Result<KeyOrder> {
  const count = 12 / size;
  const offsets = spec.sets ?? range(count).map((i) => i * shift);
  const keys = majors(offsets.flatMap((offset) => range(size).map((i) => offset + i * (spec.down ? -step : step))));
  if (offsets[0] !== 0 || !isPermutation(keys.map((k) => k.chroma))) {
    const example = range(count).map((i) => i * shift);
    return bad(
      error(
        'order-sets',
        ['sets'],
        `The order \`${spec.name}\` needs ${count} set offsets in semitones, 0 first, that reach each key once: for example ${example.join(', ')}.`,
      ),
    );
  }
  return good({ name: spec.name, keys, setSize: size });
}

/**
 * The keys of an order, relative to the first one. Steps are those of common practice: circle of fourths +5, fifths
 * +7, and so on; orders that do not reach all keys are laid out in sets. Issues, codes `order-…`, for missing, wrong
 * or unused fields.
 */
export function keyOrder(spec: KeyOrderSpec): Result<KeyOrder> {
  const unused = unusedFields(spec);
  if (unused.length > 0) return bad(...unused);
  if (spec.name === 'custom') return customOrder(spec.keys ?? []);
  if (spec.name === 'shuffle') return shuffleOrder(spec);
  const sets = SETS[spec.name];
  if (sets) return setOrder(spec, sets);
  const minorAbove = PAIRS[spec.name];
  if (minorAbove !== undefined) {
    const keys = range(12).flatMap((i): ConcertKey[] => [
      { chroma: wrap(5 * i), mode: 'major' },
      { chroma: wrap(5 * i + minorAbove), mode: 'minor' },
    ]);
    return good({ name: spec.name, keys, setSize: 2 });
  }
  const circle = CIRCLES[spec.name] as (place: number) => number;
  return good({ name: spec.name, keys: majors(range(12).map(circle)), setSize: 12 });
}

/** Name of a key to show: fewest signs; F sharp against G flat by the side the order comes from. */
function shownName(at: number, mode: Mode, order: KeyOrderName): string {
  const keys = keysAtChroma(at, mode);
  const [first, second] = keys;
  const tied = wrap(at) === (mode === 'major' ? 6 : 3);
  return keyText((tied && order === 'fifths' ? second : first) as (typeof keys)[number]);
}

/**
 * The names of the keys in order when it begins at this chroma: `B♭`, `E♭`, `Am`. The key with six signs is written
 * with flats, going by fifths with sharps (common practice).
 */
export function orderList(order: KeyOrder, firstChroma: number): readonly string[] {
  return order.keys.map((key) => shownName(wrap(firstChroma + key.chroma), key.mode, order.name));
}
