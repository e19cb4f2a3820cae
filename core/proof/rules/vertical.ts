/** Rule 20: how far systems stand apart, and where facing pages begin and end. */

import { pairs } from '../../base/list.js';
import { type Finding, finding } from '../fault.js';
import { type PlacedPage, spotOf } from '../placed-page.js';
import { round } from '../placed-system.js';
import type { Rule } from '../rule.js';
import { asksForRoom, gapsOf, isWithin, type SpreadPage } from '../spread-page.js';
import { LIMIT } from '../tolerance.js';

/** On one page systems stand at one distance, wider only where the ink asks for it (Gould p. 488). */
export function verticalAir(placed: PlacedPage): Finding[] {
  const findings: Finding[] = [];
  const gaps = gapsOf(placed);
  for (const { upper, lower, step, white } of gaps) {
    if (white < LIMIT.systemInk - LIMIT.same) {
      findings.push(
        finding(spotOf(placed, lower), 'The ink of two systems comes too near.', {
          amount: round(white),
          limit: LIMIT.systemInk,
          unit: 'sp',
        }),
      );
    }
    if (step - 4 < LIMIT.systemStaff - LIMIT.same) {
      findings.push(
        finding(spotOf(placed, upper), 'Two staves stand too near.', { amount: round(step - 4), limit: LIMIT.systemStaff, unit: 'sp' }),
      );
    }
  }
  const own = gaps.filter(isWithin);
  const least = Math.min(...own.map((g) => g.step));
  const loose = own.find((g) => g.step > least + LIMIT.systemEven && !asksForRoom(g));
  if (loose) {
    const what = 'A system stands farther off than its neighbours, and no ink demands it.';
    findings.push(finding(spotOf(placed, loose.lower), what, { amount: round(loose.step - least), limit: LIMIT.systemEven, unit: 'sp' }));
  }
  return findings;
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
  const end = pages.findIndex((page, i) => i >= from && !page.music);
  const chapter = pages.slice(from, end < 0 ? pages.length : end);
  return pairs(chapter).some(([here, next]) => here.exercises.some((id) => next.exercises.includes(id)));
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
 * have their own distances. The parts of an ensemble share their pages and cuts: a page is full when it is in one of them, and an
 * exercise is cut well enough where another cut would be too uneven in one of them.
 */
export function facingPages(pages: readonly SpreadPage[], set: readonly (readonly SpreadPage[])[] = [pages]): Finding[] {
  const findings: Finding[] = [];
  pages.forEach((left, i) => {
    const right = pages[i + 1];
    if (!right?.music || !left.music || left.placed.page.side !== 'left' || right.placed.page.side !== 'right') return;
    const { scale } = left;
    const tell = (page: SpreadPage, what: string, amount: number, limit: number): void => {
      findings.push(finding({ page: page.placed.page.label }, what, { amount: round(amount), limit, unit: 'sp' }));
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
  return findings;
}

export const VERTICAL_AIR: Rule = {
  number: 20,
  id: 'vertical-air',
  title: 'Systems keep apart',
  check: {
    page: ({ placed }) => verticalAir(placed),
    sharedPages: (parts) => parts.map((pages) => facingPages(pages, parts)),
  },
};
