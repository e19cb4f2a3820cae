import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Directions, Ending, Turnaround } from '../../core/exercise/exercise.js';
import { type KeyOrder, type KeyOrderSpec, keyOrder, orderList } from '../../core/exercise/key-order.js';
import { keyId, planRoute, type Route, type RoutePlan } from '../../core/exercise/route.js';

function order(spec: KeyOrderSpec): KeyOrder {
  const read = keyOrder(spec);
  if (!read.ok) throw new Error(read.issues.map((i) => i.message).join(' '));
  return read.value;
}
const plan = (over: Partial<RoutePlan> = {}): RoutePlan => ({
  order: order({ name: 'fourths' }),
  directions: 'alternate-from-up',
  passes: 2,
  turnaround: 'repeat-last-key',
  ending: 'none',
  ...over,
});

/** `Bb+ Eb- …`: plus for up, minus for down, a bar between the passes. */
function shown(route: Route, keys: KeyOrder, first: number): string {
  const names = orderList(keys, first).map((n) => n.replaceAll('♭', 'b').replaceAll('♯', '#'));
  const words = route.statements.map(
    (s) => `${s.index === route.turnaround ? '| ' : ''}${names[s.keyIndex]}${s.direction === 'up' ? '+' : '-'}`,
  );
  return words.join(' ');
}

const B_FLAT = 10;
const FIRST = 'Bb+ Eb- Ab+ Db- Gb+ B- E+ A- D+ G- C+ F-';

// Common practice: circle of fourths from written B flat, up and down in turn, then the other way.
describe('fourths from B flat', () => {
  test.each<[Partial<RoutePlan>, string]>([
    [{}, `${FIRST} | F+ Bb- Eb+ Ab- Db+ Gb- B+ E- A+ D- G+ C-`],
    [{ turnaround: 'restart' }, `${FIRST} | Bb- Eb+ Ab- Db+ Gb- B+ E- A+ D- G+ C- F+`],
    [{ passes: 1 }, FIRST],
    [{ passes: 1, directions: 'alternate-from-down' }, 'Bb- Eb+ Ab- Db+ Gb- B+ E- A+ D- G+ C- F+'],
    [{ passes: 1, directions: 'down' }, 'Bb- Eb- Ab- Db- Gb- B- E- A- D- G- C- F-'],
    [{ directions: 'up' }, 'Bb+ Eb+ Ab+ Db+ Gb+ B+ E+ A+ D+ G+ C+ F+ | F- Bb- Eb- Ab- Db- Gb- B- E- A- D- G- C-'],
  ])('%j', (over, expected) => {
    const route = planRoute(plan(over), B_FLAT);
    expect(shown(route, plan().order, B_FLAT)).toBe(expected);
    expect(route.statements).toHaveLength(over.passes === 1 ? 12 : 24);
  });

  test('directions go by the place in what is left', () => {
    const route = planRoute(plan(), B_FLAT, new Set(['3major', '5major']));
    expect(shown(route, plan().order, B_FLAT)).toBe('Bb+ Ab- Db+ Gb- B+ E- A+ D- G+ C- | C+ Bb- Ab+ Db- Gb+ B- E+ A- D+ G-');
  });
});

describe('closing note', () => {
  test.each<[Ending, Turnaround, 1 | 2, number | undefined]>([
    ['none', 'restart', 2, undefined],
    ['back-to-first-root', 'restart', 2, 10],
    ['back-to-first-root', 'repeat-last-key', 2, 10],
    ['long-root', 'restart', 1, 5],
    ['long-root', 'restart', 2, 5],
    ['long-root', 'repeat-last-key', 2, 0],
  ])('%s, %s, %d passes: %s', (ending, turnaround, passes, chroma) => {
    expect(planRoute(plan({ ending, turnaround, passes }), B_FLAT).endingKey?.chroma).toBe(chroma);
  });
  test('goes by what is left of the keys', () => {
    const leftOut = new Set(['10major', '5major']);
    expect(planRoute(plan({ ending: 'back-to-first-root' }), B_FLAT, leftOut).endingKey).toEqual({ chroma: 3, mode: 'major' });
    expect(planRoute(plan({ ending: 'long-root', turnaround: 'restart' }), B_FLAT, leftOut).endingKey).toEqual({
      chroma: 0,
      mode: 'major',
    });
  });
});

test('leaving out a minor key keeps the major key on the same tonic', () => {
  const keys = order({ name: 'parallel-pairs' });
  const route = planRoute(plan({ order: keys, passes: 1 }), 0, new Set(['0minor']));
  expect(route.statements.slice(0, 2).map((s) => keyId(s.key))).toEqual(['0major', '5major']);
  expect(route.statements).toHaveLength(23);
});

