/** Each limit of the engraving from both sides: a mark moved just so far as is let pass, and a little farther. */
import { describe, expect, it } from 'vitest';
import type { Mark, PolygonMark, RectMark } from '../../core/engrave/drawing.js';
import { type Built, built, type Damage, damaged, each, edged, failing, moved, nth } from './edition.js';

const plain = {
  figure: '1 2 3 5',
  order: ['C', 'F', 'Bb', 'Eb', 'Ab', 'G'],
  rhythm: 'quarters',
  padding: 'bar, rests',
  start: { written: 'C' },
};
const quarters = built(plain);
const eighths = built({ ...plain, figure: '1 2 3 5 4 3 2 1', rhythm: 'eighths' });
const signed = built({ ...plain, signs: 'signature' });
const blue = built({ ...plain, figure: '1 b3 5 3' });
const high = built({ ...plain, figure: '1 3 5 8', contour: 'high' }, { instrument: 'flute', level: 'professional' });

const right = (dx: number) => (mark: Mark) => moved(mark, dx, 0);
const stretched = (edges: (box: RectMark['box']) => Partial<RectMark['box']>) => (mark: Mark) => edged(mark, edges(mark.box));

function thicker(by: number): (mark: Mark) => Mark {
  return (mark) => {
    const { points, box } = mark as PolygonMark;
    // The upper edge comes first.
    return {
      ...(mark as PolygonMark),
      points: points.map(([x, y], i) => [x, i < 2 ? y - by : y] as const),
      box: { ...box, y0: box.y0 - by },
    };
  };
}

/** The first beam and its stems nearer to the heads. */
const lowered =
  (by: number): Damage =>
  (marks, system) => {
    const beam = marks.filter((mark) => mark.role === 'beam').sort((a, b) => a.box.x0 - b.box.x0)[0];
    if (system !== 0 || !beam) return marks;
    const under = (m: Mark) => m.role === 'stem' && m.box.x0 >= beam.box.x0 - 0.01 && m.box.x1 <= beam.box.x1 + 0.01;
    return marks.map((m) => (m === beam ? moved(m, 0, by) : under(m) ? edged(m, { y0: m.box.y0 + by }) : m));
  };

/** rule, what, edition, how, by how much it may be, by how much not. */
const EDGES: readonly (readonly [number, string, Built, (by: number) => Damage, number, number])[] = [
  [2, 'a barline 1 space from the next note', quarters, (by) => nth('barline', 0, right(by)), 0.13, 0.18],
  [3, 'an accidental 0.55 from its head', blue, (by) => nth('accidental', 0, right(-by)), 0.32, 0.34],
  [4, 'a clef indented by 1', quarters, (by) => nth('clef', 0, right(by)), 0.24, 0.27],
  [5, 'signs of a signature 1 apart', signed, (by) => nth('key-signature', 3, right(by)), 0.04, 0.06],
  [
    8,
    'a stem a quarter of a space too long',
    quarters,
    (by) =>
      nth(
        'stem',
        0,
        stretched(({ y0 }) => ({ y0: y0 - by })),
      ),
    0.24,
    0.26,
  ],
  [
    9,
    'a stem to the middle line',
    high,
    (by) =>
      nth(
        'stem',
        3,
        stretched(({ y1 }) => ({ y1: y1 - by })),
      ),
    0.04,
    0.06,
  ],
  [11, 'a stem at the edge of its head', quarters, (by) => nth('stem', 0, right(by)), 0.05, 0.07],
  [12, 'a beam half a space thick', eighths, (by) => nth('beam', 0, thicker(by)), 0.015, 0.025],
  [14, 'a beam 2.5 from its heads', eighths, lowered, 1.03, 1.07],
  [
    16,
    'a ledger line 0.28 beside its head',
    quarters,
    (by) =>
      nth(
        'ledger',
        0,
        stretched(({ x0 }) => ({ x0: x0 + by })),
      ),
    0.11,
    0.13,
  ],
  [17, 'a width 2 in a hundred from its equals', quarters, (by) => each((mark) => mark.owner.event === 1, right(by)), 0.02, 0.06],
];

describe.each(EDGES)('rule %i: %s', (rule, _, edition, damage, inside, outside) => {
  it(`passes at ${inside}`, () => expect(failing(damaged(edition, damage(inside)))).toEqual([]));
  it(`fails at ${outside}`, () => expect(failing(damaged(edition, damage(outside)))).toEqual([rule]));
});
