/** What comes of an edition in many files: its pages as pictures, its exercises as MIDI. */

import { distinct, slug } from '../base/file-name.js';
import { good, type Result } from '../base/issue.js';
import { mustGet } from '../base/list.js';
import type { BuiltEdition } from '../build/edition.js';
import type { Fonts } from '../engrave/metrics.js';
import { pageSvg } from '../output/picture/svg.js';
import { midiExport } from '../output/sound/midi.js';
import { performed } from './sound.js';

export type EditionFiles = 'svg' | 'midi';

/** `name`: without a folder. */
export type NamedFile = { readonly name: string; readonly bytes: Uint8Array };

const numbered = (i: number): string => String(i + 1).padStart(3, '0');

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** The files in their order, each made when it is asked for, so that one at a time is held. */
export function editionFiles({ spec, document, lines }: BuiltEdition, of: EditionFiles, fonts: Fonts): (() => Result<NamedFile>)[] {
  if (of === 'svg') {
    return document.pages.map((page, i) => () => {
      const svg = pageSvg(page, document, fonts, { title: `Page ${page.label}` });
      return good({ name: `page-${numbered(i)}.svg`, bytes: bytesOf(svg) });
    });
  }
  const stems = distinct(Array.from(lines.values(), ({ exercise }, i) => `${numbered(i)}-${slug(exercise.title)}`));
  return [...lines.keys()].map((id, i) => () => {
    const line = mustGet(lines, id);
    const sound = performed(line, spec.breath, { countIn: 1 });
    return sound.ok ? good({ name: `${stems[i]}.mid`, bytes: midiExport(line.exercise.title, [sound.value]) }, sound.issues) : sound;
  });
}
