/** The sheet and its margins → the boxes that text and music stand in, in points, y down from the top edge. */

import type { Pt } from '../../base/units.js';
import type { Drawing } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { TypeStyles } from '../text/type-style.js';
import type { Margins, Page, PageItem } from './page.js';

export type Geometry = { readonly width: Pt; readonly height: Pt; readonly margins: Margins; readonly side: 'left' | 'right' };

export type Frame = {
  readonly left: Pt;
  readonly right: Pt;
  readonly top: Pt;
  readonly bottom: Pt;
  readonly width: Pt;
  readonly height: Pt;
};

/** What every builder of pages needs. `geometry` is that of the first page it builds; the next ones take turns. */
export type Setting = {
  readonly geometry: Geometry;
  readonly fonts: Fonts;
  readonly styles: TypeStyles;
  readonly language: string;
  /** Engraves a figure that stands in a text; without it figures are set as degrees. */
  readonly engrave?: Engrave;
};

/** An engraved example: its drawing, points per staff space, and what it is in words. */
export type Example = { readonly drawing: Drawing; readonly scale: Pt; readonly alt: string };

/** Undefined for a text that is no figure. */
export type Engrave = (text: string) => Example | undefined;

/** A page before it has a number: the caller adds label, numbering, side, running head and folio. */
export type MatterPage = Pick<Page, 'kind' | 'items'>;

export function frame(left: Pt, top: Pt, right: Pt, bottom: Pt): Frame {
  return { left, right, top, bottom, width: right - left, height: bottom - top };
}

/** Everything inside the margins; the inner margin is at the right of a left-hand page. */
export function blockOf({ width, height, margins, side }: Geometry): Frame {
  const left = side === 'left' ? margins.outer : margins.inner;
  const right = width - (side === 'left' ? margins.inner : margins.outer);
  return frame(left, margins.top, right, height - margins.bottom);
}

/** Height of the band at the top of the block that holds running head and folio, with the space below it. */
export const headBand = (styles: TypeStyles): Pt => styles['running-head'].leading + styles['running-head'].after;
/** Height of the band at the foot of a chapter's opening page that holds its folio, with the space above it. */
export const footBand = (styles: TypeStyles): Pt => styles.folio.leading + styles.folio.after;

/** The block below the running head; the same on every page, so that facing pages begin at one height. */
export function bodyOf(geometry: Geometry, styles: TypeStyles, foot = false): Frame {
  const { left, top, right, bottom } = blockOf(geometry);
  return frame(left, top + headBand(styles), right, bottom - (foot ? footBand(styles) : 0));
}

/** Geometry of the page `n` pages on. */
export function pagesOn(geometry: Geometry, n: number): Geometry {
  return n % 2 === 0 ? geometry : { ...geometry, side: geometry.side === 'left' ? 'right' : 'left' };
}

/** Ems of a comfortable measure: about 72 characters of this face (45 to 75 are common practice). */
const MEASURE = 34;

/** A column for reading in the middle of a frame: no wider than a comfortable measure. */
export function measureIn(within: Frame, em: Pt, ems = MEASURE): Frame {
  const inset = Math.max(0, (within.width - ems * em) / 2);
  return frame(within.left + inset, within.top, within.right - inset, within.bottom);
}

export const blankPage = (): MatterPage => ({ kind: 'blank', items: [] });

export const anchorAt = (name: string, y: Pt): PageItem => ({ kind: 'anchor', name, y });