test('sets are numbered through', () => {
  const route = planRoute(plan({ order: order({ name: 'major-thirds' }), passes: 1 }), 0);
  expect(route.statements.map((s) => s.set)).toEqual([0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3]);
});

test('with every key left out the route is empty', () => {
  const every = new Set(order({ name: 'fourths' }).keys.map(keyId));
  expect(planRoute(plan({ ending: 'long-root' }), 0, every)).toEqual({ statements: [], turnaround: undefined, endingKey: undefined });
});

const SPECS: readonly KeyOrderSpec[] = [
  { name: 'fourths' },
  { name: 'fifths' },
  { name: 'chromatic-up' },
  { name: 'chromatic-down' },
  { name: 'whole-tones' },
  { name: 'whole-tones', down: true },
  { name: 'minor-thirds' },
  { name: 'minor-thirds', down: true, sets: [0, 2, 1] },
  { name: 'major-thirds' },
  { name: 'major-thirds', sets: [0, 7, 2, 9] },
  { name: 'tritones' },
  { name: 'semitone-pairs' },
  { name: 'semitone-pairs', down: true },
  { name: 'signatures' },
  { name: 'relative-pairs' },
  { name: 'parallel-pairs' },
  { name: 'wedge' },
  { name: 'custom', keys: ['C', 'Am', 'F', 'Bb', 'Gm'] },
  { name: 'custom', keys: ['D'] },
  { name: 'shuffle', seed: 99 },
];

describe.each(SPECS.map((spec) => [JSON.stringify(spec), order(spec)] as const))('every route through %s', (_, keys) => {
  const plans = fc.record({
    order: fc.constant(keys),
    directions: fc.constantFrom<Directions>('up', 'down', 'alternate-from-up', 'alternate-from-down'),
    passes: fc.constantFrom<1 | 2>(1, 2),
    turnaround: fc.constantFrom<Turnaround>('restart', 'repeat-last-key'),
    ending: fc.constantFrom<Ending>('none', 'long-root', 'back-to-first-root'),
  });
  const first = fc.integer({ min: 0, max: 11 });
  const without = (firstChroma: number, places: readonly number[]): ReadonlySet<string> =>
    new Set(
      planRoute(plan({ order: keys, passes: 1 }), firstChroma)
        .statements.filter((s) => places.includes(s.keyIndex))
        .map((s) => keyId(s.key)),
    );
  const places = fc.subarray(keys.keys.map((_, i) => i));

  test('plays each key that is kept once in each direction, and no other', () =>
    fc.assert(
      fc.property(plans, first, places, (p, firstChroma, out) => {
        const route = planRoute({ ...p, passes: 2 }, firstChroma, without(firstChroma, out));
        const played = route.statements.map((s) => `${keyId(s.key)} ${s.direction}`);
        const kept = keys.keys
          .filter((_, i) => !out.includes(i))
          .map((k) => keyId({ chroma: (k.chroma + firstChroma) % 12, mode: k.mode }));
        expect([...played].sort()).toEqual(kept.flatMap((k) => [`${k} down`, `${k} up`]).sort());
      }),
    ));

  test('numbers its statements, passes, keys and sets', () =>
    fc.assert(
      fc.property(plans, first, places, (p, firstChroma, out) => {
        const route = planRoute(p, firstChroma, without(firstChroma, out));
        const count = keys.keys.length - out.length;
        expect(route.statements).toHaveLength(count * p.passes);
        expect(route.turnaround).toBe(p.passes === 2 && count > 0 ? count : undefined);
        route.statements.forEach((s, i) => {
          expect(s.index).toBe(i);
          expect(s.pass).toBe(i < count ? 1 : 2);
          expect(s.set).toBe(Math.floor(s.keyIndex / keys.setSize));
          expect(s.key.chroma).toBe(((keys.keys[s.keyIndex]?.chroma ?? -1) + firstChroma) % 12);
        });
        const ends = p.ending !== 'none' && count > 0;
        expect(route.endingKey !== undefined).toBe(ends);
      }),
    ));

  test('the second pass goes round in the same order', () =>
    fc.assert(
      fc.property(plans, first, places, (p, firstChroma, out) => {
        const route = planRoute({ ...p, passes: 2 }, firstChroma, without(firstChroma, out));
        const half = route.turnaround ?? 0;
        const one = route.statements.slice(0, half).map((s) => s.keyIndex);
        const two = route.statements.slice(half).map((s) => s.keyIndex);
        expect(two).toEqual(p.turnaround === 'restart' ? one : [...one.slice(-1), ...one.slice(0, -1)]);
        expect(one).toEqual([...one].sort((a, b) => a - b));
      }),
    ));
});
