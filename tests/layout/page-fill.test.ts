/** Exercises onto pages: none split where it fits, long ones from a left page, the best filling of all. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  COST,
  type FillBlock,
  type FilledPage,
  type FillSpec,
  fillPages,
  fillTogether,
  type Side,
} from '../../core/layout/page/page-fill.js';

const short = (least: number): FillBlock => ({ least, pages: 1 });
const opening = (least: number, opens: number): FillBlock => ({ least, opens, pages: 1 });
const long = (pages: number): FillBlock => ({ least: pages * 95, pages });

const spec = (blocks: readonly FillBlock[], more: Partial<FillSpec> = {}): FillSpec => ({
  blocks,
  firstRoom: 100,
  room: 100,
  firstSide: 'right',
  air: 5,
  ...more,
});

/** `0-2 2-3 - 3.0 3.1`: blocks from and to, a blank page, parts of a long block. */
const text = (pages: readonly FilledPage[]): string =>
  pages.map((p) => (p.kind === 'blank' ? '-' : p.kind === 'part' ? `${p.block}.${p.part}` : `${p.from}-${p.to}`)).join(' ');

describe('pages in words', () => {
  it.each([
    ['three that fit', [short(30), short(30), short(30)], {}, '0-3'],
    ['two and two', [short(45), short(45), short(45), short(45)], {}, '0-2 2-4'],
    ['full pages, and a last one that may be emptier', [short(30), short(30), short(30), short(40)], {}, '0-3 3-4'],
    ['as evenly full as can be before the last', [short(70), short(25), short(60), short(60), short(20)], {}, '0-1 1-3 3-5'],
    ['one each', [short(60), short(60)], {}, '0-1 1-2'],
    ['a long one from a left page', [long(2)], { firstSide: 'left' }, '0.0 0.1'],
    ['a long one after a full right page', [short(90), long(2)], {}, '0-1 1.0 1.1'],
    ['a long one after a full left page waits for the next left page', [short(90), long(2)], { firstSide: 'left' }, '0-1 - 1.0 1.1'],
    ['below an opening', [short(30), short(90)], { firstRoom: 40 }, '0-1 1-2'],
    ['below an opening that leaves too little', [short(60), short(30)], { firstRoom: 40 }, '0-0 0-2'],
    ['a long one below an opening', [long(2)], { firstRoom: 40 }, '0-0 0.0 0.1'],
    ['no blocks', [], {}, ''],
    // The left page could hold the second block, and then both pages can be filled.
    ['filled where two can be', [opening(40, 10), opening(40, 10), opening(90, 20), opening(5, 0)], { firstSide: 'left' }, '0-2 2-4'],
    [
      'opened alike on facing pages',
      [opening(40, 60), opening(20, 30), opening(30, 30), opening(60, 60), short(60)],
      { firstSide: 'left' },
      '0-2 2-4 4-5',
    ],
    ['a last line of text that ends at the foot', [short(50), { least: 48, tail: 4, pages: 1 }], {}, '0-2'],
  ] as const)('%s', (_, blocks, more, expected) => {
    expect(text(fillPages(spec(blocks as readonly FillBlock[], more as Partial<FillSpec>)))).toBe(expected);
  });
});

const other = (side: Side): Side => (side === 'left' ? 'right' : 'left');

/** What the rules forbid. */
function faults(given: FillSpec, pages: readonly FilledPage[]): string[] {
  const found: string[] = [];
  let next = 0;
  let side = given.firstSide;
  let expectedPart: [number, number] | undefined;
  pages.forEach((page, i) => {
    if (expectedPart && text([page]) !== expectedPart.join('.')) found.push(`page ${i} interrupts a long exercise`);
    if (page.kind === 'part') {
      const block = given.blocks[page.block] as FillBlock;
      if (page.block !== next) found.push(`exercise ${page.block} out of order`);
      if (page.part === 0 && side !== 'left') found.push(`long exercise ${page.block} begins on a right page`);
      expectedPart = page.part + 1 < block.pages ? [page.block, page.part + 1] : undefined;
      if (!expectedPart) next++;
    } else if (page.kind === 'blocks') {
      if (page.from !== next) found.push(`exercise ${page.from} out of order`);
      next = page.to;
      const own = given.blocks.slice(page.from, page.to);
      const height = own.reduce((sum, b) => sum + b.least, 0) + Math.max(0, own.length - 1) * given.air - (own.at(-1)?.tail ?? 0);
      if (height > (i === 0 ? given.firstRoom : given.room)) found.push(`page ${i} is overfull`);
      if (own.some((b) => b.pages > 1)) found.push(`page ${i} holds a long exercise`);
      if (own.length === 0 && i > 0) found.push(`page ${i} is empty`);
    }
    side = other(side);
  });
  if (next !== given.blocks.length) found.push('exercises are missing');
  return found;
}

