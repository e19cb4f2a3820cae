/**
 * Blocks → pages: which exercises share a page, so that none is split where it fits one, a longer one opens on a left
 * page, pages are as evenly full as can be, and facing pages need to be opened alike to be filled. A shortest path over
 * (block, side of the next page, and what stands on the left page that it faces). The parts of an ensemble are filled together:
 * their blocks are the same, and their heights are not.
 */
import { at, first, zip } from '../../base/list.js';
import type { Pt } from '../../base/units.js';

/** What the filling needs to know of a block. Heights in points, air above it not included. */
export type FillBlock = {
  /** At least distances. */
  readonly least: Pt;
  /** How much more it takes with its distances as wide as they may be; any height when undefined. */
  readonly opens?: Pt;
  /** White at its foot, which a page may end without. */
  readonly tail?: Pt;
  /** Pages it takes when it is longer than one; 1 otherwise. */
  readonly pages: number;
};

export type Side = 'left' | 'right';

export type FilledPage =
  | { readonly kind: 'blocks'; readonly from: number; readonly to: number }
  /** Page `part` of a block longer than a page. */
  | { readonly kind: 'part'; readonly block: number; readonly part: number }
  | { readonly kind: 'blank' };

export type FillSpec = {
  readonly blocks: readonly FillBlock[];
  /** Room for blocks on the first page (below a chapter's opening) and on all others. */
  readonly firstRoom: Pt;
  readonly room: Pt;
  readonly firstSide: Side;
  /** Least air between blocks, and how much wider it may be. */
  readonly air: Pt;
  readonly airOpens?: Pt;
};

/**
 * Costs: emptiness squared; a last page may be half empty; blank pages only where a turn demands it; a page that cannot be
 * filled by opening its distances, and one that could hold the next block as well; facing pages that open differently, the
 * difference squared. Of an ensemble, the costs are the mean over its parts.
 */
export const COST = { empty: 100, lastEmpty: 15, blank: 200, page: 12, ragged: 30, lavish: 80, facing: 60 } as const;

type State = {
  readonly cost: number;
  readonly page: FilledPage | undefined;
  readonly before: State | undefined;
  /** How far the page is opened that faces the next one, by part; undefined where that is of no matter. */
  readonly facing: readonly number[] | undefined;
};

/** A page (or the pages of a long block) that may come next: it ends before block `to` and takes `pages` pages. */
type Step = {
  readonly to: number;
  readonly page: FilledPage;
  readonly cost: number;
  readonly pages: number;
  /** How far it must be opened to be filled, by part: 0 not at all, 1 as far as it may; undefined for a last page and one without music. */
  readonly opened: readonly number[] | undefined;
};

const other = (side: Side): Side => (side === 'left' ? 'right' : 'left');

export const fillPages = (spec: FillSpec): FilledPage[] => fillTogether([spec]);

