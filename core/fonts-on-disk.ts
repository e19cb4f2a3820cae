/** Where the font files lie, relative to this module; the caller brings the reading. */
import { fileURLToPath } from 'node:url';
import type { FontName } from './engrave/drawing.js';
import type { FontFiles } from './engrave/metrics.js';

const FILES: Readonly<Record<FontName, string>> = {
  roman: 'SourceSerif4-Regular.otf',
  italic: 'SourceSerif4-It.otf',
  bold: 'SourceSerif4-Bold.otf',
  'bold-italic': 'SourceSerif4-BoldIt.otf',
  display: 'SourceSerif4Display-Regular.otf',
  music: 'Sebastian.otf',
};

/** Works from the sources (core/) and from the built program (a folder of dist/). */
function folder(): URL {
  const here = new URL('.', import.meta.url);
  return new URL(here.pathname.includes('/dist/') ? '../../assets/fonts/' : '../assets/fonts/', here);
}

export function fontFiles(read: (path: string) => Uint8Array): FontFiles {
  const entries = Object.entries(FILES).map(([name, file]) => [name, read(fileURLToPath(new URL(file, folder())))]);
  return Object.fromEntries(entries) as FontFiles;
}
