/** The parts of an ensemble are proved together: what is uneven in them, and that they stand in the same places. */
import { describe, expect, it } from 'vitest';
import type { BuiltPart } from '../../core/build/part.js';
import { ensembleBookOf } from '../../core/ensemble/ensemble-book.js';
import { finding } from '../../core/proof/fault.js';
import type { Bars } from '../../core/proof/least-uneven.js';
import { proveEnsemble } from '../../core/proof/proof.js';
import { evenness } from '../../core/proof/rules/evenness.js';
import { samePlaces } from '../../core/proof/rules/numbering.js';
import { band, demoBook } from '../ensemble/band.js';
import { builtParts } from '../ensemble/laid-out.js';
import { testFonts } from '../fonts.js';

const book = demoBook('small-wheels');
const fonts = testFonts();

const build = (chairs: string, more: object): readonly BuiltPart[] => builtParts(ensembleBookOf(book, band(book, chairs, more)));

const MORE = { level: 'beginner', misfit: 'hold-root', breathing: { plan: 'staggered', tempo: 92 } };

describe('the parts of an ensemble', () => {
  const parts = build('flute*3 clarinet-in-bb*2 alto-saxophone horn-in-f*2 trumpet-in-bb trombone tuba', MORE);
  const [first, ...others] = parts as readonly [BuiltPart, ...BuiltPart[]];

  it('have no fault', () => {
    const proofs = proveEnsemble(parts, book, fonts);
    expect(proofs.flatMap(({ faults }) => faults)).toEqual([]);
    for (const { checked } of proofs) expect([6, 19, 24].every((rule) => (checked[rule] ?? 0) >= first.lines.size)).toBe(true);
  });

  it('of some exercises keep the numbers of the book', () => {
    const some = build('flute tuba', { ...MORE, exercises: ['three-steps', 'last-wheel'] });
    expect(proveEnsemble(some, book, fonts).flatMap(({ faults }) => faults)).toEqual([]);
    const alone = some.map(({ part: _, ...edition }) => edition);
    expect(proveEnsemble(alone, book, fonts)[0]?.faults.map(({ what }) => what)).toContain(
      'The exercise is numbered 2 and should be numbered 1.',
    );
  });

  it('with one that is broken as it would be without the others are wrong', () => {
    const [other] = build('flute piccolo', MORE) as readonly [BuiltPart, ...BuiltPart[]];
    const faults = proveEnsemble([{ ...first, document: other.document }, ...others], book, fonts).flatMap((proof) => proof.faults);
    expect(faults.some(({ rule, what }) => rule === 23 && what.endsWith('in the first part of the set.'))).toBe(true);
  });

  it('with a breath too few are wrong: the air does not last', () => {
    const { breathing } = first;
    if (!breathing) throw new Error('the first part breathes');
    const breathless = [...breathing.exercises].map(([id, own]) => [id, { ...own, plan: { ...own.plan, breaths: [] } }] as const);
    const wrong = { ...first, breathing: { ...breathing, exercises: new Map(breathless) } };
    expect(
      proveEnsemble([wrong, ...others], book, fonts)[0]
        ?.faults.map(({ what }) => what)
        .join(' '),
    ).toContain('No breath comes for too long');
  });
});

/** Bars of one natural width that open and close by a tenth, two of which fill the line loosely and three do not fit. */
const barsOf = (natural: number, width: number, count = 4): Bars => ({
  measures: Array.from({ length: count }, () => ({
    natural,
    open: 1.1 * natural,
    tight: 0.9 * natural,
    halfOpen: 1.05 * natural,
    halfTight: 0.95 * natural,
    wideOpen: 1.15 * natural,
    least: 0.5 * natural,
  })),
  fixed: () => 0,
  width,
});

describe('unevenness in the parts of an ensemble', () => {
  const LOOSE = barsOf(20, 50);
  const EVEN = barsOf(25, 50);
  const found = (count: number, bars: Bars) => ({
    findings: Array.from({ length: count }, () => finding({}, 'The system is set too loose.')),
    bars: () => bars,
  });
  const left = (...parts: Parameters<typeof found>[]): number[] =>
    evenness(parts.map((part) => found(...part))).map(({ length }) => length);

  it.each<readonly [string, Parameters<typeof found>[], number[]]>([
    [
      'none',
      [
        [0, EVEN],
        [0, EVEN],
      ],
      [0, 0],
    ],
    // Four bars of which two stand on a line: the first of two systems is loose. The last ends early, unless another part fills it.
    ['as much as any breaking has', [[1, LOOSE]], [0]],
    ['more than the best breaking has', [[2, LOOSE]], [2]],
    [
      'in one part, as much as the breaking of both has',
      [
        [2, LOOSE],
        [0, EVEN],
      ],
      [0, 0],
    ],
    [
      'as much in each, since both must have it',
      [
        [1, LOOSE],
        [1, LOOSE],
      ],
      [0, 0],
    ],
    [
      'in a part that need not have it',
      [
        [2, LOOSE],
        [1, EVEN],
      ],
      [2, 1],
    ],
    // Alone these bars would stand three on a line and two, and then the other part would not fit.
    [
      'in a part that would be even alone',
      [
        [2, barsOf(16.5, 50)],
        [0, EVEN],
      ],
      [0, 0],
    ],
    ['in the same part alone', [[1, barsOf(16.5, 50, 3)]], [1]],
  ])('%s', (_, parts, expected) => {
    expect(left(...parts)).toEqual(expected);
  });
});

describe('the places of systems', () => {
  const spots = (words: string) =>
    words.split(' ').map((word, system) => {
      const [bar, page] = word.split('@') as [string, string];
      return { exercise: 'a', system, bar: Number(bar), page };
    });

  it.each([
    ['1@2 5@2 9@3', '1@2 5@2 9@3', undefined],
    ['1@2 4@2 9@3', '1@2 5@2 9@3', 'System 2 is bar 4 on page 2, and bar 5 on page 2 in the first part of the set.'],
    ['1@2 5@2 9@2', '1@2 5@2 9@3', 'System 3 is bar 9 on page 2, and bar 9 on page 3 in the first part of the set.'],
    ['1@2 5@2', '1@2 5@2 9@3', 'System 3 is nothing, and bar 9 on page 3 in the first part of the set.'],
  ])('%s against %s', (own, first, what) => {
    expect(samePlaces(spots(own), spots(first))[0]?.what).toBe(what);
  });
});
