/** Indexes at the back: figures, and keys, with the pages where they stand. */

import type { Pt } from '../../base/units.js';
import { type Figure, figureText } from '../../exercise/figure.js';
import type { Key } from '../../theory/key.js';
import { classText } from '../../theory/pitch.js';
import { bodyOf, type Frame, frame, type MatterPage, pagesOn, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { setParagraph } from '../text/paragraph.js';
import { baselineIn } from '../text/prose.js';
import { movedRuns, runsOf, type Span, spanOf, textItems, widthOf } from '../text/text.js';
import { withRealSigns } from '../text/text-sign.js';
import { leader } from './contents.js';
import { pageHeading } from './heading.js';

/** A place in the book: the label of its page, and where a link leads. */
export type Reference = { readonly page: string; readonly anchor: string };

type Entry = { readonly head: readonly Span[]; readonly words: string; readonly references: readonly Reference[] };

/** Degree, then alteration, tone by tone; a rest comes first, a shorter figure before the longer one that begins with it. */
function compareFigures(a: Figure, b: Figure): number {
  for (let i = 0; i < Math.max(a.tones.length, b.tones.length); i++) {
    const [x, y] = [a.tones[i], b.tones[i]];
    if (!x || !y) return x ? 1 : -1;
    const [dx, dy] = [x.kind === 'note' ? x.degree : -99, y.kind === 'note' ? y.degree : -99];
    if (dx !== dy) return dx - dy;
    const [ax, ay] = [x.kind === 'note' ? x.alter : 0, y.kind === 'note' ? y.alter : 0];
    if (ax !== ay) return ax - ay;
  }
  return 0;
}

const pageNumber = (label: string): number | undefined => (/^\d+$/.test(label) ? Number(label) : undefined);

/** Each page once, and neighbouring pages joined: `4, 12–15`. A run leads to its first page. */
export function joinedPages(references: readonly Reference[]): Reference[] {
  const runs: { first: Reference; last: string }[] = [];
  for (const reference of references) {
    const open = runs.at(-1);
    if (open?.last === reference.page) continue;
    const [before, here] = [pageNumber(open?.last ?? ''), pageNumber(reference.page)];
    if (open && before !== undefined && here === before + 1) open.last = reference.page;
    else runs.push({ first: reference, last: reference.page });
  }
  return runs.map(({ first, last }) => (first.page === last ? first : { page: `${first.page}–${last}`, anchor: first.anchor }));
}

type SetEntry = { readonly height: Pt; readonly place: (x: Pt, y: Pt) => PageItem[] };

type SetReference = Reference & { readonly spans: readonly Span[]; readonly width: Pt };
type Line = { readonly left: Pt; readonly pieces: readonly SetReference[] };

/** Fills lines with pieces: the first has `first` points, the others `rest`. */
function filled(pieces: readonly SetReference[], first: Pt, rest: Pt): SetReference[][] {
  const lines: SetReference[][] = [[]];
  let taken = 0;
  for (const piece of pieces) {
    if (taken + piece.width > (lines.length === 1 ? first : rest) && (taken > 0 || lines.length === 1)) {
      lines.push([]);
      taken = 0;
    }
    lines.at(-1)!.push(piece);
    taken += piece.width;
  }
  return lines;
}

/**
 * `leaders`: page numbers end at the right edge, on the entry's line or, if there is no room, on lines below it.
 * `run-in`: they follow the entry like text and go on below it with an indent.
 */
type Style = 'leaders' | 'run-in';

function setEntry(entry: Entry, width: Pt, id: string, look: Style, { fonts, styles }: Setting): SetEntry {
  const style = styles['contents-exercise'];
  const leading = 0.95 * style.leading;
  const em = style.size;
  const tag: Tag = { kind: 'element', type: 'LI', id };
  const heads = setParagraph(entry.head, { width: 0.8 * width, size: em, align: 'left' }, fonts);
  const headEnd = heads.at(-1)?.width ?? 0;
  const pieces = joinedPages(entry.references).map((r, i, all): SetReference => {
    const spans = [spanOf(i < all.length - 1 ? `${r.page}, ` : r.page, style)];
    return { ...r, spans, width: widthOf(spans, em, fonts) };
  });
  const wide = (line: readonly SetReference[]) => line.reduce((sum, piece) => sum + piece.width, 0);
  const indent = 1.5 * em;
  const after = headEnd + (look === 'leaders' ? 2 : 0.9) * em;
  const room = width - after;
  // With leaders, numbers that do not fit beside the entry all go below it.
  const lines = filled(pieces, look === 'leaders' && wide(pieces) > room ? 0 : room, width - indent);
  const set = lines.map((line, i): Line => ({ left: look === 'leaders' ? width - wide(line) : i === 0 ? after : indent, pieces: line }));
  const firstLine = Math.max(0, heads.length - 1);
  return {
    height: (firstLine + set.length) * leading,
    place(x, y) {
      const baseline = (line: number) => y + line * leading + baselineIn({ ...style, leading });
      const items: PageItem[] = heads.flatMap((line, i) => textItems(movedRuns(line.runs, x, baseline(i)), tag));
      set.forEach((line, i) => {
        let at = x + line.left;
        for (const piece of line.pieces) {
          const words = `${entry.words}, page ${piece.page}`;
          items.push({
            kind: 'link',
            x: at,
            y: y + (firstLine + i) * leading,
            width: piece.width,
            height: leading,
            target: piece.anchor,
            words,
          });
          items.push(...textItems(runsOf(piece.spans, at, baseline(firstLine + i), em, fonts), tag));
          at += piece.width;
        }
      });
      const beside = look === 'leaders' && set[0]!.pieces.length > 0;
      return beside ? [...items, ...leader(x + headEnd + 0.2 * em, x + set[0]!.left - 0.4 * em, baseline(firstLine), style, fonts)] : items;
    },
  };
}

/** Ems below which an index is not set in two columns, and the space between them. */
const LEAST_COLUMN = 18;
const GUTTER = 2.2;

function columnsOf(body: Frame, em: Pt): Frame[] {
  const width = (body.width - GUTTER * em) / 2;
  if (width < LEAST_COLUMN * em) return [body];
  return [frame(body.left, body.top, body.left + width, body.bottom), frame(body.right - width, body.top, body.right, body.bottom)];
}

function indexPages(title: string, anchor: string, entries: readonly Entry[], look: Style, setting: Setting): MatterPage[] {
  const { geometry, styles } = setting;
  const em = styles['contents-exercise'].size;
  const gap = 0.15 * em;
  const body = bodyOf(geometry, styles);
  const heading = pageHeading(title, anchor, body, setting);
  const set = entries.map((entry, i) => setEntry(entry, columnsOf(body, em)[0]!.width, `${anchor}-${i}`, look, setting));
  const pages: PageItem[][] = [[...heading.items]];
  let [page, column] = [0, 0];
  let columns = columnsOf({ ...body, top: heading.bottom }, em);
  // The last page shares what is left evenly between its columns.
  const left = (from: number) => set.slice(from).reduce((sum, entry) => sum + entry.height + gap, 0);
  let limit = evenLimit(columns, left(0));
  let y: number = columns[0]!.top;
  set.forEach((entry, i) => {
    if (y > columns[column]!.top && y + entry.height > limit + 1e-6) {
      column++;
      if (column === columns.length) {
        pages.push([]);
        page++;
        column = 0;
        columns = columnsOf(bodyOf(pagesOn(geometry, page), styles), em);
        limit = evenLimit(columns, left(i));
      } else {
        limit = columns[column]!.bottom;
      }
      y = columns[column]!.top;
    }
    pages.at(-1)!.push(...entry.place(columns[column]!.left, y));
    y += entry.height + gap;
  });
  return pages.map((items) => ({ kind: 'appendix', items }));
}

/** Where the first column of a page ends: at the foot, or half-way if what is left fits this page. */
function evenLimit(columns: readonly Frame[], height: Pt): Pt {
  const [first] = columns as [Frame];
  return columns.length > 1 && height <= 2 * first.height ? Math.min(first.bottom, first.top + height / 2 + 1) : first.bottom;
}

export type FigureEntry = { readonly figure: Figure; readonly references: readonly Reference[] };

/** Figures in order of their degrees, with the pages of the exercises that use them. */
export function figureIndexPages(entries: readonly FigureEntry[], setting: Setting): MatterPage[] {
  const style = setting.styles['contents-exercise'];
  const sorted = [...entries].sort((a, b) => compareFigures(a.figure, b.figure));
  const set = sorted.map(({ figure, references }): Entry => {
    const text = withRealSigns(figureText(figure.tones));
    return { head: [{ ...spanOf(text, style), tracking: 0.06 * style.size }], words: `Figure ${text}`, references };
  });
  return indexPages('Index of Figures', 'figure-index', set, 'leaders', setting);
}

export type KeyEntry = { readonly key: Key; readonly references: readonly Reference[] };

/** Keys as the player reads them, in the given order, with the pages where a statement in them begins. */
export function keyIndexPages(entries: readonly KeyEntry[], setting: Setting): MatterPage[] {
  const style = setting.styles['contents-exercise'];
  const set = entries.map(({ key, references }): Entry => {
    const name = `${classText(key.tonic)} ${key.mode}`;
    return { head: [spanOf(name, style)], words: name, references };
  });
  return indexPages('Index of Keys', 'key-index', set, 'run-in', setting);
}