/** The costs of the search, as its own file states them. */

function costOf(given: FillSpec, pages: readonly FilledPage[]): number {
  let side = given.firstSide;
  let facing: number | undefined;
  return pages.reduce((sum, page, i) => {
    const left = side === 'right' ? facing : undefined;
    facing = undefined;
    side = other(side);
    if (page.kind === 'blank') return sum + COST.blank;
    if (page.kind === 'part') return sum + COST.page;
    const own = given.blocks.slice(page.from, page.to);
    if (own.length === 0) return sum + COST.page + COST.empty;
    const room = i === 0 ? given.firstRoom : given.room;
    const stack = own.reduce((total, b) => total + b.least, 0) + (own.length - 1) * given.air;
    const height = stack - (own.at(-1)?.tail ?? 0);
    const opens = own.reduce((total, b) => total + (b.opens ?? Number.POSITIVE_INFINITY), 0) + (own.length - 1) * (given.airOpens ?? 0);
    const empty = 1 - height / room;
    const next = given.blocks[page.to];
    if (!next) return sum + COST.page + COST.lastEmpty * empty * empty;
    facing = opens > 0 ? Math.min(1, (room - height) / opens) : 1;
    const more = next.pages === 1 && stack + given.air + next.least - (next.tail ?? 0) <= room;
    const ragged = height + opens < room ? COST.ragged + (more ? COST.lavish : 0) : 0;
    return sum + COST.page + COST.empty * empty * empty + ragged + (left === undefined ? 0 : COST.facing * (left - facing) ** 2);
  }, 0);
}

/** Every filling that keeps the rules. */
function* fillings(given: FillSpec, from = 0, side = given.firstSide, done: readonly FilledPage[] = []): Generator<readonly FilledPage[]> {
  const block = given.blocks[from];
  if (!block) return yield done;
  const first = done.length === 0;
  if (block.pages > 1) {
    const parts = Array.from({ length: block.pages }, (_, part): FilledPage => ({ kind: 'part', block: from, part }));
    const opened = first && given.firstRoom < given.room;
    if (!opened && side === 'left') yield* fillings(given, from + 1, block.pages % 2 === 1 ? 'right' : 'left', [...done, ...parts]);
    if (first) yield* fillings(given, from, other(side), [{ kind: 'blocks', from, to: from }]);
    else if (side === 'right') yield* fillings(given, from, 'left', [...done, { kind: 'blank' }]);
    return;
  }
  let fits = false;
  for (let to = from + 1; to <= given.blocks.length; to++) {
    const page: FilledPage = { kind: 'blocks', from, to };
    if (faults({ ...given, blocks: given.blocks.slice(0, to) }, [...done, page]).length > 0) break;
    fits = true;
    yield* fillings(given, to, other(side), [...done, page]);
  }
  if (!fits && first) yield* fillings(given, from, other(side), [{ kind: 'blocks', from, to: from }]);
}

const shortBlocks = fc
  .record({
    least: fc.integer({ min: 8, max: 95 }),
    opens: fc.option(fc.constantFrom(0, 5, 15, 40), { nil: undefined }),
    tail: fc.constantFrom(0, 3),
  })
  .map((block): FillBlock => ({ ...block, pages: 1 }));

const specs = fc.record({
  blocks: fc.array(fc.oneof({ weight: 5, arbitrary: shortBlocks }, fc.integer({ min: 2, max: 3 }).map(long)), {
    minLength: 1,
    maxLength: 7,
  }),
  firstRoom: fc.constantFrom(20, 50, 100),
  room: fc.constant(100),
  firstSide: fc.constantFrom<Side>('left', 'right'),
  air: fc.constantFrom(0, 5),
  airOpens: fc.constantFrom(0, 10),
});

describe('any exercises', () => {
  it('are placed by the rules', () => {
    fc.assert(
      fc.property(specs, (given) => {
        expect(faults(given, fillPages(given))).toEqual([]);
      }),
      { numRuns: 1000 },
    );
  });

  it('are placed in the best of all ways', () => {
    fc.assert(
      fc.property(specs, (given) => {
        let least = Number.POSITIVE_INFINITY;
        for (const pages of fillings(given)) least = Math.min(least, costOf(given, pages));
        expect(costOf(given, fillPages(given))).toBeCloseTo(least, 6);
      }),
      { numRuns: 500 },
    );
  });
});

