/** Facing pages begin and end at one height (rule 20), with the exceptions that the rule states. One case a line. */
import { describe, expect, it } from 'vitest';
import type { Page } from '../../core/layout/page/page.js';
import { facingPages } from '../../core/proof/rules/vertical.js';
import type { SpreadPage } from '../../core/proof/spread-page.js';

type Wish = {
  /** Exercises on the page, and where its ink begins and ends, in spaces; the block ends at 150. */
  readonly holds?: string;
  readonly top?: number;
  readonly foot?: number;
  readonly step?: number;
  readonly asked?: boolean;
  /** From the first system to the second, and from the last but one to the last. */
  readonly edge?: number;
  /** Height of its first exercise. */
  readonly first?: number;
  readonly kind?: Page['kind'];
};

const SCALE = 5;

const pages = (wishes: readonly Wish[]): SpreadPage[] =>
  wishes.map(({ holds = '', top = 0, foot = 150, step = 10, asked = false, edge, first = 70, kind = 'music' }, i) => ({
    placed: { page: { label: `${i + 2}`, numbering: 'arabic', side: i % 2 === 0 ? 'left' : 'right', kind, items: [] } },
    music: kind === 'music' && holds !== '',
    scale: SCALE,
    top: top * SCALE,
    foot: foot * SCALE,
    bottom: 150 * SCALE,
    step: { least: step, asked, most: step },
    ...(edge === undefined ? {} : { edges: { first: edge, last: edge } }),
    exercises: holds.split(' ').filter((id) => id !== ''),
    firstHeight: first * SCALE,
  }));

const faults = (...wishes: readonly Wish[]): string[] => facingPages(pages(wishes)).map((f) => f.what);

const HEIGHT = 'Facing pages do not end at one height.';
const TOPS = 'Facing pages do not begin at one height.';
const APART = 'Systems of facing pages stand at different distances, and no ink demands it.';

const A: Wish = { holds: 'a' };
const B: Wish = { holds: 'b' };
const C: Wish = { holds: 'c' };
const END: Wish = { kind: 'chapter' };

describe('facing pages', () => {
  it.each<readonly [string, readonly Wish[], readonly string[]]>([
    ['equal', [A, B, C], []],
    ['one begun lower', [A, { ...B, top: 2 }, C], [TOPS]],
    ['a title under the top of its line', [A, { ...B, top: 0.7 }, C], []],
    ['one ended higher, though the next exercise would fit', [A, { ...B, foot: 70 }, C], [HEIGHT]],
    ['one ended higher, since the next exercise would not fit', [A, { ...B, foot: 90 }, C], []],
    ['the left one ended higher, though its neighbor would fit', [{ ...A, foot: 70 }, B, C], [HEIGHT]],
    ['the left one ended higher, since its neighbor would not fit', [{ ...A, foot: 90 }, B, C], []],
    ['one ended higher at other distances', [A, { ...B, foot: 90, step: 12 }, C], [APART]],
    ['one ended higher at other distances that ink asks for', [A, { ...B, foot: 90, step: 12, asked: true }, C], []],
    ['different exercises that fill both pages at their own distances', [A, { ...B, step: 12 }, C], []],
    ['the last page of a chapter', [A, { ...B, foot: 40 }, END], []],
    ['the last page of a chapter at other distances', [A, { ...B, foot: 40, step: 12 }, END], [APART]],
    ['the last page of a book', [A, { ...B, foot: 40 }], []],
    ['the opening page of a chapter', [{ ...END, holds: 'a' }, { ...B, foot: 60 }, C], []],
    ['an exercise on both, cut between systems', [{ ...A, foot: 141 }, A, C], []],
    ['an exercise on both, cut unevenly', [{ ...A, foot: 120 }, A, C], [HEIGHT]],
    ['an exercise on both at other distances', [A, { ...A, step: 10.8 }, C], [APART]],
    ['an exercise on both within half a space', [A, { ...A, step: 10.5 }, C], []],
    ['pages that do not face each other', [A, A, { ...B, foot: 70, step: 14 }], []],
    [
      'one ended higher, since a later exercise must begin on a left page',
      [A, { ...B, foot: 70 }, C, { holds: 'd' }, { holds: 'e' }, { holds: 'e' }],
      [],
    ],
    [
      'a page too short for a long exercise, however little of it stands on the next',
      [A, { ...B, foot: 60 }, { ...C, first: 20 }, { ...C, first: 20 }],
      [],
    ],
  ])('%s', (_, wishes, expected) => {
    expect(faults(...wishes)).toEqual(expected);
  });
});

it('a page of a set is full when it is in one of its parts', () => {
  const own = pages([A, { ...B, foot: 70 }, C]);
  const fuller = pages([A, { ...B, foot: 90 }, C]);
  expect(facingPages(own, [own, own]).map(({ what }) => what)).toEqual([HEIGHT]);
  expect(facingPages(own, [own, fuller])).toEqual([]);
});

describe('an exercise on facing pages of a set', () => {
  const spread = (left: number, right: number): SpreadPage[] =>
    pages([
      { ...A, foot: left, edge: 10 },
      { ...A, foot: right, edge: 10 },
    ]);
  const own = spread(120, 145);
  const told = (...others: readonly SpreadPage[][]): string[] => facingPages(own, [own, ...others]).map(({ what }) => what);

  it.each<readonly [string, readonly SpreadPage[][], readonly string[]]>([
    ['cut unevenly in all', [spread(122, 145)], [HEIGHT]],
    ['cut unevenly where another cut would serve all', [spread(128, 138)], [HEIGHT]],
    ['cut unevenly where another cut would be too uneven in one', [spread(133, 140), spread(140, 138)], []],
  ])('%s', (_, others, expected) => {
    expect(told(...others)).toEqual(expected);
  });
});
