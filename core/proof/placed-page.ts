/** A page of the document as the rules see it: its text, its systems and where they stand. */

import type { Pt } from '../base/units.js';
import { CAPS, DESCENT } from '../engrave/ink.js';
import type { Document, Page, PageItem, TextRun } from '../layout/page/page.js';
import type { Spot } from './fault.js';

/** A rectangle on the page, in points, y down from its top edge. */
export type PageBox = { readonly x0: Pt; readonly y0: Pt; readonly x1: Pt; readonly y1: Pt };

/** A drawing in its place: its ink in points on the page, the staff by its top line. */
export type PageSystem = {
  readonly exercise: string | undefined;
  readonly system: number;
  readonly x: Pt;
  /** Top staff line. */
  readonly y: Pt;
  readonly scale: Pt;
  readonly ink: PageBox;
  /** Highest and lowest ink over each staff space from the left end of the staff, in points on the page. */
  readonly tops: readonly Pt[];
  readonly bottoms: readonly Pt[];
};

export type PlacedPage = {
  readonly index: number;
  readonly page: Page;
  readonly systems: readonly PageSystem[];
  readonly runs: readonly { readonly run: TextRun; readonly item: Extract<PageItem, { kind: 'text' }> }[];
};

/** Text block between the margins. The inner margin is at the right of a left-hand page. */
export function blockOf(document: Document, page: Page): PageBox {
  const { width, height, margins } = document;
  const left = page.side === 'left' ? margins.outer : margins.inner;
  const right = width - (page.side === 'left' ? margins.inner : margins.outer);
  return { x0: left, y0: margins.top, x1: right, y1: (height as number) - margins.bottom };
}

/** Ink of a run of text: capitals to descenders, whether it has them or not. */
export const runInk = (run: TextRun): PageBox => ({
  x0: run.x,
  y0: run.y - CAPS * run.size,
  x1: run.x + run.width,
  y1: run.y + DESCENT * run.size,
});

/** Is this item page furniture: running head, folio? */
export const isFurniture = (item: PageItem): boolean => 'tag' in item && item.tag.kind === 'artifact' && item.tag.type === 'pagination';

/** Where a fault of a page or of one of its systems is. */
export const spotOf = (placed: PlacedPage, system?: PageSystem): Spot => ({
  page: placed.page.label,
  ...(system?.exercise === undefined ? {} : { exercise: system.exercise, system: system.system }),
});
