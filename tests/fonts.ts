/** The project's fonts, opened once for all tests of a file. */
import { installedFonts } from '../core/disk/fonts.js';
import { type Fonts, openFonts } from '../core/engrave/metrics.js';

let fonts: Fonts | undefined;

export function testFonts(): Fonts {
  fonts ??= openFonts(installedFonts());
  return fonts;
}
