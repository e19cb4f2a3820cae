/** A page of the document as the rules see it: its text, its systems and where they stand. */

import type { Pt } from '../base/units.js';
import type { Drawing } from '../engrave/drawing.js';
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

export type PageText = { readonly run: TextRun; readonly item: Extract<PageItem, { kind: 'text' }> };

export type PlacedPage = {
  readonly page: Page;
  readonly systems: readonly PageSystem[];
  readonly runs: readonly PageText[];
};

export type DrawingItem = Extract<PageItem, { kind: 'drawing' }>;

/** Where a drawing and its ink are on the page. */
export function pageSystem({ exercise, system = 0, x, y, scale }: DrawingItem, { marks, width }: Drawing): PageSystem {
  const columns = Math.max(1, Math.ceil(width));
  const tops = new Float64Array(columns).fill(y);
  const bottoms = new Float64Array(columns).fill(y + 4 * scale);
  const ink = { x0: Number.POSITIVE_INFINITY, x1: Number.NEGATIVE_INFINITY, y0: Number.POSITIVE_INFINITY, y1: Number.NEGATIVE_INFINITY };
  for (const { box } of marks) {
    const [y0, y1] = [y + box.y0 * scale, y + box.y1 * scale];
    ink.x0 = Math.min(ink.x0, x + box.x0 * scale);
    ink.x1 = Math.max(ink.x1, x + box.x1 * scale);
    ink.y0 = Math.min(ink.y0, y0);
    ink.y1 = Math.max(ink.y1, y1);
    const [from, to] = [Math.max(0, Math.floor(box.x0)), Math.min(columns - 1, Math.floor(box.x1))];
    for (let i = from; i <= to; i++) {
      tops[i] = Math.min(tops[i] ?? y0, y0);
      bottoms[i] = Math.max(bottoms[i] ?? y1, y1);
    }
  }
  return { exercise, system, x, y, scale, ink, tops: [...tops], bottoms: [...bottoms] };
}

/** Text block between the margins. The inner margin is at the right of a left-hand page. */
export function blockOf(document: Document, page: Page): PageBox {
  const { width, height, margins } = document;
  const left = page.side === 'left' ? margins.outer : margins.inner;
  const right = width - (page.side === 'left' ? margins.inner : margins.outer);
  return { x0: left, y0: margins.top, x1: right, y1: height - margins.bottom };
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

/** Number of an exercise as the title prints it that it begins with. */
export type TitleNumber = { readonly number: string; readonly spot: Spot };

/** What stands on a page, for rules that look at all pages. */
export type PageContents = {
  readonly label: string;
  readonly side: 'left' | 'right';
  readonly exercises: readonly string[];
  /** Exercises of its titles that no music follows. */
  readonly titlesAlone: readonly string[];
  readonly titleNumbers: readonly TitleNumber[];
};

/** The exercise whose title this is. */
function titledExercise({ tag }: PageText['item']): string | undefined {
  return tag.kind === 'element' ? /^exercise (.*)-title$/.exec(tag.id)?.[1] : undefined;
}

/** The first run of each title is its number. */
function titleNumbers({ page, runs }: PlacedPage): TitleNumber[] {
  const numbers = new Map<string, TitleNumber>();
  for (const { run, item } of runs) {
    const exercise = titledExercise(item);
    if (exercise === undefined || numbers.has(exercise)) continue;
    numbers.set(exercise, { number: run.text, spot: { page: page.label, exercise } });
  }
  return [...numbers.values()];
}

export function contentsOf(placed: PlacedPage): PageContents {
  const exercises = [...new Set(placed.systems.flatMap((s) => s.exercise ?? []))];
  const titled = placed.runs.flatMap(({ item }) =>
    item.tag.kind === 'element' && item.tag.type === 'H2' ? (titledExercise(item) ?? []) : [],
  );
  const titlesAlone = [...new Set(titled)].filter((id) => !exercises.includes(id));
  return { label: placed.page.label, side: placed.page.side, exercises, titlesAlone, titleNumbers: titleNumbers(placed) };
}
