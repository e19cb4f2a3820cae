import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type KeyOrder, type KeyOrderName, type KeyOrderSpec, keyOrder, orderList } from '../../core/exercise/key-order.js';
import { KEY_ORDERS } from '../../core/exercise/key-order-catalogue.js';

function order(spec: KeyOrderSpec): KeyOrder {
  const read = keyOrder(spec);
  if (!read.ok) throw new Error(read.issues.map((i) => i.message).join(' '));
  return read.value;
}
const plain = (name: string): string => name.replaceAll('♭', 'b').replaceAll('♯', '#');
const list = (spec: KeyOrderSpec, first = 0): string => orderList(order(spec), first).map(plain).join(' ');
const chromas = (spec: KeyOrderSpec): readonly number[] => order(spec).keys.map((k) => k.chroma);

describe('from C', () => {
  // Common practice; major-third sets in the order C, G, D, A as chrisjuergensen.com prints them (multiple tonal centers).
  test.each<[KeyOrderSpec, string, number]>([
    [{ name: 'fourths' }, 'C F Bb Eb Ab Db Gb B E A D G', 12],
    [{ name: 'fifths' }, 'C G D A E B F# Db Ab Eb Bb F', 12],
    [{ name: 'chromatic-up' }, 'C Db D Eb E F Gb G Ab A Bb B', 12],
    [{ name: 'chromatic-down' }, 'C B Bb A Ab G Gb F E Eb D Db', 12],
    [{ name: 'whole-tones' }, 'C D E Gb Ab Bb Db Eb F G A B', 6],
    [{ name: 'whole-tones', down: true }, 'C Bb Ab Gb E D Db B A G F Eb', 6],
    [{ name: 'minor-thirds' }, 'C Eb Gb A Db E G Bb D F Ab B', 4],
    [{ name: 'minor-thirds', down: true }, 'C A Gb Eb Db Bb G E D B Ab F', 4],
    [{ name: 'minor-thirds', sets: [0, 2, 1] }, 'C Eb Gb A D F Ab B Db E G Bb', 4],
    [{ name: 'major-thirds' }, 'C E Ab Db F A D Gb Bb Eb G B', 3],
    [{ name: 'major-thirds', down: true }, 'C Ab E Db A F D Bb Gb Eb B G', 3],
    [{ name: 'major-thirds', sets: [0, 7, 2, 9] }, 'C E Ab G B Eb D Gb Bb A Db F', 3],
    [{ name: 'tritones' }, 'C Gb Db G D Ab Eb A E Bb F B', 2],
    [{ name: 'semitone-pairs' }, 'C Db D Eb E F Gb G Ab A Bb B', 2],
    [{ name: 'semitone-pairs', down: true }, 'C B D Db E Eb Gb F Ab G Bb A', 2],
    [{ name: 'signatures' }, 'C G F D Bb A Eb E Ab B Db Gb', 12],
    [{ name: 'wedge' }, 'C Db B D Bb Eb A E Ab F G Gb', 12],
    [{ name: 'relative-pairs' }, 'C Am F Dm Bb Gm Eb Cm Ab Fm Db Bbm Gb Ebm B G#m E C#m A F#m D Bm G Em', 2],
    [{ name: 'parallel-pairs' }, 'C Cm F Fm Bb Bbm Eb Ebm Ab G#m Db C#m Gb F#m B Bm E Em A Am D Dm G Gm', 2],
  ])('%j: %s', (spec, expected, setSize) => {
    expect(list(spec)).toBe(expected);
    expect(order(spec).setSize).toBe(setSize);
  });
});

// The audition order of band rooms begins at concert G (docest.com/doc/195427); Db-start half-step pairs are the textbook form.
test.each<[KeyOrderSpec, number, string]>([
  [{ name: 'fourths' }, 7, 'G C F Bb Eb Ab Db Gb B E A D'],
  [{ name: 'fourths' }, 10, 'Bb Eb Ab Db Gb B E A D G C F'],
  [{ name: 'semitone-pairs', down: true }, 1, 'Db C Eb D F E G Gb A Ab B Bb'],
])('%j from %d: %s', (spec, first, expected) => expect(list(spec, first)).toBe(expected));

