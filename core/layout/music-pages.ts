/** A chapter's exercises → pages: filled, and spread over the height so that full pages begin and end alike. */
import { STYLE } from '../engrave/style.js';
import type { Pt } from '../units.js';
import { type ExerciseBlock, SYSTEM_AIR, type SystemPlan, stackHeight } from './exercise-block.js';
import type { ExerciseHeading } from './exercise-heading.js';
import { bodyOf, type Frame, type MatterPage, pagesOn, type Setting } from './geometry.js';
import type { PageItem, Tag } from './page.js';
import { type FillBlock, type FilledPage, fillPages } from './page-fill.js';

export type MusicBlock = {
  readonly id: string;
  readonly block: ExerciseBlock;
  readonly heading: ExerciseHeading;
  /** Text alternative of the engraved music: says in words what it is. */
  readonly words: string;
  /** Set under the last system: the breaths at each tempo. */
  readonly foot?: ExerciseHeading;
};

export type MusicPages = {
  /** The pages; with an opening, the first one holds only what is added to the opening's last page. */
  readonly pages: readonly MatterPage[];
  /** For each block, the index of the page it begins on. */
  readonly starts: readonly number[];
};

/** Air between exercises and its limits, in staff spaces (house). */
export const BLOCK_AIR = { least: 3.2, most: 7 } as const;

/** Which exercises stand on which page, and where those longer than a page are cut: systems [from, to) of each part. */
export type Fill = {
  readonly pages: readonly FilledPage[];
  readonly cuts: readonly (readonly { readonly from: number; readonly to: number }[])[];
};

/** A stretch of systems of one block as it stands on one page. */
type Stretch = { readonly music: MusicBlock; readonly from: number; readonly to: number };

const footOf = ({ music, to }: Stretch): ExerciseHeading | undefined => (to === music.block.systems.length ? music.foot : undefined);

const heightOf = (stretch: Stretch): Pt =>
  (stretch.from === 0 ? stretch.music.heading.height : 0) +
  stackHeight(stretch.music.block, stretch.from, stretch.to) +
  (footOf(stretch)?.height ?? 0);

/** Cuts a block longer than a page into parts of like size, each of which fits. */
export function partsOf(music: MusicBlock, room: Pt): Stretch[] {
  const count = music.block.systems.length;
  for (let parts = 1; parts < count; parts++) {
    const cuts = Array.from({ length: parts }, (_, i) => ({
      music,
      from: Math.round((i * count) / parts),
      to: Math.round(((i + 1) * count) / parts),
    }));
    if (cuts.every((part) => heightOf(part) <= room)) return cuts;
  }
  return Array.from({ length: count }, (_, i) => ({ music, from: i, to: i + 1 }));
}

/** How far the distances of a page open: a share of each one's limit, 1 when the page is filled by it exactly. */
function openness(stretches: readonly Stretch[], spare: Pt): { share: number; full: boolean } {
  let limit = 0;
  for (const { music, from, to } of stretches) limit += (to - from - 1) * SYSTEM_AIR.most * music.block.scale;
  limit += (stretches.length - 1) * BLOCK_AIR.most * (stretches[0]?.music.block.scale ?? 0);
  if (limit <= 0) return { share: 0, full: false };
  // A page too empty to be filled well is set at a comfortable distance and left open at its foot.
  return spare <= limit ? { share: spare / limit, full: true } : { share: 0.8, full: false };
}

function placeStretch(stretch: Stretch, body: Frame, top: Pt, share: number): { items: PageItem[]; bottom: Pt } {
  const { music, from, to } = stretch;
  const { block } = music;
  const items: PageItem[] = [];
  let y = top;
  if (from === 0) {
    items.push(...music.heading.place(body, y));
    y += music.heading.height;
  }
  const tag: Tag = { kind: 'element', type: 'Figure', id: `music:${music.id}`, alt: music.words };
  y += (block.systems[from] as SystemPlan).above;
  for (let i = from; i < to; i++) {
    items.push({ kind: 'drawing', x: body.left, y, scale: block.scale, draw: () => block.draw(i), exercise: music.id, system: i, tag });
    if (i < to - 1) y += (block.steps[i] as Pt) + share * SYSTEM_AIR.most * block.scale;
  }
  const last = block.systems[to - 1] as SystemPlan;
  const bottom = y + Math.max(last.below, (4 + STYLE.wordsToStaff) * block.scale);
  const foot = footOf(stretch);
  if (foot) items.push(...foot.place(body, bottom));
  return { items, bottom: bottom + (foot?.height ?? 0) };
}

function placePage(stretches: readonly Stretch[], body: Frame): PageItem[] {
  const scale = stretches[0]?.music.block.scale ?? 0;
  const air = BLOCK_AIR.least * scale;
  const used = stretches.reduce((sum, s) => sum + heightOf(s), 0) + (stretches.length - 1) * air;
  const { share } = openness(stretches, body.height - used);
  const items: PageItem[] = [];
  let y = body.top;
  for (const stretch of stretches) {
    const placed = placeStretch(stretch, body, y, share);
    items.push(...placed.items);
    y = placed.bottom + air + share * BLOCK_AIR.most * stretch.music.block.scale;
  }
  return items;
}

/** What a chapter's opening leaves of its page, in points from the page's top. */
export type Opening = { readonly top: Pt; readonly bottom: Pt };

/** The best fill for one player. */
function fillOf(blocks: readonly MusicBlock[], { geometry, styles }: Setting, opening: Opening | undefined): Fill {
  const body = bodyOf(geometry, styles);
  const cuts = blocks.map((b) => partsOf(b, body.height));
  const fill: FillBlock[] = blocks.map((music, i) => ({
    least: heightOf({ music, from: 0, to: music.block.systems.length }),
    pages: cuts[i]?.length ?? 1,
  }));
  const pages = fillPages({
    blocks: fill,
    firstRoom: opening ? opening.bottom - opening.top : body.height,
    room: body.height,
    firstSide: geometry.side,
    air: BLOCK_AIR.least * (blocks[0]?.block.scale ?? 0),
  });
  return { pages, cuts };
}

/** `geometry` is that of the first page, which `opening`, if given, has begun. Filled as told or as is best. */
export function musicPages(blocks: readonly MusicBlock[], setting: Setting, opening: Opening | undefined, told?: Fill): MusicPages {
  const { geometry, styles } = setting;
  const fill = told ?? fillOf(blocks, setting, opening);
  const starts: number[] = [];
  const pages = fill.pages.map((page: FilledPage, index): MatterPage => {
    const own = bodyOf(pagesOn(geometry, index), styles);
    const frame = index === 0 && opening ? { ...own, ...opening, height: opening.bottom - opening.top } : own;
    if (page.kind === 'blank') return { kind: 'blank', items: [] };
    if (page.kind === 'part') {
      if (page.part === 0) starts[page.block] = index;
      const music = blocks[page.block] as MusicBlock;
      const cut = fill.cuts[page.block]?.[page.part] as Stretch;
      return { kind: 'music', items: placePage([{ ...cut, music }], frame) };
    }
    const stretches = blocks.slice(page.from, page.to).map((music, i): Stretch => {
      starts[page.from + i] = index;
      return { music, from: 0, to: music.block.systems.length };
    });
    return { kind: 'music', items: placePage(stretches, frame) };
  });
  return { pages, starts };
}
