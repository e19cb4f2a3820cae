/** The table of contents: chapters and numbered exercises, dotted leaders, page numbers at one right edge, every line a link. */

import { last } from '../../base/list.js';
import type { Pt } from '../../base/units.js';
import type { Fonts } from '../../engrave/metrics.js';
import { bodyOf, type Frame, type MatterPage, measureIn, pagesOn, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { curved } from '../text/markdown.js';
import { setParagraph } from '../text/paragraph.js';
import { baselineIn } from '../text/prose.js';
import { lineOf, movedRuns, runsOf, spanOf, textItems, widthOf } from '../text/text.js';
import type { TypeStyle } from '../text/type-style.js';
import { pageHeading } from './heading.js';

export type ContentsEntry = {
  readonly level: 'chapter' | 'exercise';
  /** As printed before the title; empty for none. */
  readonly number: string;
  readonly title: string;
  /** Page label as printed. Any text of up to four figures takes the same room, so numbers may be filled in later. */
  readonly page: string;
  readonly anchor: string;
};

/** Ems kept for page numbers, and between a title and its number. */
const PAGE_EMS = 2.6;
const GAP_EMS = 1.2;
/** Distance of the leader's dots; they stand on one grid from the right edge, so they line up from line to line. */
const DOT_EMS = 0.62;
const ARTIFACT: Tag = { kind: 'artifact', type: 'layout' };

/** Dots from `from` to the page numbers' column, on the grid that ends at `to`. */
export function leader(from: Pt, to: Pt, y: Pt, style: TypeStyle, fonts: Fonts): PageItem[] {
  const period = DOT_EMS * style.size;
  const dots = Math.floor((to - from) / period);
  if (dots < 2) return [];
  // Two dots less one: the font kerns them.
  const dot = (fonts.width(style.font, '..') - fonts.width(style.font, '.')) * style.size;
  const tracking = period - dot;
  const run = {
    font: style.font,
    size: style.size,
    x: to - dots * period + tracking,
    y,
    text: '.'.repeat(dots),
    tracking,
    width: dots * period,
  };
  return [{ kind: 'text', run, tag: ARTIFACT }];
}

/** `place` sets the entry at a share of its leading. */
type SetEntry = {
  readonly chapter: boolean;
  readonly height: Pt;
  readonly before: Pt;
  readonly after: Pt;
  readonly place: (column: Frame, y: Pt, share: number) => PageItem[];
};

/** Room for the widest exercise number, so that all titles begin at one place. */
function numberWidth(entries: readonly ContentsEntry[], style: TypeStyle, fonts: Fonts): Pt {
  const widths = entries.filter((e) => e.level === 'exercise').map((e) => widthOf([spanOf(e.number, style)], style.size, fonts));
  const widest = Math.max(0, ...widths);
  return widest === 0 ? 0 : widest + 0.9 * style.size;
}

function setEntry(entry: ContentsEntry, numbers: Pt, width: Pt, { styles, fonts }: Setting): SetEntry {
  const chapter = entry.level === 'chapter';
  const style = chapter ? styles['contents-chapter'] : styles['contents-exercise'];
  const em = style.size;
  const left = chapter ? 0 : numbers;
  const title = chapter && entry.number ? `${entry.number}\u2002${curved(entry.title)}` : curved(entry.title);
  const lines = setParagraph([spanOf(title, style)], { width: width - left - (PAGE_EMS + GAP_EMS) * em, size: em, align: 'left' }, fonts);
  const tag: Tag = { kind: 'element', type: 'TOCI', id: `contents-${entry.anchor}` };
  const height = Math.max(1, lines.length) * style.leading;
  // Between the parts of an entry, for readers by ear.
  const space = spanOf(' ', style);
  return {
    chapter,
    height,
    before: style.before,
    after: style.after,
    place(column, y, share) {
      const leading = share * style.leading;
      const first = y + baselineIn({ size: em, leading });
      const lastBaseline = first + share * height - leading;
      const numberEdge = { left: column.left, right: column.left + numbers - 0.9 * em };
      const number = chapter || !entry.number ? [] : lineOf([spanOf(entry.number, style)], numberEdge, first, em, 'right', fonts);
      const page = lineOf([spanOf(entry.page, style)], column, lastBaseline, em, 'right', fonts);
      const end = column.left + left + (lines.at(-1)?.width ?? 0) + 0.2 * em;
      return [
        {
          kind: 'link',
          x: column.left,
          y,
          width: column.width,
          height: share * height,
          target: entry.anchor,
          words: `${entry.title}, page ${entry.page}`,
        },
        ...textItems(number, tag),
        ...(number.length > 0 ? textItems(runsOf([space], numberEdge.right, first, em, fonts), tag) : []),
        ...lines.flatMap((line, i) => textItems(movedRuns(line.runs, column.left + left, first + i * leading), tag)),
        ...textItems(runsOf([space], column.left + left + (lines.at(-1)?.width ?? 0), lastBaseline, em, fonts), tag),
        ...textItems(page, tag),
        ...(chapter ? [] : leader(end, column.right - PAGE_EMS * em, lastBaseline, style, fonts)),
      ];
    },
  };
}

/** Entries that stay with a chapter's line at the foot of a page. */
const KEPT = 2;

/** Shares of the leading that are tried to save a last page of a few lines. */
const TIGHTER = [0.96, 0.92, 0.88];

/** The entries of a page, and where they stand. */
type Filled = { readonly column: Frame; readonly places: readonly { readonly entry: SetEntry; readonly y: Pt }[] };

/**
 * Contents pages. How many there are does not depend on the page numbers, so they may be asked for with placeholders
 * first and built again when the numbers are known. Lines are set a little closer where that saves a page.
 */
export function contentsPages(entries: readonly ContentsEntry[], setting: Setting, title = 'Contents'): MatterPage[] {
  const { geometry, styles, fonts } = setting;
  const em = styles['contents-exercise'].size;
  const columnAt = (index: number) => measureIn(bodyOf(pagesOn(geometry, index), styles), em, 40);
  const first = columnAt(0);
  const numbers = numberWidth(entries, styles['contents-exercise'], fonts);
  const set = entries.map((entry) => setEntry(entry, numbers, first.width, setting));
  const heading = pageHeading(title, 'contents', first, setting);
  const filled = (share: number): Filled[] => fill(set, share, heading.bottom, columnAt);
  const natural = filled(1);
  const share = TIGHTER.find((by) => filled(by).length < natural.length) ?? 1;
  return (share === 1 ? natural : filled(share)).map(({ column, places }, i) => ({
    kind: 'contents',
    items: [...(i === 0 ? heading.items : []), ...places.flatMap(({ entry, y }) => entry.place(column, y, share))],
  }));
}

/** Puts entries on pages, the first of which begins at `top`. */
function fill(set: readonly SetEntry[], share: number, top: Pt, columnAt: (page: number) => Frame): Filled[] {
  let column = columnAt(0);
  let places: { entry: SetEntry; y: Pt }[] = [];
  const pages: Filled[] = [{ column, places }];
  let y = top;
  let fresh = true;
  set.forEach((entry, i) => {
    const group = entry.chapter ? set.slice(i, i + 1 + KEPT) : [entry];
    const needed = group.reduce((sum, e, j) => sum + share * e.height + e.after + (j > 0 || !fresh ? share * e.before : 0), 0);
    if (!fresh && y + needed - last(group).after > column.bottom) {
      column = columnAt(pages.length);
      places = [];
      pages.push({ column, places });
      y = column.top;
      fresh = true;
    }
    if (!fresh) y += share * entry.before;
    places.push({ entry, y });
    y += share * entry.height + entry.after;
    fresh = false;
  });
  return pages;
}
