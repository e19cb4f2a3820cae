/** Rule 20: how far systems stand apart, and where facing pages begin and end. */

import type { Pt } from '../../base/units.js';
import { STYLE } from '../../engrave/style.js';
import type { Document } from '../../layout/page/page.js';
import { type Fault, fault } from '../fault.js';
import { blockOf, isFurniture, type PageSystem, type PlacedPage, runInk, spotOf } from '../placed-page.js';
import { round } from '../placed-system.js';
import { LIMIT } from '../tolerance.js';

/** White between two systems in staff spaces: the least over columns at most `apart` spaces from each other. */
function whiteOf(upper: PageSystem, lower: PageSystem, apart: number): number {
  let least = Number.POSITIVE_INFINITY;
  lower.tops.forEach((top, i) => {
    for (let j = i - apart; j <= i + apart; j++) least = Math.min(least, top - (upper.bottoms[j] ?? Number.NEGATIVE_INFINITY));
  });
  return least / upper.scale;
}

/** How far to the side ink still makes two systems keep apart, in staff spaces (house). */
const SIDEWAYS = 2;

type Gap = {
  readonly upper: PageSystem;
  readonly lower: PageSystem;
  readonly step: number;
  /** Straight up and down; and with ink a little to the side counted too, which is what asks for room. */
  readonly white: number;
  readonly room: number;
};

/** Systems that follow one another on a page, side-by-side examples left out. Distances in staff spaces. */
function gapsOf({ systems }: PlacedPage): Gap[] {
  return systems.slice(1).flatMap((lower, i) => {
    const upper = systems[i] as PageSystem;
    if (lower.y <= upper.y || lower.exercise === undefined || upper.exercise === undefined) return [];
    return [
      { upper, lower, step: (lower.y - upper.y) / upper.scale, white: whiteOf(upper, lower, 0), room: whiteOf(upper, lower, SIDEWAYS) },
    ];
  });
}

/** Ink asks for the distance: nearer, and it would have less than its air. */
const asked = ({ room }: Pick<Gap, 'room'>): boolean => room <= LIMIT.systemInk + LIMIT.systemEven;

/** Two systems of one exercise, between which no heading stands. */
const within = ({ upper, lower }: Gap): boolean => upper.exercise === lower.exercise;

/** On one page systems stand at one distance, wider only where the ink asks for it (Gould p. 488). */
export function verticalAir(placed: PlacedPage): Fault[] {
  const faults: Fault[] = [];
  const gaps = gapsOf(placed);
  for (const { upper, lower, step, white } of gaps) {
    if (white < LIMIT.systemInk - LIMIT.same) {
      faults.push(
        fault(20, spotOf(placed, lower), 'The ink of two systems comes too near.', {
          amount: round(white),
          limit: LIMIT.systemInk,
          unit: 'sp',
        }),
      );
    }
    if (step - 4 < LIMIT.systemStaff - LIMIT.same) {
      faults.push(
        fault(20, spotOf(placed, upper), 'Two staves stand too near.', { amount: round(step - 4), limit: LIMIT.systemStaff, unit: 'sp' }),
      );
    }
  }
  const own = gaps.filter(within);
  const least = Math.min(...own.map((g) => g.step));
  const loose = own.find((g) => g.step > least + LIMIT.systemEven && !asked(g));
  if (loose) {
    const what = 'A system stands farther off than its neighbours, and no ink demands it.';
    faults.push(fault(20, spotOf(placed, loose.lower), what, { amount: round(loose.step - least), limit: LIMIT.systemEven, unit: 'sp' }));
  }
  return faults;
}