describe('arithmetic', () => {
  const SINGLE: readonly KeyOrderName[] = KEY_ORDERS.map((o) => o.name).filter((name) => name !== 'custom');
  test.each(SINGLE)('%s reaches each key once', (name) => {
    const { keys } = order({ name, ...(name === 'shuffle' ? { seed: 7 } : {}) });
    const pairs = name === 'relative-pairs' || name === 'parallel-pairs';
    expect(new Set(keys.map((k) => `${k.chroma} ${k.mode}`)).size).toBe(pairs ? 24 : 12);
    expect(keys).toHaveLength(pairs ? 24 : 12);
    expect(keys[0]).toEqual({ chroma: 0, mode: 'major' });
    expect(keys.every((k) => k.chroma >= 0 && k.chroma < 12 && !Object.is(k.chroma, -0))).toBe(true);
  });
  test.each(SINGLE)('%s has the sets of its catalogue entry', (name) => {
    const entry = KEY_ORDERS.find((o) => o.name === name);
    const { keys, setSize } = order({ name, ...(name === 'shuffle' ? { seed: 7 } : {}) });
    expect([keys.length / setSize, setSize]).toEqual([entry?.sets, entry?.size]);
  });
  test('fifths are fourths backwards', () => {
    const fourths = chromas({ name: 'fourths' });
    expect(chromas({ name: 'fifths' })).toEqual([fourths[0], ...fourths.slice(1).reverse()]);
  });
  test('the wedge widens by a half step each time, in turn', () => {
    const steps = chromas({ name: 'wedge' }).map((c, i, all) => (i === 0 ? 0 : (c - (all[i - 1] as number) + 12) % 12));
    expect(steps.slice(1, 6)).toEqual([1, 12 - 2, 3, 12 - 4, 5]);
  });
  test('relative minors share their signature, parallel ones their tonic', () => {
    const relative = order({ name: 'relative-pairs' }).keys;
    const parallel = order({ name: 'parallel-pairs' }).keys;
    for (let i = 0; i < 24; i += 2) {
      expect(relative[i + 1]).toEqual({ chroma: ((relative[i]?.chroma ?? 0) + 9) % 12, mode: 'minor' });
      expect(parallel[i + 1]).toEqual({ chroma: parallel[i]?.chroma, mode: 'minor' });
    }
  });
});

describe('own order', () => {
  test('is relative to its first key', () => {
    const spec: KeyOrderSpec = { name: 'custom', keys: ['Bb', 'Gm', ' E♭ ', 'f#m', 'C#'] };
    expect(order(spec).keys).toEqual([
      { chroma: 0, mode: 'major' },
      { chroma: 9, mode: 'minor' },
      { chroma: 5, mode: 'major' },
      { chroma: 8, mode: 'minor' },
      { chroma: 3, mode: 'major' },
    ]);
    expect(list(spec, 10)).toBe('Bb Gm Eb F#m Db');
    expect(order(spec).setSize).toBe(5);
  });
  test('may mix major and minor on one tonic, and may hold one key', () => {
    expect(order({ name: 'custom', keys: ['C', 'Cm'] }).keys).toHaveLength(2);
    expect(order({ name: 'custom', keys: ['Am'] }).keys).toEqual([{ chroma: 0, mode: 'minor' }]);
  });
});

