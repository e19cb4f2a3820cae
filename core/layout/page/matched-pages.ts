/** The pages of a chapter, in one edition or in all parts of an ensemble, which share them: "line 3, bar 2" is one place for everyone. */
import { at, zip } from '../../base/list.js';
import type { Pt } from '../../base/units.js';
import { type BlockHeights, type Cut, heightOf, opensBy, wholeOf } from '../music/block-heights.js';
import { evenCuts } from '../music/cuts.js';
import { SYSTEM_AIR } from '../music/exercise-block.js';
import { type FilledPage, type FillSpec, fillTogether, type Side } from './page-fill.js';
import { BLOCK_AIR } from './page-spread.js';

/** Which exercises stand on which page, and where those longer than a page are cut. */
export type Fill = { readonly pages: readonly FilledPage[]; readonly cuts: readonly (readonly Cut[])[] };

/** A chapter in one part: the heights of its exercises, the room of its pages and of the page that its opening has begun. */
export type ChapterHeights = {
  readonly blocks: readonly BlockHeights[];
  readonly room: Pt;
  readonly firstRoom: Pt;
  /** Points per staff space. */
  readonly scale: Pt;
};

/** One fill of a chapter for all parts: every page fits in each, and over all parts the pages are filled as well as can be. */
export function matchedFill(parts: readonly ChapterHeights[], firstSide: Side): Fill {
  const count = parts[0]?.blocks.length ?? 0;
  const cuts = Array.from({ length: count }, (_, b) => evenCuts(parts.map(({ blocks, room }) => ({ heights: at(blocks, b), room }))));
  const specs = parts.map(
    ({ blocks, room, firstRoom, scale }): FillSpec => ({
      blocks: zip(blocks, cuts).map(([heights, own]) => {
        const whole = wholeOf(heights);
        return {
          least: heightOf(heights, whole),
          opens: opensBy(heights, whole, SYSTEM_AIR.leastStep + SYSTEM_AIR.most),
          tail: heights.tail,
          pages: own.length,
        };
      }),
      firstRoom,
      room,
      firstSide,
      air: BLOCK_AIR.least * scale,
      airOpens: BLOCK_AIR.most * scale,
    }),
  );
  return { pages: fillTogether(specs), cuts };
}