describe('parts of a set', () => {
  const heights = fc.record({ least: fc.integer({ min: 8, max: 95 }), opens: fc.constantFrom(0, 15, 40), tail: fc.constantFrom(0, 3) });
  const sets = fc
    .record({
      blocks: fc.array(fc.tuple(heights, heights, fc.constantFrom(1, 1, 1, 1, 2, 3)), { minLength: 1, maxLength: 6 }),
      firstSide: fc.constantFrom<Side>('left', 'right'),
      firstRooms: fc.constantFrom([20, 50], [100, 100], [60, 30]),
    })
    .map(({ blocks, firstSide, firstRooms }) =>
      [0, 1].map((part): FillSpec => {
        const own = blocks.map((block): FillBlock => {
          const [one, two, pages] = block;
          return pages > 1 ? long(pages) : { ...(part === 0 ? one : two), pages };
        });
        return spec(own, { firstSide, firstRoom: firstRooms[part] as number, airOpens: 10 });
      }),
    );

  /** Without a part that is taller than its page below an opening, so that a page that fits in all is one that both allow. */
  const allowed = (specs: readonly FillSpec[], pages: readonly FilledPage[]): boolean =>
    specs.every((one) => faults(one, pages).length === 0);

  it('stand on the same pages, and every page fits in each', () => {
    fc.assert(
      fc.property(sets, (specs) => {
        const pages = fillTogether(specs);
        for (const one of specs) expect(faults(one, pages)).toEqual([]);
      }),
      { numRuns: 500 },
    );
  });

  it('are filled in the best of all ways', () => {
    fc.assert(
      fc.property(sets, (specs) => {
        const mean = (pages: readonly FilledPage[]): number => specs.reduce((sum, one) => sum + costOf(one, pages), 0) / specs.length;
        // What both parts allow is allowed by a part with the taller of their heights and by no page that one of them forbids.
        let least = Number.POSITIVE_INFINITY;
        for (const pages of shared(specs)) if (allowed(specs, pages)) least = Math.min(least, mean(pages));
        expect(mean(fillTogether(specs))).toBeCloseTo(least, 6);
      }),
      { numRuns: 300 },
    );
  });

  it('of which one has a tall exercise are filled otherwise than the other alone', () => {
    const one = spec([short(45), short(45), short(45), short(45)]);
    const two = spec([short(45), short(70), short(20), short(45)]);
    expect(text(fillPages(one))).toBe('0-2 2-4');
    expect(text(fillTogether([one, two]))).toBe('0-1 1-3 3-4');
    expect(faults(two, fillPages(one))).toEqual(['page 0 is overfull']);
  });
});

/** Every filling of a set that fits in all parts. */
function* shared(specs: readonly FillSpec[], from = 0, done: readonly FilledPage[] = []): Generator<readonly FilledPage[]> {
  const [lead] = specs as readonly [FillSpec];
  const block = lead.blocks[from];
  if (!block) return yield done;
  const side = done.length % 2 === 0 ? lead.firstSide : other(lead.firstSide);
  const first = done.length === 0;
  if (block.pages > 1) {
    const parts = Array.from({ length: block.pages }, (_, part): FilledPage => ({ kind: 'part', block: from, part }));
    const opened = first && specs.some(({ firstRoom, room }) => firstRoom < room);
    if (!opened && side === 'left') yield* shared(specs, from + 1, [...done, ...parts]);
    if (first) yield* shared(specs, from, [{ kind: 'blocks', from, to: from }]);
    else if (side === 'right') yield* shared(specs, from, [...done, { kind: 'blank' }]);
    return;
  }
  let fits = false;
  for (let to = from + 1; to <= lead.blocks.length; to++) {
    const page: FilledPage = { kind: 'blocks', from, to };
    const bad = specs.some((one) => faults({ ...one, blocks: one.blocks.slice(0, to) }, [...done, page]).length > 0);
    if (bad) break;
    fits = true;
    yield* shared(specs, to, [...done, page]);
  }
  if (!fits && first) yield* shared(specs, from, [{ kind: 'blocks', from, to: from }]);
}

it('sees what is wrong', () => {
  const given = spec([short(60), short(60), long(2)]);
  const page = (from: number, to: number): FilledPage => ({ kind: 'blocks', from, to });
  const part = (n: number): FilledPage => ({ kind: 'part', block: 2, part: n });
  expect(faults(given, [page(0, 2), part(0), part(1)])).toEqual(['page 0 is overfull']);
  expect(faults(given, [page(0, 1), page(1, 2), part(0), part(1)])).toEqual(['long exercise 2 begins on a right page']);
  expect(faults(given, [page(0, 1), page(1, 2), { kind: 'blank' }, part(0)])).toContain('exercises are missing');
});

it('an exercise of one system taller than a page still gets one', () => {
  const given = spec([short(30), short(140), short(30)]);
  expect(text(fillPages(given))).toMatch(/1-2/);
});
