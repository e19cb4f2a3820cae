/** Running heads and folios: page furniture outside the reading order. */

import type { Pt } from '../../base/units.js';
import type { Fonts } from '../../engrave/metrics.js';
import { blockOf, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { baselineIn } from '../text/prose.js';
import { lineOf, type Span, spanOf, textItems, widthOf } from '../text/text.js';
import type { TypeStyle } from '../text/type-style.js';

const FURNITURE: Tag = { kind: 'artifact', type: 'pagination' };

/** The text, or as much of it as fits the width with an ellipsis. */
export function shortened(text: string, width: Pt, style: TypeStyle, fonts: Fonts): Span[] {
  const fits = (candidate: string) => widthOf([spanOf(candidate, style)], style.size, fonts) <= width;
  if (fits(text)) return [spanOf(text, style)];
  const characters = [...text];
  const ended = () => `${characters.join('').replace(/[\s,;:.]+$/, '')}…`;
  while (characters.length > 0 && !fits(ended())) characters.pop();
  // Between words if that does not cost more than half of what fits.
  const space = characters.lastIndexOf(' ');
  if (space > characters.length / 2 && text[characters.join('').length] !== ' ') characters.splice(space);
  return characters.length > 0 ? [spanOf(ended(), style)] : [];
}

export type RunningHead = { readonly folio: string; readonly instrument: string; readonly title: string };

/** Folio in the outside top corner, title of the book or chapter in the middle, instrument at the inside. */
export function runningHead({ folio, instrument, title }: RunningHead, { geometry, fonts, styles }: Setting): PageItem[] {
  const block = blockOf(geometry);
  const style = styles['running-head'];
  const y = block.top + baselineIn(style);
  const outside = geometry.side;
  const inside = outside === 'left' ? 'right' : 'left';
  const edges = { left: block.left, right: block.right };
  const name = shortened(instrument, 0.34 * block.width, style, fonts);
  // The title is centred on the block, so it may use what the wider of its neighbours leaves on both sides.
  const taken = Math.max(widthOf(name, style.size, fonts), widthOf([spanOf(folio, styles.folio)], styles.folio.size, fonts));
  const words = shortened(title, block.width - 2 * taken - 4 * style.size, style, fonts);
  return [
    ...textItems(lineOf([spanOf(folio, styles.folio)], edges, y, styles.folio.size, outside, fonts), FURNITURE),
    ...textItems(lineOf(words, edges, y, style.size, 'center', fonts), FURNITURE),
    ...textItems(lineOf(name, edges, y, style.size, inside, fonts), FURNITURE),
  ];
}

/** Folio in the middle of the foot, for pages without a running head that begin a chapter. */
export function footFolio(folio: string, { geometry, fonts, styles }: Setting): PageItem[] {
  const block = blockOf(geometry);
  const style = styles.folio;
  const y = block.bottom - style.leading + baselineIn(style);
  return textItems(lineOf([spanOf(folio, style)], block, y, style.size, 'center', fonts), FURNITURE);
}
