/** Runs of text as PDF operators: glyph numbers with kerning, ligatures and features exactly as the fonts were measured. */
import type { FontName } from '../engrave/drawing.js';
import { decimal } from './decimal.js';
import type { EmbeddedFont } from './pdf-fixes.js';

/** A stretch of glyphs on one height: the operand and operator that show it, and its rise in thousandths of an em. */
export type Stretch = { readonly show: string; readonly rise: number };

export type TextEncoder = (font: FontName, text: string, features: readonly string[]) => readonly Stretch[];

/** Texts of a page repeat (degrees, key names, running heads); the limit keeps memory flat in a long book. */
const KEPT = 4096;

/**
 * Throws when the font lacks a character of the text: the layout has to split such a text into runs, so this is a
 * programmer's mistake.
 */
export function textEncoder(fontOf: (name: FontName) => EmbeddedFont): TextEncoder {
  const known = new Map<string, readonly Stretch[]>();
  return (name, text, features) => {
    const id = `${name}\0${features.join()}\0${text}`;
    let stretches = known.get(id);
    if (!stretches) {
      stretches = encode(name, fontOf(name), text, features);
      if (known.size >= KEPT) known.clear();
      known.set(id, stretches);
    }
    return stretches;
  };
}

/**
 * A number in a TJ array moves the next glyph left by thousandths of an em (ISO 32000-1, 9.4.3). The whole text is laid
 * out at once, spaces included, as `Fonts.width` does.
 */
function encode(name: FontName, font: EmbeddedFont, text: string, features: readonly string[]): Stretch[] {
  const [glyphs, places] = font.encode(text, features);
  const stretches: Stretch[] = [];
  let parts: string[] = [];
  let hex = '';
  let rise = 0;
  let move = 0;

  function endHex(): void {
    if (hex) parts.push(`<${hex}>`);
    hex = '';
  }
  function endStretch(): void {
    endHex();
    if (parts.length === 1 && parts[0]!.startsWith('<')) stretches.push({ show: `${parts[0]} Tj`, rise });
    else if (parts.length > 0) stretches.push({ show: `[${parts.join(' ')}] TJ`, rise });
    parts = [];
  }

  for (const [i, glyph] of glyphs.entries()) {
    if (glyph === '0000') throw new Error(`assumption broken: the ${name} font has a glyph for every character of "${text}"`);
    const { xAdvance, advanceWidth, xOffset, yOffset } = places[i]!;
    if (yOffset !== rise) endStretch();
    rise = yOffset;
    const before = move - xOffset;
    if (Math.abs(before) > 0.0005) {
      endHex();
      parts.push(decimal(before));
    }
    hex += glyph;
    move = xOffset + advanceWidth - xAdvance;
  }
  endStretch();
  return stretches;
}
