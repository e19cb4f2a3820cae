/** Titles set in as many lines as they need, centred on a frame. */

import type { Pt } from '../../base/units.js';
import type { Fonts } from '../../engrave/metrics.js';
import { anchorAt, type Frame, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { curved } from '../text/markdown.js';
import { setParagraph } from '../text/paragraph.js';
import { baselineIn } from '../text/prose.js';
import { type Align, movedRuns, type Span, spanOf, textItems } from '../text/text.js';
import type { TypeStyle } from '../text/type-style.js';

export type Placed = { readonly items: readonly PageItem[]; readonly bottom: Pt };

/** Spans in lines of the frame's width with their top at `y`. */
export function spanLines(spans: readonly Span[], style: TypeStyle, within: Frame, y: Pt, align: Align, tag: Tag, fonts: Fonts): Placed {
  const lines = setParagraph(spans, { width: within.width, size: style.size, align }, fonts);
  const first = y + baselineIn(style);
  const items = lines.flatMap((line, i) => textItems(movedRuns(line.runs, within.left, first + i * style.leading), tag));
  return { items, bottom: y + lines.length * style.leading };
}

/** A text in a style of the table; an empty text takes no room. */
export function textLines(text: string, style: TypeStyle, within: Frame, y: Pt, align: Align, tag: Tag, fonts: Fonts): Placed {
  return spanLines([spanOf(curved(text), style)], style, within, y, align, tag, fonts);
}

/** Title of a page of front or back matter, with its anchor; `bottom` leaves the space that belongs below it. */
export function pageHeading(title: string, anchor: string, within: Frame, { fonts, styles }: Setting): Placed {
  const tag: Tag = { kind: 'element', type: 'H1', id: `${anchor}-title` };
  const { items, bottom } = textLines(title, styles.heading, within, within.top + styles.heading.before, 'center', tag, fonts);
  return { items: [anchorAt(anchor, within.top), ...items], bottom: bottom + styles.heading.after };
}
