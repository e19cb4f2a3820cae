/** Weights and tables of breathing, written out: places, extras, flows, shares (house choices, or from the papers named). */
import { describe, expect, it, test } from 'vitest';
import { breathCandidates, EXTRA_COST, PLACE_COST } from '../../core/breath/candidates.js';
import { breathesOutFirst, flowFactor } from '../../core/breath/flow.js';
import { CLASS_CAPACITY, LONG_TONE_SHARE, LONGEST, lungTime, SHARE } from '../../core/breath/lung-time.js';
import { CATCH_BREATH, FULL_BREATH, refilled, stillMissing, stolenFrom } from '../../core/breath/reservoir.js';
import { AGES, HEIGHTS } from '../../core/breath/vital-capacity.js';
import { INSTRUMENTS } from '../../core/player/catalogue.js';
import { codes, value } from '../player/fixture.js';
import { instrument, lineOf } from './lines.js';

test('places', () => {
  expect(PLACE_COST).toEqual({
    turnaround: 0,
    'end-of-set': 1,
    'end-of-key': 2,
    'after-long-note': 4,
    'before-leap': 5,
    'inside-key': 8,
    'inside-beam': 16,
    'inside-slur': 20,
  });
  expect(EXTRA_COST).toEqual({ beforeStep: 1, leadingNote: 4, beforeLastNote: 4 });
});

describe('the cost of each place of a line', () => {
  const costs = (text: string, words: Parameters<typeof lineOf>[1] = {}): number[] =>
    breathCandidates(lineOf(text, words)).map(({ cost }) => cost);
  it.each([
    // inside 8, a step 1 more, before the last note 4 more; before a leap 5
    ['C4 E4 G4 C5', [8, 8, 9]],
    ['C4 D4 F4 A4', [9, 8, 12]],
    // the end of a key 2
    ['C4 E4 | A4 C5', [12, 2, 12]],
    // a leading note: 8 + 1 + 4
    ['C5 B4 C5 E5', [9, 13, 12]],
    // a whole step to the tonic, and a half step to another note
    ['C5 Bb4 C5 E5', [9, 9, 12]],
    ['C5 E5 F5 A5', [8, 9, 12]],
    // the half step down to the tonic is no leading note
    ['C5 Db5 C5 E5', [9, 9, 12]],
  ])('%s', (text, expected) => expect(costs(text)).toEqual(expected));
  it('a leap is a fourth or more: five semitones, not four', () => {
    const reasons = (text: string): string[] => breathCandidates(lineOf(text)).map(({ reason }) => reason);
    expect(reasons('C4 F4 E4 D4')[0]).toBe('before-leap');
    expect(reasons('C4 E4 E4 D4')[0]).toBe('inside-key');
  });
  it('a long note is half as long again as the usual one, not less', () => {
    const reasons = (text: string): string[] => breathCandidates(lineOf(text)).map(({ reason }) => reason);
    expect(reasons('C4:1/4. E4 G4 B4 D5')[0]).toBe('after-long-note');
    expect(reasons('C4:1/4 E4 G4 B4 D5')[0]).toBe('inside-key');
  });
  it('a step is a whole tone or less', () => {
    expect(costs('C4 D4 F4 A4')[0]).toBe(9);
    expect(costs('C4 Eb4 F4 A4')[0]).toBe(8);
    expect(costs('C4 C4 F4 A4')[0]).toBe(9);
  });
});

/** Litres a second: mean, low, high, and how far to trust them. Sources: core/player/instruments.ts (Bouhuys 1964; Fréour et al. 2010; Cossette et al. 2000). */
const FLOWS = `
piccolo 0.18 0.1 0.35 C, flute 0.28 0.15 0.5 B, alto-flute 0.32 0.17 0.55 C, oboe 0.1 0.05 0.2 B, english-horn 0.13 0.06 0.25 C
bassoon 0.2 0.08 0.45 C, clarinet-in-eb 0.16 0.07 0.32 C, clarinet-in-bb 0.18 0.08 0.35 C, clarinet-in-a 0.18 0.08 0.35 C
bass-clarinet 0.25 0.12 0.5 C, soprano-saxophone 0.18 0.08 0.35 C, alto-saxophone 0.25 0.1 0.5 C, tenor-saxophone 0.3 0.12 0.6 C
baritone-saxophone 0.4 0.15 0.8 C, horn-in-f 0.28 0.12 0.65 C, trumpet-in-bb 0.28 0.17 0.63 A, trumpet-in-c 0.28 0.17 0.63 A
cornet-in-bb 0.28 0.17 0.63 A, flugelhorn-in-bb 0.3 0.17 0.65 C, trombone 0.33 0.15 0.8 C, bass-trombone 0.45 0.2 1.2 C
euphonium-bass-clef 0.4 0.15 1 C, euphonium-treble-clef 0.4 0.15 1 C, tuba 0.5 0.12 2 A, soprano-recorder 0.11 0.06 0.22 C
alto-recorder 0.15 0.08 0.3 C, tenor-recorder 0.2 0.1 0.4 C, bass-recorder 0.25 0.1 0.4 C
`
  .trim()
  .split(/,\s*|\n/);

