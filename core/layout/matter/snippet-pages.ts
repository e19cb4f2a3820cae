/** Pages of short engraved examples under one heading: the compass chart, the appendix of scales. */

import type { Pt } from '../../base/units.js';
import type { Drawing } from '../../engrave/drawing.js';
import { bodyOf, type MatterPage, measureIn, pagesOn, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { proseHeight, setProse } from '../text/prose.js';
import { pageHeading, textLines } from './heading.js';

export type Snippet = {
  /** Printed above at the left; empty for none. */
  readonly label: string;
  readonly drawing: Drawing;
  /** What the example shows, for readers who cannot see it. */
  readonly alt: string;
  /** Printed below in small italics; empty for none. */
  readonly caption: string;
};

export type SnippetSection = {
  readonly title: string;
  readonly anchor: string;
  /** Markdown, above the first example. */
  readonly text: string;
  readonly snippets: readonly Snippet[];
};

/** The examples one below the other at `space` points a staff space, smaller where one is wider than the body. */
export function snippetPages(section: SnippetSection, space: Pt, setting: Setting): MatterPage[] {
  const { geometry, styles, fonts, language } = setting;
  let body = bodyOf(geometry, styles);
  const heading = pageHeading(section.title, section.anchor, body, setting);
  const column = measureIn(body, styles.body.size);
  const blocks = setProse(section.text, { width: column.width, fonts, styles, language, id: section.anchor });
  const pages: PageItem[][] = [[...heading.items]];
  let y: number = heading.bottom;
  blocks.forEach((block, i) => {
    if (i > 0) y += Math.max(blocks[i - 1]!.after, block.before);
    pages[0]!.push(...block.place(column.left, y));
    y += block.height;
  });
  if (proseHeight(blocks) > 0) y += 1.5 * styles.body.leading;
  let fresh = true;

  section.snippets.forEach((snippet, i) => {
    const { drawing } = snippet;
    const scale = Math.min(space, body.width / drawing.width);
    const id = `${section.anchor}-${i}`;
    const above = snippet.label ? styles['small-heading'].leading + styles['small-heading'].after : 0;
    const below = snippet.caption ? styles.caption.before + styles.caption.leading : 0;
    const height = above + (drawing.bottom - drawing.top) * scale + below;
    if (!fresh && y + height > body.bottom) {
      pages.push([]);
      body = bodyOf(pagesOn(geometry, pages.length - 1), styles);
      y = body.top;
    }
    const items = pages.at(-1)!;
    const tag = (type: 'H2' | 'Figure' | 'Caption', part: string): Tag => ({
      kind: 'element',
      type,
      id: `${id}-${part}`,
      ...(type === 'Figure' ? { alt: snippet.alt } : {}),
    });
    if (snippet.label) items.push(...textLines(snippet.label, styles['small-heading'], body, y, 'left', tag('H2', 'label'), fonts).items);
    const top = y + above - drawing.top * scale;
    const x = body.left + (body.width - drawing.width * scale) / 2;
    items.push({ kind: 'drawing', x: snippet.label ? body.left : x, y: top, scale, draw: () => drawing, tag: tag('Figure', 'music') });
    const under = top + drawing.bottom * scale + styles.caption.before;
    if (snippet.caption)
      items.push(...textLines(snippet.caption, styles.caption, body, under, 'center', tag('Caption', 'caption'), fonts).items);
    // One staff space of air on each side of the ink (second-hand: Ross, pp. 64–68).
    y += height + 2 * space;
    fresh = false;
  });
  return pages.map((items) => ({ kind: 'appendix', items }));
}
