/** Rules 21 and 22: what stands where on a page, and where pages turn. */

import { type Mm, ptToMm } from '../../base/units.js';
import type { Document, PageItem } from '../../layout/page/page.js';
import { type Finding, finding } from '../fault.js';
import { blockOf, isFurniture, type PageBox, type PageContents, type PlacedPage, runInk, spotOf } from '../placed-page.js';
import { round } from '../placed-system.js';
import type { Rule } from '../rule.js';
import { LIMIT } from '../tolerance.js';

/** Ink of an item in points; undefined for what leaves none. */
function inkOfItem(item: PageItem): PageBox | undefined {
  if (item.kind === 'text') return runInk(item.run);
  if (item.kind === 'rect') return { x0: item.x, y0: item.y, x1: item.x + item.width, y1: item.y + item.height };
  if (item.kind !== 'path') return undefined;
  const numbers = item.d.flatMap(([, ...points]) => points);
  const [xs, ys] = [numbers.filter((_, i) => i % 2 === 0), numbers.filter((_, i) => i % 2 === 1)];
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
}

/** How far a box leaves another; negative or zero inside it. */
const excess = (box: PageBox, within: PageBox): number =>
  Math.max(within.x0 - box.x0, within.y0 - box.y0, box.x1 - within.x1, box.y1 - within.y1);

/** Rule 21, page by page. `staff` is the height chosen for the edition. */
export function insidePage(document: Document, placed: PlacedPage, staff: Mm): Finding[] {
  const findings: Finding[] = [];
  const block = blockOf(document, placed.page);
  const trim: PageBox = { x0: 0, y0: 0, x1: document.width, y1: document.height };
  for (const item of placed.page.items) {
    const ink = inkOfItem(item);
    if (!ink) continue;
    const out = excess(ink, block);
    const name = item.kind === 'text' ? `The text "${item.run.text.slice(0, 40)}"` : `A ${item.kind}`;
    if (out > LIMIT.insideSlack)
      findings.push(finding(spotOf(placed), `${name} stands outside the margins.`, { amount: round(out), limit: 0, unit: 'pt' }));
    const edge = -excess(ink, trim);
    if (isFurniture(item) && edge < LIMIT.pageNumber) {
      findings.push(
        finding(spotOf(placed), `${name} stands too near to the edge of the page.`, {
          amount: round(edge),
          limit: LIMIT.pageNumber,
          unit: 'pt',
        }),
      );
    }
  }
  for (const system of placed.systems) {
    const out = excess(system.ink, block);
    if (out > LIMIT.insideSlack)
      findings.push(finding(spotOf(placed, system), 'The music stands outside the margins.', { amount: round(out), limit: 0, unit: 'pt' }));
    if (system.exercise === undefined) continue;
    const height = ptToMm(system.scale * 4);
    if (Math.abs(height - staff) > LIMIT.staffSlack) {
      findings.push(
        finding(spotOf(placed, system), 'The staff has not the height chosen.', {
          amount: round(height),
          limit: staff,
          unit: 'mm',
        }),
      );
    }
  }
  return findings;
}

/** Rule 21, once for the document: margins and staff height. */
export function pageMeasures(document: Document, staff: Mm): Finding[] {
  const findings: Finding[] = [];
  for (const [name, value] of Object.entries(document.margins)) {
    if (value >= LIMIT.margin - LIMIT.insideSlack) continue;
    findings.push(
      finding({}, `The ${name} margin is too narrow to print and hold.`, { amount: round(value), limit: LIMIT.margin, unit: 'pt' }),
    );
  }
  const { inner, outer } = document.margins;
  if (inner < outer - LIMIT.insideSlack)
    findings.push(
      finding({}, 'The inner margin is narrower than the outer one.', { amount: round(inner), limit: round(outer), unit: 'pt' }),
    );
  const [least, most] = LIMIT.staff;
  if (staff < least - LIMIT.staffSlack || staff > most + LIMIT.staffSlack) {
    findings.push(
      finding({}, 'The staff has an unsuitable height.', { amount: round(staff), limit: staff < least ? least : most, unit: 'mm' }),
    );
  }
  return findings;
}

/**
 * Rule 22. An exercise on two pages stands on a left page and the right one facing it. A longer one must turn somewhere:
 * it begins on a left page.
 */
export function pageTurns(pages: readonly PageContents[]): Finding[] {
  const findings: Finding[] = [];
  const spans = new Map<string, { readonly begins: PageContents; readonly from: number; to: number }>();
  pages.forEach((page, i) => {
    for (const id of page.exercises) {
      const span = spans.get(id);
      if (span) span.to = i;
      else spans.set(id, { begins: page, from: i, to: i });
    }
    for (const exercise of page.titlesAlone)
      findings.push(finding({ page: page.label, exercise }, 'A title stands alone on its page without its music.'));
  });
  for (const [exercise, { begins, from, to }] of spans) {
    if (to > from && begins.side === 'right') {
      findings.push(
        finding(
          { page: begins.label, exercise },
          `The exercise begins on a right-hand page and goes on over ${to - from === 1 ? 'a turn' : `${to - from} pages`}.`,
        ),
      );
    }
  }
  pages.forEach((page, i) => {
    const before = pages[i - 1];
    if (before && before.side === page.side)
      findings.push(finding({ page: page.label }, `Two ${page.side}-hand pages follow one another.`));
  });
  return findings;
}

export const INSIDE_PAGE: Rule = {
  number: 21,
  id: 'inside-page',
  title: 'All ink stands inside the margins',
  check: {
    page: ({ document, placed, staff }) => insidePage(document, placed, staff),
    edition: ({ document, staff }) => pageMeasures(document, staff),
  },
};

export const PAGE_TURNS: Rule = {
  number: 22,
  id: 'page-turns',
  title: 'No exercise is cut by a page turn',
  check: { edition: ({ pages }) => pageTurns(pages) },
};