describe('flow', () => {
  it('of every blown instrument', () => {
    const found = INSTRUMENTS.flatMap(({ id, flow }) => (flow ? [`${id} ${flow.mean} ${flow.low} ${flow.high} ${flow.confidence}`] : []));
    expect(found).toEqual(FLOWS);
  });
  it('by dynamic', () => {
    const factors = (['pp', 'p', 'mp', 'mf', 'f', 'ff'] as const).map((dynamic) => flowFactor(instrument('flute'), dynamic));
    expect(factors).toEqual([0.55, 0.7, 0.85, 1, 1.4, 1.9]);
    expect(flowFactor(instrument('flute'))).toBe(1);
  });
  it('by register, on brass only', () => {
    const factors = (id: string): number[] =>
      (['low', 'middle', 'high'] as const).map((register) => flowFactor(instrument(id), 'mf', register));
    expect(factors('trumpet-in-bb')).toEqual([1.4, 1, 0.6]);
    expect(factors('clarinet-in-bb')).toEqual([1, 1, 1]);
    expect(flowFactor(instrument('tuba'), 'f', 'low')).toBeCloseTo(1.96, 9);
  });
  it('the oboes breathe out first, no others', () =>
    expect(INSTRUMENTS.filter(breathesOutFirst).map(({ id }) => id)).toEqual(['oboe', 'english-horn']));
});

test('shares and capacities (after Fuks & Sundberg 1999; round numbers)', () => {
  expect(SHARE).toEqual({ beginner: 0.4, default: 0.5, advanced: 0.6 });
  expect(LONG_TONE_SHARE).toBe(0.75);
  expect(CLASS_CAPACITY).toEqual({ adult: 4, teen: 3.2, child: 2 });
  expect(LONGEST).toEqual({ oboes: 20, others: 25 });
  expect([AGES, HEIGHTS]).toEqual([
    { from: 3, to: 95 },
    { from: 80, to: 220 },
  ]);
});

describe('the reservoir', () => {
  it('a musical breath leaves 1/e of what is missing after 0.7 s', () => {
    expect(stillMissing(0.7)).toBeCloseTo(0.367879, 6);
    expect(stillMissing(1.4)).toBeCloseTo(0.135335, 6);
    expect(refilled(2, 10, 0.7)).toBeCloseTo(7.056964, 6);
    expect([CATCH_BREATH, FULL_BREATH]).toEqual([0.4, 1]);
  });
  it.each([
    // note, longest, quick: half of a long note up to the longest; three quarters of a short one up to a quick breath
    [4, 1, 0.4, 1],
    [1.6, 1, 0.4, 0.8],
    [0.8, 1, 0.4, 0.4],
    [0.6, 1, 0.4, 0.4],
    [0.4, 1, 0.4, 0.3],
    [0.4, 0.2, 0.4, 0.2],
  ])('a note of %d s gives up, of %d s at most and %d s quickly: %d s', (note, longest, quick, expected) =>
    expect(stolenFrom(note, longest, quick)).toBeCloseTo(expected, 9),
  );
});

describe('limits of what is told, one inside and one outside', () => {
  const told = (breather: Parameters<typeof lungTime>[0]): string[] => codes(lungTime(breather, instrument('flute')));
  it.each([
    [{ lungTime: 2 }, ['confirm-lung-time']],
    [{ lungTime: 2.01 }, []],
    [{ lungTime: 59.9 }, []],
    [{ lungTime: 60 }, ['confirm-lung-time']],
    [{ lungTime: 90 }, ['confirm-lung-time']],
    [{ lungTime: 90.1 }, ['lung-time-too-long']],
    [{ lungTime: 0 }, ['lung-time-too-short']],
    [{ age: 3, height: 100 }, []],
    [{ age: 2.9, height: 100 }, ['age-out-of-range']],
    [{ age: 95, height: 170 }, []],
    [{ age: 95.1, height: 170 }, ['age-out-of-range']],
    [{ age: 10, height: 80 }, []],
    [{ age: 10, height: 79.9 }, ['height-out-of-range']],
    [{ age: 30, height: 220 }, []],
    [{ age: 30, height: 220.1 }, ['height-out-of-range']],
  ] as const)('%o: %j', (breather, expected) => expect(told(breather)).toEqual(expected));
  it('a child to 12, a teen from 13 to 17', () => {
    const seconds = (age: number): number => value(lungTime({ age }, instrument('trombone')))!.seconds * 0.33;
    expect([12, 13, 17, 18].map(seconds).map((litres) => Number(litres.toFixed(6)))).toEqual([1, 1.6, 1.6, 2]);
  });
  it('spreads: measured 1.15, estimated 1.8, by class 2', () => {
    const spread = (breather: Parameters<typeof lungTime>[0]): number => {
      const found = value(lungTime(breather, instrument('tuba')))!;
      return Number((found.high / found.seconds).toFixed(6));
    };
    expect(spread({ longTone: { seconds: 9 } })).toBe(1.15);
    expect(spread({ age: 30, height: 170 })).toBe(1.8);
    expect(spread({ lungClass: 'teen' })).toBe(2);
  });
  it('breaths of oboe players last 0.8 s, those of others any time', () => {
    expect(value(lungTime({}, instrument('oboe')))?.leastBreath).toBe(0.8);
    expect(value(lungTime({}, instrument('flute')))?.leastBreath).toBe(0);
  });
});