/** One filling for all parts of an ensemble. All have the same number of blocks, of as many pages, and begin on the same side. */
export function fillTogether(specs: readonly FillSpec[]): FilledPage[] {
  const { blocks, firstSide } = first(specs);
  const count = blocks.length;
  /** For each block, side and opening page or not: the best state for each way in which the page before it is opened. */
  const best = new Map<string, Map<string, State>>();
  const id = (block: number, side: Side, first: boolean): string => `${block} ${side} ${first}`;
  best.set(id(0, firstSide, true), new Map([['', { cost: 0, page: undefined, before: undefined, facing: undefined }]]));
  for (let from = 0; from < count; from++) {
    // An opening page alone leads to the same block, and so does a blank page from right to left: hence this order.
    for (const [side, opening] of [
      [firstSide, true],
      ['right', false],
      ['left', false],
    ] as const) {
      const states = best.get(id(from, side, opening));
      if (!states) continue;
      for (const step of steps(specs, from, side, opening)) {
        const next = step.pages % 2 === 1 ? other(side) : side;
        const key = id(step.to, next, false);
        const reached = best.get(key) ?? new Map<string, State>();
        best.set(key, reached);
        const facing = next === 'right' ? step.opened : undefined;
        const way = facing?.join(' ') ?? '';
        for (const state of states.values()) {
          const cost = state.cost + step.cost + apart(state.facing, step.opened);
          const known = reached.get(way);
          if (!known || cost < known.cost) reached.set(way, { cost, page: step.page, before: state, facing });
        }
      }
    }
  }
  const ends = (['left', 'right'] as const).flatMap((side) =>
    [true, false].flatMap((first) => [...(best.get(id(count, side, first))?.values() ?? [])]),
  );
  let state: State | undefined = ends.reduce((a, b) => (b.cost < a.cost ? b : a));
  const pages: FilledPage[] = [];
  while (state?.page) {
    const { page } = state;
    if (page.kind === 'part') for (let part = page.part - 1; part >= 0; part--) pages.unshift({ ...page, part });
    else pages.unshift(page);
    state = state.before;
  }
  return pages;
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

const apart = (left: readonly number[] | undefined, right: readonly number[] | undefined): number =>
  left && right ? mean(zip(left, right).map(([one, two]) => COST.facing * (one - two) ** 2)) : 0;

function steps(specs: readonly FillSpec[], from: number, side: Side, opening: boolean): Step[] {
  const { blocks } = first(specs);
  const head = at(blocks, from);
  const alone: Step = { to: from, page: { kind: 'blocks', from, to: from }, cost: COST.page + COST.empty, pages: 1, opened: undefined };
  if (head.pages > 1) {
    const whole = {
      to: from + 1,
      page: { kind: 'part', block: from, part: head.pages },
      cost: COST.page * head.pages,
      pages: head.pages,
      opened: undefined,
    } as const;
    if (opening && specs.some(({ firstRoom, room }) => firstRoom < room)) return [alone];
    return side === 'left'
      ? [whole]
      : opening
        ? [alone]
        : [{ to: from, page: { kind: 'blank' }, cost: COST.blank, pages: 1, opened: undefined }];
  }
  const found: Step[] = [];
  const stacks = specs.map((spec) => stackOf(spec, from, opening));
  for (let to = from + 1; to <= blocks.length; to++) {
    const tries = stacks.map((add) => add(to));
    if (at(blocks, to - 1).pages > 1 || tries.some((one) => !one.fits)) break;
    found.push({
      to,
      page: { kind: 'blocks', from, to },
      cost: COST.page + mean(tries.map(({ cost }) => cost)),
      pages: 1,
      opened: to === blocks.length ? undefined : tries.map(({ opened }) => opened),
    });
  }
  if (found.length > 0) return found;
  // Nothing fits below a chapter's opening: it stands alone. A block that fits no page at all has a page to itself.
  return opening ? [alone] : [{ to: from + 1, page: { kind: 'blocks', from, to: from + 1 }, cost: COST.page, pages: 1, opened: undefined }];
}

/** A page of one part in the making. */
type Try = { readonly fits: boolean; readonly cost: number; readonly opened: number };

/** Adds the blocks from this one on to a page, one at each call, and says what the page is like that ends before block `to`. */
function stackOf({ blocks, air, airOpens = 0, ...rooms }: FillSpec, from: number, opening: boolean): (to: number) => Try {
  const room = opening ? rooms.firstRoom : rooms.room;
  let stack = 0;
  let opens = 0;
  /** Of a page that cannot be filled. */
  const ragged = (next: FillBlock): number => {
    const more = next.pages === 1 && stack + air + next.least - (next.tail ?? 0) <= room;
    return COST.ragged + (more ? COST.lavish : 0);
  };
  return (to) => {
    const block = at(blocks, to - 1);
    const next = blocks[to];
    stack += block.least + (to > from + 1 ? air : 0);
    const height = stack - (block.tail ?? 0);
    opens += (block.opens ?? Number.POSITIVE_INFINITY) + (to > from + 1 ? airOpens : 0);
    const empty = 1 - height / room;
    const cost = next ? COST.empty * empty * empty + (height + opens < room ? ragged(next) : 0) : COST.lastEmpty * empty * empty;
    return { fits: height <= room, cost, opened: opens > 0 ? Math.min(1, (room - height) / opens) : 1 };
  };
}
