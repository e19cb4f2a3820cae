/** The project's fonts, opened once for all tests of a file. */
import { readFileSync } from 'node:fs';
import { type Fonts, openFonts } from '../core/engrave/metrics.js';
import { fontFiles } from '../core/fonts-on-disk.js';

let fonts: Fonts | undefined;

export function testFonts(): Fonts {
  fonts ??= openFonts(fontFiles((path) => readFileSync(path)));
  return fonts;
}
