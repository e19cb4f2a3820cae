/** Sheet sizes, and the room that margins leave on them. */
import type { Mm } from '../base/units.js';
import type { House, PageSize } from './book.js';

export type Size = { readonly width: Mm; readonly height: Mm };

/** Millimetres, upright. Letter 8.5 × 11 in; A4 by ISO 216; concert size 9 × 12 in; B4 by JIS P 0138. */
export const PAGE_SIZES: Readonly<Record<PageSize, Size>> = {
  letter: { width: 215.9, height: 279.4 },
  a4: { width: 210, height: 297 },
  '9x12': { width: 228.6, height: 304.8 },
  'jis-b4': { width: 257, height: 364 },
};

/** Least room for one readable system of music and for a column of text. */
export const LEAST_BLOCK: Size = { width: 80, height: 100 };

/** What the margins leave for text and music. */
export function textBlock(page: PageSize, margins: House['margins']): Size {
  const { width, height } = PAGE_SIZES[page];
  return { width: width - margins.inner - margins.outer, height: height - margins.top - margins.bottom };
}
