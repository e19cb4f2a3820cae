/** Pages that all parts of a set share: filled so that every exercise fits in the part that needs the most height for it. */
import { STYLE } from '../engrave/style.js';
import type { Pt } from '../units.js';
import type { Fill, MusicBlock } from './music-pages.js';
import { fillPages, type Side } from './page-fill.js';
import { BLOCK_AIR } from './page-spread.js';

/** Heights of one exercise in one part, in points: plain data. */
export type BlockHeights = {
  readonly heading: Pt;
  readonly foot: Pt;
  /** By system: ink above its top line; from its top line to below it. */
  readonly above: readonly Pt[];
  readonly below: readonly Pt[];
  /** From each top line to the next. */
  readonly steps: readonly Pt[];
};

export function blockHeights({ block, heading, foot }: MusicBlock): BlockHeights {
  const least = (4 + STYLE.wordsToStaff) * block.scale;
  return {
    heading: heading.height,
    foot: foot?.height ?? 0,
    above: block.systems.map((system) => system.above),
    below: block.systems.map((system) => Math.max(system.below, least)),
    steps: block.steps,
  };
}

/** Height of the systems [from, to) with the heading or the foot that goes with them. */
export function stretchHeight({ heading, foot, above, below, steps }: BlockHeights, from: number, to: number): Pt {
  let height = (above[from] as number) + (below[to - 1] as number);
  for (let i = from; i < to - 1; i++) height += steps[i] as number;
  return height + (from === 0 ? heading : 0) + (to === above.length ? foot : 0);
}

/** A chapter in one part: the heights of its exercises, the room of its pages and of the page that its opening has begun. */
export type ChapterHeights = {
  readonly blocks: readonly BlockHeights[];
  readonly room: Pt;
  readonly firstRoom: Pt;
  /** Points per staff space. */
  readonly scale: Pt;
};

type Cut = { readonly from: number; readonly to: number };

/** Cuts a block longer than a page into the fewest parts of like size each of which fits in every part of the set. */
function cutsOf(index: number, chapters: readonly ChapterHeights[]): Cut[] {
  const count = chapters[0]?.blocks[index]?.above.length ?? 0;
  const fits = ({ from, to }: Cut): boolean =>
    chapters.every(({ blocks, room }) => stretchHeight(blocks[index] as BlockHeights, from, to) <= room);
  for (let parts = 1; parts < count; parts++) {
    const cuts = Array.from({ length: parts }, (_, i) => ({
      from: Math.round((i * count) / parts),
      to: Math.round(((i + 1) * count) / parts),
    }));
    if (cuts.every(fits)) return cuts;
  }
  return Array.from({ length: count }, (_, i) => ({ from: i, to: i + 1 }));
}

/** One fill of a chapter for all parts; each part's heights count as shares of its own page. */
export function matchedFill(chapters: readonly ChapterHeights[], firstSide: Side): Fill {
  const count = chapters[0]?.blocks.length ?? 0;
  const cuts = Array.from({ length: count }, (_, i) => cutsOf(i, chapters));
  const tallest = (measure: (chapter: ChapterHeights) => number): number =>
    Math.max(...chapters.map((chapter) => measure(chapter) / chapter.room));
  const pages = fillPages({
    blocks: cuts.map((parts, i) => ({
      least: tallest(({ blocks }) => stretchHeight(blocks[i] as BlockHeights, 0, (blocks[i] as BlockHeights).above.length)),
      pages: parts.length,
    })),
    firstRoom: Math.min(...chapters.map(({ firstRoom, room }) => firstRoom / room)),
    room: 1,
    firstSide,
    air: tallest(({ scale }) => BLOCK_AIR.least * scale),
  });
  return { pages, cuts };
}
