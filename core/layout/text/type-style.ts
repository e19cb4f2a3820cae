/**
 * The one table of type: sizes, leading and space for each kind of text, in points. Hierarchy comes from size, weight
 * and space; roman for instructions and text, italic for what stands aside (common practice of book typography).
 */

import type { Mm, Pt } from '../../base/units.js';
import type { FontName } from '../../engrave/drawing.js';

export type TypeStyle = {
  readonly font: FontName;
  readonly size: Pt;
  /** Baseline to baseline. */
  readonly leading: Pt;
  /** Space above the first line and below the last one, beside the leading. */
  readonly before: Pt;
  readonly after: Pt;
  readonly features?: readonly string[];
  /** Letter-spacing of small capitals. */
  readonly tracking?: Pt;
};

export type TextKind =
  | 'book-title'
  | 'subtitle'
  | 'instrument'
  | 'author'
  | 'publisher'
  | 'colophon'
  | 'chapter-number'
  | 'chapter-title'
  | 'heading'
  | 'small-heading'
  | 'exercise-number'
  | 'exercise-title'
  | 'instruction'
  | 'body'
  | 'running-head'
  | 'folio'
  | 'contents-chapter'
  | 'contents-exercise'
  | 'caption'
  | 'chart'
  | 'chart-small'
  | 'table-head'
  | 'table-cell';

export type TypeStyles = Readonly<Record<TextKind, TypeStyle>>;

const OLD_STYLE = ['onum'];
/** Figures of equal width that stand on the line, for columns. */
const COLUMN = ['tnum', 'lnum'];
const SMALL_CAPS = ['smcp', 'onum'];

/** Font, size, leading, space before, space after; features; letter-spacing. For a staff of 7 mm. */
type Row = readonly [FontName, number, number, number, number, (readonly string[])?, number?];

const TABLE: Readonly<Record<TextKind, Row>> = {
  'book-title': ['display', 34, 39, 0, 10],
  subtitle: ['italic', 15, 20, 0, 0],
  instrument: ['roman', 23, 28, 0, 0, SMALL_CAPS, 1.5],
  author: ['roman', 14, 18, 0, 0],
  publisher: ['roman', 10.5, 14, 0, 0, SMALL_CAPS, 0.8],
  colophon: ['roman', 9, 12.5, 0, 6, OLD_STYLE],
  'chapter-number': ['roman', 11.5, 15, 0, 8, SMALL_CAPS, 0.8],
  'chapter-title': ['display', 25, 30, 0, 22],
  heading: ['display', 20, 25, 20, 20],
  'small-heading': ['bold', 11, 14.5, 10, 3],
  'exercise-number': ['bold', 13, 16, 0, 0, ['lnum']],
  'exercise-title': ['bold', 13, 16, 0, 2, ['lnum']],
  instruction: ['roman', 10, 13, 0, 4, OLD_STYLE],
  body: ['roman', 10.5, 14.5, 0, 7, OLD_STYLE],
  'running-head': ['italic', 9, 12, 0, 9, OLD_STYLE],
  folio: ['roman', 10, 12, 0, 9, OLD_STYLE],
  'contents-chapter': ['bold', 11, 15, 11, 2, COLUMN],
  'contents-exercise': ['roman', 10.5, 15, 0, 0, COLUMN],
  caption: ['italic', 9, 12, 3, 6, OLD_STYLE],
  chart: ['roman', 10, 13, 0, 0, COLUMN],
  'chart-small': ['roman', 8, 10.5, 0, 0, COLUMN],
  'table-head': ['italic', 9, 11.5, 0, 3, COLUMN],
  'table-cell': ['roman', 9, 12, 0, 0, COLUMN],
};

const quarter = (value: number): Pt => Math.round(value * 4) / 4;

/**
 * The table for readers of a staff of this height. The factor grows by 1/14 for each millimetre above 7 (9 mm → body of
 * 12 pt), since young readers need larger text as they need larger staves, but less so. Sizes are rounded to a quarter point.
 */
export function typeStyles(staff: Mm): TypeStyles {
  const factor = 1 + (Math.min(10, Math.max(6, staff)) - 7) / 14;
  const entries = Object.entries(TABLE).map(([kind, [font, size, leading, before, after, features, tracking]]) => {
    const style: TypeStyle = {
      font,
      size: quarter(size * factor),
      leading: quarter(leading * factor),
      before: quarter(before * factor),
      after: quarter(after * factor),
      ...(features ? { features } : {}),
      ...(tracking ? { tracking: quarter(tracking * factor) } : {}),
    };
    return [kind, style];
  });
  return Object.fromEntries(entries) as TypeStyles;
}
