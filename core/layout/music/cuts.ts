/**
 * Where an exercise longer than a page is cut: into the fewest pages, as evenly as can be, with the widest distances that
 * allow it. One exercise in one edition, or in all parts of an ensemble, which share their cuts.
 */
import { first } from '../../base/list.js';
import type { Pt } from '../../base/units.js';
import { COMFORTABLE } from '../page/page-spread.js';
import { type BlockHeights, type Cut, heightOf, opensBy, tailOf, wholeOf } from './block-heights.js';
import { SYSTEM_AIR } from './exercise-block.js';

/** An exercise in one part and the room of a page of that part. */
export type CutBlock = { readonly heights: BlockHeights; readonly room: Pt };

/** With the height that is wanted of each of its pages. */
type WishedCut = CutBlock & { readonly wanted: Pt };

/** Height of these systems at this distance in staff spaces, without the white at their foot. */
const openedHeight = ({ heights }: CutBlock, cut: Cut, step: number): Pt =>
  heightOf(heights, cut) + opensBy(heights, cut, step) - tailOf(heights, cut);

/** Cuts an exercise that is longer than a page in any part; the whole exercise where it is in none. */
export function evenCuts(parts: readonly CutBlock[]): readonly Cut[] {
  const whole = wholeOf(first(parts).heights);
  if (parts.every((part) => heightOf(part.heights, whole) - tailOf(part.heights, whole) <= part.room)) return [whole];
  const full = parts.map((part) => ({ ...part, wanted: part.room }));
  const fewest = fewestCuts(full, SYSTEM_AIR.leastStep);
  for (let step: number = COMFORTABLE; step > SYSTEM_AIR.leastStep; step -= 0.5) {
    const wished = parts.map((part) => ({ ...part, wanted: openedHeight(part, whole, step) / fewest.length }));
    const cuts = fewestCuts(wished, step);
    if (cuts.length === fewest.length) return cuts;
  }
  return fewest;
}

/**
 * The fewest cuts that fit in every part with systems at this distance in spaces. Of all such cuts those nearest to the
 * heights wanted: the least sum over parts and pages of squares, each a share of the part's own page.
 */
function fewestCuts(parts: readonly WishedCut[], step: number): readonly Cut[] {
  const count = wholeOf(first(parts).heights).to;
  type Found = { readonly cuts: readonly Cut[]; readonly squares: number };
  /** Best cuts of the systems before each one, on so many pages. */
  let found: (Found | undefined)[] = [{ cuts: [], squares: 0 }];
  for (let pages = 0; pages < count; pages++) {
    const more: (Found | undefined)[] = Array.from({ length: count + 1 }, () => undefined);
    found.forEach((before, from) => {
      if (!before) return;
      for (let to = from + 1; to <= count; to++) {
        const cut = { from, to };
        const tries = parts.map((part) => ({ ...part, height: openedHeight(part, cut, step) }));
        // A system that fits no page has one to itself.
        if (to > from + 1 && tries.some(({ height, room }) => height > room)) break;
        const squares = tries.reduce((sum, { height, wanted, room }) => sum + ((height - wanted) / room) ** 2, before.squares);
        const known = more[to];
        if (!known || squares < known.squares) more[to] = { cuts: [...before.cuts, cut], squares };
      }
    });
    const whole = more[count];
    if (whole) return whole.cuts;
    found = more;
  }
  return [];
}
