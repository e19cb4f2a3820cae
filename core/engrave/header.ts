/** The signs at the start of a system: clef, key signature, and the time signature where it is due. */
import { CLEF_GLYPH, timeDigit } from './glyphs.js';
import type { BarShape, ScoreShape } from './shape.js';
import { signatureWidth } from './shape.js';
import { STYLE } from './style.js';

export type Header = {
  readonly clefX: number;
  readonly keyX: number | undefined;
  readonly timeX: number | undefined;
  readonly timeWidth: number;
  /** Right edge of the last sign. */
  readonly end: number;
};

export function digitsWidth(shape: ScoreShape, value: number): number {
  return [...String(value)].reduce((w, d) => w + shape.fonts.glyph(timeDigit(Number(d))).advance, 0);
}

/** Header of the system that begins with this bar. The time signature stands at the start of the exercise only. */
export function headerOf(shape: ScoreShape, from: number): Header {
  const bar = (shape.bars[from] as BarShape).bar;
  const clef = shape.fonts.glyph(CLEF_GLYPH[shape.clef]);
  let end = STYLE.clefIndent + clef.x1;
  let keyX: number | undefined;
  if (bar.fifths !== 0) {
    keyX = end + STYLE.headerGap;
    end = keyX + signatureWidth(bar.fifths, 0, shape.fonts);
  }
  const { beats, unit } = shape.line.exercise.metre;
  const timeWidth = Math.max(digitsWidth(shape, beats), digitsWidth(shape, unit));
  let timeX: number | undefined;
  if (from === 0) {
    timeX = end + STYLE.headerGap;
    end = timeX + timeWidth;
  }
  return { clefX: STYLE.clefIndent, keyX, timeX, timeWidth, end };
}

export const headerWidth = (shape: ScoreShape, from: number): number => headerOf(shape, from).end;

/** From the left end of the staff to the first head. Gaps: Gould, Behind Bars, p. 42 (second-hand). */
export function fullHeaderWidth(shape: ScoreShape, from: number): number {
  const header = headerOf(shape, from);
  const { firstLeft } = shape.bars[from] as BarShape;
  const gaps = STYLE.headerToNote;
  const plain = header.timeX !== undefined ? gaps.afterTime : header.keyX !== undefined ? gaps.afterKey : gaps.afterClef;
  return header.end + Math.max(plain, firstLeft > 0 ? firstLeft + gaps.oneAccidental - 0.3 : 0);
}