/** What the rule of facing pages needs to know of a page. */
export type SpreadPage = {
  readonly placed: Pick<PlacedPage, 'page'>;
  readonly music: boolean;
  /** Points per staff space. */
  readonly scale: Pt;
  /** Highest ink, lowest ink (with the air under a last staff), and the foot of the text block. */
  readonly top: Pt;
  readonly foot: Pt;
  readonly bottom: Pt;
  /**
   * Least distance between systems of one exercise, in spaces, whether ink asks for it, and the most that a system takes, by
   * its distance or by its own ink; undefined without two such systems.
   */
  readonly step: { readonly least: number; readonly asked: boolean; readonly most: number } | undefined;
  /** From its first system to the second of the same exercise, and from the last but one to the last, in spaces. */
  readonly edges?: { readonly first: number; readonly last: number };
  readonly exercises: readonly string[];
  /** Height of its first exercise as printed. */
  readonly firstHeight: Pt;
};

export function spreadPage(document: Document, placed: PlacedPage): SpreadPage {
  const systems = placed.systems.filter((s) => s.exercise !== undefined);
  const exercises = [...new Set(systems.map((s) => s.exercise as string))];
  const scale = systems[0]?.scale ?? 0;
  const runs = placed.runs.filter(({ item }) => !isFurniture(item)).map(({ run, item }) => ({ ink: runInk(run), item }));
  const lowest = (s: PageSystem): Pt => Math.max(s.ink.y1, s.y + (4 + STYLE.wordsToStaff) * s.scale);
  const top = Math.min(...runs.map(({ ink }) => ink.y0), ...systems.map((s) => s.ink.y0));
  const first = exercises[0];
  const ofFirst = runs.filter(({ item }) => item.tag.kind === 'element' && item.tag.id.startsWith(`exercise ${first}-`));
  const own = gapsOf(placed).filter(within);
  const least = own.reduce<Gap | undefined>((a, b) => (a && a.step <= b.step ? a : b), undefined);
  const [firstGap, lastGap] = [own[0], own.at(-1)];
  return {
    placed: { page: placed.page },
    music: placed.page.kind === 'music' && exercises.length > 0,
    scale,
    top,
    foot: Math.max(...runs.map(({ ink }) => ink.y1), ...systems.map(lowest)),
    bottom: blockOf(document, placed.page).y1,
    step: least && {
      least: least.step,
      asked: asked(least),
      most: Math.max(...own.map((g) => g.step), ...systems.map((s) => (lowest(s) - s.ink.y0) / s.scale + LIMIT.systemInk)),
    },
    ...(firstGap && lastGap ? { edges: { first: firstGap.step, last: lastGap.step } } : {}),
    exercises,
    firstHeight: Math.max(...ofFirst.map(({ ink }) => ink.y1), ...systems.filter((s) => s.exercise === first).map(lowest)) - top,
  };
}

/** The page is a chapter's last, so it may end where its music ends. */
const ends = (next: SpreadPage | undefined): boolean => !next?.music;

/** The next exercise, as it is printed on the next page, does not fit under what stands on this one. */
function isFull(page: SpreadPage, next: SpreadPage, afterNext: SpreadPage | undefined): boolean {
  const [first] = next.exercises;
  const long = first !== undefined && (page.exercises.includes(first) || (afterNext?.exercises.includes(first) ?? false));
  return long || page.foot + LIMIT.exerciseAir * page.scale + next.firstHeight > page.bottom + LIMIT.insideSlack;
}

/**
 * An exercise longer than a page follows in the chapter. It begins on a left page, so one page less before it would only
 * leave a blank one.
 */
function turnFollows(pages: readonly SpreadPage[], from: number): boolean {
  for (let i = from; pages[i]?.music && pages[i + 1]?.music; i++) {
    const [here, next] = [pages[i] as SpreadPage, pages[i + 1] as SpreadPage];
    if (here.exercises.some((id) => next.exercises.includes(id))) return true;
  }
  return false;
}

/** How much lower the right page ends, in spaces, and how much lower or higher it may where one exercise is cut between them. */
function feetOf(left: SpreadPage, right: SpreadPage): { readonly feet: number; readonly limit: number } {
  const system = Math.max(left.step?.most ?? 0, right.step?.most ?? 0);
  return { feet: (right.foot - left.foot) / left.scale, limit: system + LIMIT.pageFoot };
}

