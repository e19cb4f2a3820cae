/** The sheet of an edition, a part or a booklet: its size, margins, staff and type. */

import { type Mm, mmToPt, type Pt, spaceOf } from '../../base/units.js';
import type { Book, EditionSpec } from '../../book/book.js';
import { pageSize, staffHeight } from '../../book/defaults.js';
import { PAGE_SIZES } from '../../book/page-size.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { Player } from '../../player/player.js';
import { examplesFor } from '../text/prose-example.js';
import { typeStyles } from '../text/type-style.js';
import type { Geometry, Setting } from './geometry.js';

export type Sheet = {
  readonly staff: Mm;
  /** Points per staff space. */
  readonly space: Pt;
  /** The first page is a right-hand page. */
  readonly setting: Setting;
};

/** What an edition's own sheet, staff and level decide. */
export type SheetSpec = Pick<EditionSpec, 'page' | 'staff' | 'level'>;

export function sheetOf(book: Book, spec: SheetSpec, player: Player, fonts: Fonts): Sheet {
  const size = PAGE_SIZES[pageSize(book, spec)];
  const staff = staffHeight(book, spec);
  const { top, bottom, inner, outer } = book.house.margins;
  const margins = { top: mmToPt(top), bottom: mmToPt(bottom), inner: mmToPt(inner), outer: mmToPt(outer) };
  const geometry: Geometry = { width: mmToPt(size.width), height: mmToPt(size.height), margins, side: 'right' };
  const space = spaceOf(staff);
  const engrave = examplesFor(player, fonts, space);
  return { staff, space, setting: { geometry, fonts, styles: typeStyles(staff), language: book.language, engrave } };
}
