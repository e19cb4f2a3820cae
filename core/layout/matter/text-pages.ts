/** Pages of running text: preface, how to use the book, chapter openings. */
import type { Pt } from '../../base/units.js';
import { anchorAt, bodyOf, type MatterPage, measureIn, pagesOn, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { type Column, flowProse, setProse } from '../text/prose.js';
import { pageHeading, textLines } from './heading.js';

export type TextSection = {
  readonly title: string;
  /** Markdown. */
  readonly text: string;
  /** Name that links and bookmarks lead to. */
  readonly anchor: string;
};

/** How far down the body a chapter's opening begins. */
const CHAPTER_SINK = 0.12;

/** Preface, how to use: a heading and as many pages as the text needs. */
export function textPages({ title, text, anchor }: TextSection, setting: Setting): MatterPage[] {
  const { geometry, styles, fonts, language, engrave } = setting;
  const body = bodyOf(geometry, styles);
  const heading = pageHeading(title, anchor, body, setting);
  const first = measureIn(body, styles.body.size);
  const blocks = setProse(text, { width: first.width, fonts, styles, language, engrave, id: anchor });
  const columnAt = (index: number): Column => {
    const page = measureIn(bodyOf(pagesOn(geometry, index), styles), styles.body.size);
    return { x: page.left, top: index === 0 ? heading.bottom : page.top, bottom: page.bottom };
  };
  const { columns } = flowProse(blocks, columnAt);
  return columns.map((items, i) => ({ kind: 'text', items: i === 0 ? [...heading.items, ...items] : items }));
}

export type ChapterOpening = TextSection & {
  /** As printed above the title: `Chapter 2`; empty for none. */
  readonly number: string;
};

/**
 * The opening of a chapter. `end` is where the text of the last page ends: music may follow below it. The foot of the
 * first page stays free for its folio.
 */
export function chapterOpening(chapter: ChapterOpening, setting: Setting): { readonly pages: readonly MatterPage[]; readonly end: Pt } {
  const { geometry, styles, fonts, language, engrave } = setting;
  const body = bodyOf(geometry, styles, true);
  const top = body.top + CHAPTER_SINK * body.height;
  const tag: Tag = { kind: 'element', type: 'H1', id: `${chapter.anchor}-title` };
  const number = textLines(chapter.number, styles['chapter-number'], body, top, 'center', tag, fonts);
  const titleTop = chapter.number ? number.bottom + styles['chapter-number'].after : top;
  const title = textLines(chapter.title, styles['chapter-title'], body, titleTop, 'center', tag, fonts);
  const opening: PageItem[] = [anchorAt(chapter.anchor, body.top), ...number.items, ...title.items];
  const below = title.bottom + styles['chapter-title'].after;

  const width = measureIn(body, styles.body.size).width;
  const blocks = setProse(chapter.text, { width, fonts, styles, language, engrave, id: chapter.anchor });
  if (blocks.length === 0) return { pages: [{ kind: 'chapter', items: opening }], end: below };
  const columnAt = (index: number): Column => {
    const page = measureIn(bodyOf(pagesOn(geometry, index), styles, index === 0), styles.body.size);
    return { x: page.left, top: index === 0 ? below : page.top, bottom: page.bottom };
  };
  const { columns, end } = flowProse(blocks, columnAt);
  const pages = columns.map(
    (items, i): MatterPage => (i === 0 ? { kind: 'chapter', items: [...opening, ...items] } : { kind: 'text', items }),
  );
  return { pages, end };
}
