/** Rules 21 and 22: what stands where on a page, and where pages turn. */

import { type Mm, ptToMm } from '../../base/units.js';
import type { Document, PageItem } from '../../layout/page/page.js';
import { type Fault, fault } from '../fault.js';
import { blockOf, isFurniture, type PageBox, type PlacedPage, runInk, spotOf } from '../placed-page.js';
import { round } from '../placed-system.js';
import { LIMIT } from '../tolerance.js';

/** Ink of an item in points; undefined for what leaves none. */
function inkOfItem(item: PageItem): PageBox | undefined {
  if (item.kind === 'text') return runInk(item.run);
  if (item.kind === 'rect') return { x0: item.x, y0: item.y, x1: item.x + item.width, y1: item.y + item.height };
  if (item.kind !== 'path') return undefined;
  const points = item.d.flatMap((step) => {
    const numbers = step.slice(1) as number[];
    return numbers.flatMap((x, i) => (i % 2 === 0 ? [{ x, y: numbers[i + 1] as number }] : []));
  });
  const [xs, ys] = [points.map((p) => p.x), points.map((p) => p.y)];
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
}

/** How far a box leaves another; negative or zero inside it. */
const excess = (box: PageBox, within: PageBox): number =>
  Math.max(within.x0 - box.x0, within.y0 - box.y0, box.x1 - within.x1, box.y1 - within.y1);

/** Rule 21, page by page. `staff` is the height chosen for the edition. */
export function insidePage(document: Document, placed: PlacedPage, staff: Mm): Fault[] {
  const faults: Fault[] = [];
  const block = blockOf(document, placed.page);
  const trim: PageBox = { x0: 0, y0: 0, x1: document.width, y1: document.height };
  for (const item of placed.page.items) {
    const ink = inkOfItem(item);
    if (!ink) continue;
    const out = excess(ink, block);
    const name = item.kind === 'text' ? `The text "${item.run.text.slice(0, 40)}"` : `A ${item.kind}`;
    if (out > LIMIT.insideSlack)
      faults.push(fault(21, spotOf(placed), `${name} stands outside the margins.`, { amount: round(out), limit: 0, unit: 'pt' }));
    const edge = -excess(ink, trim);
    if (isFurniture(item) && edge < LIMIT.pageNumber) {
      faults.push(
        fault(21, spotOf(placed), `${name} stands too near to the edge of the page.`, {
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
      faults.push(fault(21, spotOf(placed, system), 'The music stands outside the margins.', { amount: round(out), limit: 0, unit: 'pt' }));
    if (system.exercise === undefined) continue;
    const height = ptToMm(system.scale * 4) as number;
    if (Math.abs(height - (staff as number)) > LIMIT.staffSlack) {
      faults.push(
        fault(21, spotOf(placed, system), 'The staff has not the height chosen.', {
          amount: round(height),
          limit: staff as number,
          unit: 'mm',
        }),
      );
    }
  }
  return faults;
}

/** Rule 21, once for the document: margins and staff height. */
export function pageMeasures(document: Document, staff: Mm): Fault[] {
  const faults: Fault[] = [];
  for (const [name, value] of Object.entries(document.margins)) {
    if (value >= LIMIT.margin - LIMIT.insideSlack) continue;
    faults.push(
      fault(21, {}, `The ${name} margin is too narrow to print and hold.`, { amount: round(value), limit: LIMIT.margin, unit: 'pt' }),
    );
  }
  const { inner, outer } = document.margins;
  if (inner < outer - LIMIT.insideSlack)
    faults.push(
      fault(21, {}, 'The inner margin is narrower than the outer one.', { amount: round(inner), limit: round(outer), unit: 'pt' }),
    );
  const [least, most] = LIMIT.staff;
  const height = staff as number;
  if (height < least - LIMIT.staffSlack || height > most + LIMIT.staffSlack) {
    faults.push(
      fault(21, {}, 'The staff has an unsuitable height.', { amount: round(height), limit: height < least ? least : most, unit: 'mm' }),
    );
  }
  return faults;
}

/** What the rule of page turns needs to know of a page. */
export type TurnPage = {
  readonly label: string;
  readonly side: 'left' | 'right';
  readonly exercises: readonly string[];
  readonly titlesAlone: readonly string[];
};

/** The exercises of a page, and those of its titles that no music follows. */
export function turnPage(placed: PlacedPage): TurnPage {
  const exercises = [...new Set(placed.systems.flatMap((s) => s.exercise ?? []))];
  const titlesAlone = placed.runs.flatMap(({ item }) => {
    const id = item.tag.kind === 'element' && item.tag.type === 'H2' ? /^exercise (.*)-title$/.exec(item.tag.id)?.[1] : undefined;
    return id !== undefined && !exercises.includes(id) ? [id] : [];
  });
  return { label: placed.page.label, side: placed.page.side, exercises, titlesAlone: [...new Set(titlesAlone)] };
}

/**
 * Rule 22. An exercise on two pages stands on a left page and the right one facing it. A longer one must turn somewhere:
 * it begins on a left page.
 */
export function pageTurns(pages: readonly TurnPage[]): Fault[] {
  const faults: Fault[] = [];
  const first = new Map<string, number>();
  const last = new Map<string, number>();
  pages.forEach((page, i) => {
    for (const id of page.exercises) {
      if (!first.has(id)) first.set(id, i);
      last.set(id, i);
    }
    for (const exercise of page.titlesAlone)
      faults.push(fault(22, { page: page.label, exercise }, 'A title stands alone on its page without its music.'));
  });
  for (const [exercise, from] of first) {
    const to = last.get(exercise) as number;
    const page = pages[from] as TurnPage;
    if (to > from && page.side === 'right') {
      faults.push(
        fault(
          22,
          { page: page.label, exercise },
          `The exercise begins on a right-hand page and goes on over ${to - from === 1 ? 'a turn' : `${to - from} pages`}.`,
        ),
      );
    }
  }
  pages.forEach((page, i) => {
    const before = pages[i - 1];
    if (before && before.side === page.side)
      faults.push(fault(22, { page: page.label }, `Two ${page.side}-hand pages follow one another.`));
  });
  return faults;
}
