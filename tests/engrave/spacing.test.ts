/** Horizontal spacing: springs that stretch alike, rods that hold. Ratios: Gould, Behind Bars, pp. 39–43 (second-hand). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barsOf } from '../../core/engrave/bars.js';
import { fullHeaderWidth, headerOf } from '../../core/engrave/header.js';
import { type ScoreShape, shapeScore } from '../../core/engrave/shape.js';
import { fixedWidth, justify, measureBars, place } from '../../core/engrave/spacing.js';
import { idealAdvance, STYLE } from '../../core/engrave/style.js';
import { toNumber } from '../../core/theory/fraction.js';
import { METRES } from '../../core/theory/metre.js';
import { testFonts } from '../fonts.js';
import { player, realised, type Words } from '../player/fixture.js';

const shapeOf = (words: Words, who = 'flute'): ScoreShape => {
  const line = realised(words, player(who));
  return shapeScore(line, barsOf(line), testFonts());
};

/** Advances from head to head inside the bars of a system, with what stands there. */
function advances(shape: ScoreShape, from: number, to: number, factor: number) {
  const { bars } = place(shape, from, to, factor);
  return bars.flatMap(({ heads, barlineX }, b) => {
    const bar = shape.bars[from + b] as ScoreShape['bars'][number];
    return bar.springs.map((spring, i) => {
      const next = bar.bar.events[i + 1];
      return {
        duration: toNumber((bar.bar.events[i] as ScoreShape['bars'][number]['bar']['events'][number]).duration),
        beforeSign: next?.kind === 'note' && next.sign !== undefined,
        last: next === undefined,
        advance: (heads[i + 1] ?? barlineX) - (heads[i] as number),
        rod: spring.rod,
      };
    });
  });
}

describe('ideal advances', () => {
  it.each([
    [1 / 16, 2],
    [1 / 8, 2.5],
    [1 / 4, 3.5],
    [1 / 2, 5],
    [1, 7],
  ])('of %d is %d spaces (Gould p. 39)', (duration, spaces) => {
    expect(idealAdvance(duration)).toBeCloseTo(spaces, 10);
  });

  it('of dotted values come near to the published 3, 4 and 6 for eighth, quarter and half', () => {
    for (const [duration, spaces] of [
      [3 / 16, 3],
      [3 / 8, 4],
      [3 / 4, 6],
    ] as const)
      expect(Math.abs(idealAdvance(duration) / spaces - 1)).toBeLessThan(0.08);
  });

  it('never get less for a longer note', () => {
    for (let n = 1; n < 128; n++) expect(idealAdvance((n + 1) / 64)).toBeGreaterThan(idealAdvance(n / 64));
  });
});

const words = fc.record({
  figure: fc.constantFrom('1 2 3 5', '1 b3 5 8', '1 2 3 4 5 6 7 8', '5 r 3 1'),
  rhythm: fc.constantFrom('eighths', 'sixteenths', 'eighth and two sixteenths', 'dotted quarter and eighth', 'halves'),
  metre: fc.constantFrom(...METRES),
  order: fc.constantFrom<NonNullable<Words['order']>>({ name: 'fourths' }, { name: 'chromatic-up' }),
  signs: fc.constantFrom<'accidentals' | 'signature'>('accidentals', 'signature'),
  padding: fc.constantFrom<NonNullable<Words['padding']>>({ to: 'flow' }, { to: 'bar', by: 'long-note' }),
});

/** A system of some bars of some music, and a width that it can have. */
const systems = fc
  .record({ words, from: fc.nat(), count: fc.integer({ min: 1, max: 6 }), loose: fc.double({ min: 0, max: 1.5, noNaN: true }) })
  .map(({ words: own, from, count, loose }) => {
    const shape = shapeOf(own);
    const first = from % shape.bars.length;
    const to = Math.min(shape.bars.length, first + count);
    const measures = measureBars(shape).slice(first, to);
    const fixed = fixedWidth(shape, first, to);
    const least = fixed + measures.reduce((w, m) => w + m.least, 0);
    const natural = fixed + measures.reduce((w, m) => w + m.natural, 0);
    return { shape, from: first, to, least, natural, width: least + 0.5 + loose * natural };
  });

