/**
 * Fonts as PDFKit embeds them: opened once for all files of a thread, since opening and reading one takes longer than a
 * page, and yet with nothing in a file of what was set before.
 */
import type { FontName } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { OpenFont, OpenRun } from './kit.js';

/** An opened font for one file. Its runs are fresh, since PDFKit changes them. */
export function shapingFont(fonts: Fonts, name: FontName): OpenFont {
  return Object.create(fonts.opened(name), {
    layout: {
      value: (text: string, features: readonly string[] = []): OpenRun => {
        const { glyphs, places } = fonts.shaped(name, text, features);
        const positions = glyphs.map((_, i) => {
          const [xAdvance = 0, yAdvance = 0, xOffset = 0, yOffset = 0] = places.slice(4 * i, 4 * i + 4);
          return { xAdvance, yAdvance, xOffset, yOffset };
        });
        return { glyphs, positions };
      },
    },
  }) as OpenFont;
}