/** Cut one system earlier or later, so that the fuller page has less, the pages of this part would end too far apart. */
function stuck(left: SpreadPage, right: SpreadPage, fuller: 'left' | 'right'): boolean {
  const { feet, limit } = feetOf(left, right);
  const moved = fuller === 'right' ? (right.edges?.first ?? 0) : -(left.edges?.last ?? 0);
  return moved === 0 || Math.abs(feet - 2 * moved) > limit;
}

/**
 * Facing pages of music begin and end at one height, with the same distance between systems (Gould p. 488). Excepted are
 * the opening page of a chapter, which has its own foot, and at its foot a page that ends a chapter, that cannot hold the
 * next exercise whole, or that may not, since a later exercise must begin on a left page: it has the distances of the page
 * it faces. Pages of an exercise longer than a page are cut between
 * systems, so that their feet may differ by less than a system. Pages of different exercises that end at one height may
 * have their own distances. The parts of a set share their pages and cuts: a page is full when it is in one of them, and an
 * exercise is cut well enough where another cut would be too uneven in one of them.
 */
export function facingPages(pages: readonly SpreadPage[], set: readonly (readonly SpreadPage[])[] = [pages]): Fault[] {
  const faults: Fault[] = [];
  pages.forEach((left, i) => {
    const right = pages[i + 1];
    if (!right?.music || !left.music || left.placed.page.side !== 'left' || right.placed.page.side !== 'right') return;
    const { scale } = left;
    const tell = (page: SpreadPage, what: string, amount: number, limit: number): void => {
      faults.push(fault(20, { page: page.placed.page.label }, what, { amount: round(amount), limit, unit: 'sp' }));
    };
    const tops = (right.top - left.top) / scale;
    if (Math.abs(tops) > LIMIT.pageTop) tell(right, 'Facing pages do not begin at one height.', Math.abs(tops), LIMIT.pageTop);
    const feet = (right.foot - left.foot) / scale;
    const shared = left.exercises.some((id) => right.exercises.includes(id));
    const uneven = Math.abs(feet) > LIMIT.pageFoot;
    const [a, b] = [left.step, right.step];
    if (a && b && (shared || uneven)) {
      const wider = a.least > b.least ? a : b;
      const apart = Math.abs(a.least - b.least);
      if (apart > LIMIT.systemEven + LIMIT.same && !wider.asked)
        tell(right, 'Systems of facing pages stand at different distances, and no ink demands it.', apart, LIMIT.systemEven);
    }
    if (!uneven) return;
    const higher = feet > 0 ? left : right;
    const after = feet > 0 ? i + 1 : i + 2;
    const full = (part: readonly SpreadPage[]): boolean => {
      const at = part.findIndex(({ placed }) => placed.page.label === higher.placed.page.label);
      const [here, then] = [part[at], part[at + 1]];
      return here !== undefined && then !== undefined && isFull(here, then, part[at + 2]);
    };
    if (ends(pages[after]) || set.some(full) || turnFollows(pages, after)) {
      if (!shared || feet < 0) return;
    }
    if (shared && Math.abs(feet) <= feetOf(left, right).limit) return;
    const cutsNoBetter = (part: readonly SpreadPage[]): boolean => {
      const at = part.findIndex(({ placed }) => placed.page.label === left.placed.page.label);
      const [here, facing] = [part[at], part[at + 1]];
      return here !== undefined && facing !== undefined && stuck(here, facing, feet > 0 ? 'right' : 'left');
    };
    if (shared && set.length > 1 && set.some((part) => part !== pages && cutsNoBetter(part))) return;
    tell(higher, 'Facing pages do not end at one height.', Math.abs(feet), LIMIT.pageFoot);
  });
  return faults;
}
