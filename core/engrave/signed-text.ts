/** Words with ♭ and ♯ in them: letters from the text font, signs from the music font. */
import { GLYPH } from './glyphs.js';
import type { Ink } from './ink.js';
import type { Fonts } from './metrics.js';

/** Text with its music signs (♭, ♯) taken from the music font, left end at x. Returns the width. */
export function drawSigned(
  ink: Ink,
  role: 'key-name' | 'degree' | 'label',
  event: number | undefined,
  font: 'roman' | 'bold',
  size: number,
  x: number,
  y: number,
  text: string,
): number {
  let at = x;
  const owner = event === undefined ? {} : { event };
  for (const part of text.split(/([♭♯𝄫𝄪])/u)) {
    if (part === '') continue;
    const code = SIGNS[part];
    if (code === undefined) at += ink.text(role, owner, font, size, at, y, part);
    else {
      const scale = size * SIGN_SCALE;
      const box = ink.fonts.glyph(code);
      ink.glyph(role, owner, code, at + 0.06 * size, y - SIGN_RAISED * size, scale);
      at += box.x1 * scale + 0.1 * size;
    }
  }
  return at - x;
}

const SIGNS: Readonly<Record<string, number>> = {
  '♭': GLYPH.accidentalFlat,
  '♯': GLYPH.accidentalSharp,
  '𝄫': GLYPH.accidentalDoubleFlat,
  '𝄪': GLYPH.accidentalDoubleSharp,
};
/** Size of an accidental in text of type size 1 (em 4 spaces × scale): a sharp as high as the capitals with a little over. */
const SIGN_SCALE = 0.3;
/** A sign's middle over the baseline. */
const SIGN_RAISED = 0.3;

/** How far the signs of a text reach below its baseline: a sharp does, a flat does not. */
export function signedDrop(fonts: Fonts, size: number, text: string): number {
  const drops = Object.entries(SIGNS).map(([sign, code]) =>
    text.includes(sign) ? size * (fonts.glyph(code).y1 * SIGN_SCALE - SIGN_RAISED) : 0,
  );
  return Math.max(0, ...drops);
}

export function signedWidth(fonts: Fonts, font: 'roman' | 'bold', size: number, text: string): number {
  return text
    .split(/([♭♯𝄫𝄪])/u)
    .filter((p) => p !== '')
    .reduce(
      (w, p) =>
        w + (SIGNS[p] === undefined ? fonts.width(font, p) * size : fonts.glyph(SIGNS[p] as number).x1 * size * SIGN_SCALE + 0.1 * size),
      0,
    );
}

/** `b3` as printed: ♭3. */
export const degreeText = (degree: string): string =>
  degree.replaceAll('##', '𝄪').replaceAll('bb', '𝄫').replaceAll('#', '♯').replaceAll('b', '♭').replace('-', '−');
