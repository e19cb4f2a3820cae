/**
 * Blocks → pages: which exercises share a page, so that none is split where it fits one, a longer one opens on a left
 * page, and pages are as evenly full as can be. A shortest path over (block, side of the next page).
 */
import type { Pt } from '../units.js';

/** What the filling needs to know of a block. Heights in points, air above it not included. */
export type FillBlock = {
  /** At least distances. */
  readonly least: Pt;
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
  /** Least air between blocks. */
  readonly air: Pt;
};

/** Costs: emptiness squared; a last page may be half empty; blank pages only where a turn demands it. */
export const COST = { empty: 100, lastEmpty: 15, blank: 200, page: 12 } as const;

type State = { readonly cost: number; readonly page: FilledPage | undefined; readonly before: State | undefined };

/** A page (or the pages of a long block) that may come next: it ends before block `to` and takes `pages` pages. */
type Step = { readonly to: number; readonly page: FilledPage; readonly cost: number; readonly pages: number };

const other = (side: Side): Side => (side === 'left' ? 'right' : 'left');

export function fillPages(spec: FillSpec): FilledPage[] {
  const count = spec.blocks.length;
  const best = new Map<string, State>();
  const id = (block: number, side: Side, first: boolean): string => `${block} ${side} ${first}`;
  best.set(id(0, spec.firstSide, true), { cost: 0, page: undefined, before: undefined });
  for (let from = 0; from < count; from++) {
    // An opening page alone leads to the same block, and so does a blank page from right to left: hence this order.
    for (const [side, first] of [
      [spec.firstSide, true],
      ['right', false],
      ['left', false],
    ] as const) {
      const state = best.get(id(from, side, first));
      if (!state) continue;
      for (const step of steps(spec, from, side, first)) {
        const key = id(step.to, step.pages % 2 === 1 ? other(side) : side, false);
        const known = best.get(key);
        const cost = state.cost + step.cost;
        if (!known || cost < known.cost) best.set(key, { cost, page: step.page, before: state });
      }
    }
  }
  const ends = (['left', 'right'] as const).flatMap((side) => best.get(id(count, side, false)) ?? best.get(id(count, side, true)) ?? []);
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

function steps(spec: FillSpec, from: number, side: Side, first: boolean): Step[] {
  const { blocks } = spec;
  const head = blocks[from] as FillBlock;
  const room = first ? spec.firstRoom : spec.room;
  const alone: Step = { to: from, page: { kind: 'blocks', from, to: from }, cost: COST.page + COST.empty, pages: 1 };
  if (head.pages > 1) {
    const whole = {
      to: from + 1,
      page: { kind: 'part', block: from, part: head.pages },
      cost: COST.page * head.pages,
      pages: head.pages,
    } as const;
    if (first && spec.firstRoom < spec.room) return [alone];
    return side === 'left' ? [whole] : first ? [alone] : [{ to: from, page: { kind: 'blank' }, cost: COST.blank, pages: 1 }];
  }
  const found: Step[] = [];
  let height = 0;
  for (let to = from + 1; to <= blocks.length; to++) {
    const block = blocks[to - 1] as FillBlock;
    height += block.least + (to > from + 1 ? spec.air : 0);
    if (block.pages > 1 || height > room) break;
    const empty = 1 - height / room;
    found.push({
      to,
      page: { kind: 'blocks', from, to },
      cost: COST.page + (to === blocks.length ? COST.lastEmpty : COST.empty) * empty * empty,
      pages: 1,
    });
  }
  if (found.length > 0) return found;
  // Nothing fits below a chapter's opening: it stands alone. A block that fits no page at all has a page to itself.
  return first ? [alone] : [{ to: from + 1, page: { kind: 'blocks', from, to: from + 1 }, cost: COST.page, pages: 1 }];
}