describe('shuffle', () => {
  test('the same seed gives the same order, begun on the first key', () =>
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 0xffffffff }), (seed) => {
        const keys = chromas({ name: 'shuffle', seed });
        expect(keys).toEqual(chromas({ name: 'shuffle', seed }));
        expect(keys[0]).toBe(0);
        expect([...keys].sort((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
      }),
    ));
  // Printed books rest on this order: it must never change.
  test('seed 1', () => expect(list({ name: 'shuffle', seed: 1 })).toBe('C Bb A Gb Eb E D B Ab F Db G'));
  test('seeds differ', () => {
    const orders = Array.from({ length: 50 }, (_, seed) => list({ name: 'shuffle', seed }));
    expect(new Set(orders).size).toBe(50);
  });
  test('every key comes second about equally often', () => {
    const counts = new Map<number, number>();
    for (let seed = 0; seed < 2200; seed++) {
      const second = chromas({ name: 'shuffle', seed })[1] as number;
      counts.set(second, (counts.get(second) ?? 0) + 1);
    }
    // 200 expected for each of eleven; six standard deviations are 81.
    expect(counts.size).toBe(11);
    for (const count of counts.values()) expect(Math.abs(count - 200)).toBeLessThan(81);
  });
  test('a stored sequence wins over the seed and is taken relative to its first', () => {
    const sequence = [3, 0, 1, 2, 11, 10, 9, 8, 7, 6, 5, 4];
    expect(chromas({ name: 'shuffle', sequence, seed: 5 })).toEqual([0, 9, 10, 11, 8, 7, 6, 5, 4, 3, 2, 1]);
  });
});

describe('what is wrong', () => {
  test.each<[KeyOrderSpec, string, readonly (string | number)[]]>([
    [{ name: 'custom' }, 'order-keys-missing', ['keys']],
    [{ name: 'custom', keys: [] }, 'order-keys-missing', ['keys']],
    [{ name: 'custom', keys: ['C', 'H'] }, 'order-key-unknown', ['keys', 1]],
    [{ name: 'custom', keys: ['C', 'A minor'] }, 'order-key-unknown', ['keys', 1]],
    [{ name: 'custom', keys: ['m'] }, 'order-key-unknown', ['keys', 0]],
    [{ name: 'custom', keys: ['C#', 'F', 'Db'] }, 'order-key-twice', ['keys', 2]],
    [{ name: 'shuffle' }, 'order-seed-missing', ['seed']],
    [{ name: 'shuffle', seed: 1.5 }, 'order-seed', ['seed']],
    [{ name: 'shuffle', seed: -1 }, 'order-seed', ['seed']],
    [{ name: 'shuffle', sequence: [0, 1, 2] }, 'order-sequence', ['sequence']],
    [{ name: 'shuffle', sequence: [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 10] }, 'order-sequence', ['sequence']],
    [{ name: 'minor-thirds', sets: [0, 3, 1] }, 'order-sets', ['sets']],
    [{ name: 'minor-thirds', sets: [0, 1] }, 'order-sets', ['sets']],
    [{ name: 'minor-thirds', sets: [1, 0, 2] }, 'order-sets', ['sets']],
    [{ name: 'whole-tones', sets: [] }, 'order-sets', ['sets']],
    [{ name: 'tritones', sets: [0, 0.5, 1, 2, 3, 4] }, 'order-sets', ['sets']],
    [{ name: 'fourths', down: true }, 'order-down-unused', ['down']],
    [{ name: 'fourths', sets: [0] }, 'order-sets-unused', ['sets']],
    [{ name: 'fourths', keys: ['C'] }, 'order-keys-unused', ['keys']],
    [{ name: 'custom', keys: ['C'], seed: 1 }, 'order-seed-unused', ['seed']],
    [{ name: 'fifths', sequence: [0] }, 'order-sequence-unused', ['sequence']],
  ])('%j: %s', (spec, code, path) => {
    const read = keyOrder(spec);
    expect(read.ok).toBe(false);
    expect(read.issues.map((i) => i.code)).toEqual([code]);
    expect(read.issues[0]?.path).toEqual(path);
    expect(read.issues[0]?.message).toMatch(/^.+: .+\.$|must .+\.$/);
  });
  test('`down: false` is no mistake', () => expect(keyOrder({ name: 'fourths', down: false }).ok).toBe(true));
});

test('the catalogue names every order once', () => {
  expect(new Set(KEY_ORDERS.map((o) => o.name)).size).toBe(15);
  expect(new Set(KEY_ORDERS.map((o) => o.title)).size).toBe(15);
});