describe('a system', () => {
  it('set at a width is exactly that wide', () => {
    fc.assert(
      fc.property(systems, ({ shape, from, to, width }) => {
        const placed = place(shape, from, to, justify(shape, from, to, width));
        expect(Math.abs(placed.width - width)).toBeLessThan(1e-6);
      }),
      { numRuns: 300 },
    );
  });

  it('set at natural width is as wide as its measures say', () => {
    fc.assert(
      fc.property(systems, ({ shape, from, to, natural }) => {
        expect(place(shape, from, to, 1).width).toBeCloseTo(natural, 8);
      }),
      { numRuns: 100 },
    );
  });

  it('keeps every rod, and gives equal notes equal room', () => {
    fc.assert(
      fc.property(systems, ({ shape, from, to, width }) => {
        const factor = justify(shape, from, to, width);
        const all = advances(shape, from, to, factor);
        for (const a of all) expect(a.advance).toBeGreaterThanOrEqual(a.rod - 1e-9);
        const free = all.filter((a) => !a.beforeSign && !a.last && a.advance > a.rod + 1e-9);
        for (const a of free) for (const b of free) if (a.duration === b.duration) expect(a.advance).toBeCloseTo(b.advance, 8);
      }),
      { numRuns: 200 },
    );
  });

  it('gives a longer note at least as much room as a shorter one', () => {
    fc.assert(
      fc.property(systems, ({ shape, from, to, width }) => {
        const free = advances(shape, from, to, justify(shape, from, to, width)).filter(
          (a) => !a.beforeSign && !a.last && a.advance > a.rod + 1e-9,
        );
        for (const a of free) for (const b of free) if (a.duration < b.duration) expect(b.advance).toBeGreaterThanOrEqual(a.advance - 1e-9);
      }),
      { numRuns: 100 },
    );
  });

  it('has its bars in order without overlap', () => {
    fc.assert(
      fc.property(systems, ({ shape, from, to, width }) => {
        let edge = 0;
        for (const { x, heads, barlineX } of place(shape, from, to, justify(shape, from, to, width)).bars) {
          expect(x).toBeGreaterThanOrEqual(edge - 1e-9);
          for (const [i, head] of heads.entries()) expect(head).toBeGreaterThan(i === 0 ? x : (heads[i - 1] as number));
          expect(barlineX).toBeGreaterThan(heads.at(-1) as number);
          edge = barlineX;
        }
      }),
      { numRuns: 100 },
    );
  });
});

describe('before rods act', () => {
  it('a quarter has 1.4 times the room of an eighth', () => {
    const shape = shapeOf({ rhythm: 'quarter and two eighths', figure: '1 1 1 1', order: { name: 'custom', keys: ['C'] } });
    const all = advances(shape, 0, 1, 2).filter((a) => !a.last);
    const quarter = all.find((a) => a.duration === 0.25)?.advance ?? 0;
    const eighth = all.find((a) => a.duration === 0.125)?.advance ?? 1;
    expect(quarter / eighth).toBeCloseTo(1.4, 6);
  });

  it('an accidental adds room, and less than doubles it', () => {
    const shape = shapeOf({ figure: '1 #4 1 1', order: { name: 'custom', keys: ['C'] } });
    const [before, after] = advances(shape, 0, 1, 1);
    expect((before?.advance ?? 0) - (after?.advance ?? 0)).toBeGreaterThan(0.3);
    expect(before?.advance ?? 9).toBeLessThan(2 * (after?.advance ?? 0));
  });
});

describe('the header', () => {
  const signature: Words = { signs: 'signature', padding: { to: 'bar', by: 'long-note' }, order: { name: 'fifths' } };
  const shape = shapeOf(signature);

  it('has clef, signature and time in this order, the time at the start only', () => {
    shape.bars.forEach((bar, from) => {
      const header = headerOf(shape, from);
      expect(header.clefX).toBe(STYLE.clefIndent);
      expect(header.keyX === undefined).toBe(bar.bar.fifths === 0);
      expect(header.timeX !== undefined).toBe(from === 0);
      const xs = [header.clefX, header.keyX, header.timeX, header.end].filter((x) => x !== undefined);
      expect([...xs].sort((a, b) => a - b)).toEqual(xs);
    });
  });

  it('stands 1 to 1½ spaces apart and 1 to 2½ from the first note (Gould pp. 41–42)', () => {
    shape.bars.forEach((bar, from) => {
      expect(STYLE.headerGap).toBeGreaterThanOrEqual(1);
      expect(STYLE.headerGap).toBeLessThanOrEqual(1.5);
      const white = fullHeaderWidth(shape, from) - bar.firstLeft - headerOf(shape, from).end;
      expect(white).toBeGreaterThanOrEqual(1);
      expect(white).toBeLessThanOrEqual(2.5);
    });
  });
});

it('a width below all rods cannot be kept, and does not crash', () => {
  const shape = shapeOf({});
  const placed = place(shape, 0, 3, justify(shape, 0, 3, 5));
  expect(placed.width).toBeGreaterThan(5);
  for (const a of advances(shape, 0, 3, justify(shape, 0, 3, 5))) expect(a.advance).toBeGreaterThanOrEqual(a.rod - 1e-9);
});
