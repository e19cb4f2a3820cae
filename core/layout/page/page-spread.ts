/**
 * The distances of a page and of the page that faces it. Systems stand at one distance from staff to staff, wider only
 * where their ink demands it (Gould p. 488); it is chosen so that the page is filled. Facing pages begin and end at one
 * height where they can, and then their distances differ by no more than half a space.
 */
import type { Pt } from '../../base/units.js';
import { SYSTEM_AIR } from '../music/exercise-block.js';

/** Air between exercises and how wide it may be, in staff spaces (house). */
export const BLOCK_AIR = { least: 2.6, most: 7.6 } as const;

/** Widest distance from top line to top line, in spaces. */
const WIDEST = SYSTEM_AIR.leastStep + SYSTEM_AIR.most;

/** Distance from top line to top line on a page that cannot be filled, in spaces (house). */
export const COMFORTABLE = SYSTEM_AIR.leastStep + 0.8 * SYSTEM_AIR.most;

/** Distances of facing pages differ by no more than this, in spaces. */
export const FACING = 0.5;

/** What stands on a page. Heights in points. */
export type PageContent = {
  /** Everything but the distances between systems and between exercises. */
  readonly fixed: Pt;
  /** Least distances from top line to top line of its systems. */
  readonly steps: readonly Pt[];
  /** Number of gaps between exercises. */
  readonly gaps: number;
  readonly room: Pt;
  /** Points per staff space. */
  readonly scale: Pt;
  /** Last page of its chapter: it may end where it ends. */
  readonly last: boolean;
};

/** Distance between systems and air between exercises, in spaces. */
export type Distances = { readonly step: number; readonly air: number };

/** Air between exercises that goes with a distance between systems. */
const airFor = (step: number): number => BLOCK_AIR.least + ((step - SYSTEM_AIR.leastStep) / SYSTEM_AIR.most) * BLOCK_AIR.most;

const WIDEST_AIR = BLOCK_AIR.least + BLOCK_AIR.most;

export function heightOf({ fixed, steps, gaps, scale }: PageContent, { step, air }: Distances): Pt {
  let height = fixed + gaps * air * scale;
  for (const least of steps) height += Math.max(least, step * scale);
  return height;
}

const spread = (step: number): Distances => ({ step, air: airFor(step) });

/** The widest distance at which the page is no higher than this, within limits. */
function widestWithin(page: PageContent, height: Pt, at: (step: number) => Distances): number {
  let [low, high]: [number, number] = [SYSTEM_AIR.leastStep, WIDEST];
  if (heightOf(page, at(high)) <= height) return high;
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    if (heightOf(page, at(middle)) <= height) low = middle;
    else high = middle;
  }
  return low;
}

/** With this distance between systems, the air between exercises that fills the page to this height, within its limits. */
function airWithin(page: PageContent, step: number, height: Pt): number {
  if (page.gaps === 0) return airFor(step);
  const air = (height - heightOf(page, { step, air: 0 })) / (page.gaps * page.scale);
  return Math.max(BLOCK_AIR.least, Math.min(WIDEST_AIR, air));
}

const reaches = (page: PageContent, distances: Distances, height: Pt): boolean => Math.abs(heightOf(page, distances) - height) < 0.01;

/** A page by itself: filled if it can be, or open at its foot at a comfortable distance. */
function alone(page: PageContent): Distances {
  if (heightOf(page, spread(WIDEST)) < page.room) return spread(COMFORTABLE);
  return spread(widestWithin(page, page.room, spread));
}

/** Distances at which a page is this high: from widest air between its exercises to least. Empty where there are none. */
function range(page: PageContent, height: Pt): readonly [number, number] | undefined {
  if (heightOf(page, { step: WIDEST, air: WIDEST_AIR }) < height - 0.01) return undefined;
  if (heightOf(page, { step: SYSTEM_AIR.leastStep, air: BLOCK_AIR.least }) > height + 0.01) return undefined;
  const wide = widestWithin(page, height, (step) => ({ step, air: WIDEST_AIR }));
  const narrow = widestWithin(page, height, (step) => ({ step, air: BLOCK_AIR.least }));
  return [wide, narrow];
}

/** Both pages at this height with distances nearly alike; undefined where they cannot be. */
function together(left: PageContent, right: PageContent, height: Pt): readonly [Distances, Distances] | undefined {
  const [leftRange, rightRange] = [range(left, height), range(right, height)];
  if (!leftRange || !rightRange) return undefined;
  let [a, b] = [widestWithin(left, height, spread), widestWithin(right, height, spread)];
  // A page without two systems to compare takes the other's distance.
  if (left.steps.length === 0) a = b;
  if (right.steps.length === 0) b = a;
  const apart = Math.abs(a - b) - FACING;
  if (apart > 0) {
    const [low, high] = a < b ? [leftRange, rightRange] : [rightRange, leftRange];
    const up = low[1] - Math.min(a, b);
    const down = Math.max(a, b) - high[0];
    if (up + down < apart) return undefined;
    const rise = (apart * up) / (up + down);
    if (a < b) [a, b] = [a + rise, b - (apart - rise)];
    else [a, b] = [a - (apart - rise), b + rise];
  }
  const one = { step: a, air: airWithin(left, a, height) };
  const two = { step: b, air: airWithin(right, b, height) };
  return reaches(left, one, height) && reaches(right, two, height) ? [one, two] : undefined;
}

/** Heights that both pages may have with distances within half the tolerance of a common one; the greatest of them. */
function commonHeight(pages: readonly PageContent[], step: number): Pt | undefined {
  const within = (distance: number): number => Math.max(SYSTEM_AIR.leastStep, Math.min(WIDEST, distance));
  const [low, high] = [within(step - FACING / 2), within(step + FACING / 2)];
  const most = Math.min(...pages.map((page) => Math.min(page.room, heightOf(page, spread(high)))));
  const least = Math.max(...pages.map((page) => heightOf(page, spread(low))));
  return least <= most ? most : undefined;
}

/** Pages that face each other; `shared` when one exercise stands on both. A page that nothing faces stands alone. */
export function facingDistances(
  left: PageContent | undefined,
  right: PageContent | undefined,
  shared: boolean,
): readonly [Distances | undefined, Distances | undefined] {
  if (!left || !right) return [left && alone(left), right && alone(right)];
  const own = [alone(left), alone(right)] as const;
  // A chapter's opening has less room; where the rooms differ, each page has its own foot.
  const room = left.room === right.room ? left.room : undefined;
  const filled = room === undefined ? undefined : together(left, right, room);
  if (filled) return filled;
  const full = reaches(left, own[0], left.room) && reaches(right, own[1], right.room);
  // Of different exercises, like edges go before like distances; but a chapter's last page need not be opened to its foot.
  if (full && !shared && !(right.last && own[1].step > own[0].step)) return own;
  // The page with less room for its distances sets those of both.
  const stepOf = (page: PageContent, { step }: Distances): number => (page.steps.length > 0 ? step : WIDEST);
  const step = Math.min(stepOf(left, own[0]), stepOf(right, own[1]), WIDEST);
  const height = room === undefined ? undefined : commonHeight([left, right], step);
  const alike = height === undefined ? undefined : together(left, right, height);
  if (alike) return alike;
  return [left.steps.length > 0 ? spread(step) : own[0], right.steps.length > 0 ? spread(step) : own[1]];
}
