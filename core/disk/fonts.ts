/** The fonts that the program brings with it. */
import { existsSync, readFileSync } from 'node:fs';
import { assert } from '../base/issue.js';
import type { FontName } from '../engrave/drawing.js';
import { type FontFiles, type Fonts, openFonts } from '../engrave/metrics.js';

const FILES: Readonly<Record<FontName, string>> = {
  roman: 'SourceSerif4-Regular.otf',
  italic: 'SourceSerif4-It.otf',
  bold: 'SourceSerif4-Bold.otf',
  'bold-italic': 'SourceSerif4-BoldIt.otf',
  display: 'SourceSerif4Display-Regular.otf',
  music: 'Sebastian.otf',
};

/** `assets/fonts/` of the nearest folder above this file that has one: the sources and the built program lie at different depths. */
function folder(): URL {
  for (let at = new URL('.', import.meta.url); at.pathname !== '/'; at = new URL('..', at)) {
    const fonts = new URL('assets/fonts/', at);
    if (existsSync(fonts)) return fonts;
  }
  assert(false, 'the program has its fonts beside it');
}

/** Bytes of each font. Throws what the file system refused. */
export function installedFonts(): FontFiles {
  const from = folder();
  const entries = Object.entries(FILES).map(([name, file]) => [name, readFileSync(new URL(file, from))]);
  return Object.fromEntries(entries) as FontFiles;
}

let opened: Fonts | undefined;

/** The fonts ready for use, opened once for each thread. */
export function openedFonts(): Fonts {
  opened ??= openFonts(installedFonts());
  return opened;
}
