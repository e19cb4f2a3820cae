/** A phrase from a MusicXML or MIDI file, shown before it is taken into the book. */

import { good, type Result } from '../../../core/base/issue.js';
import { parseFigure } from '../../../core/exercise/figure.js';
import { type ImportedFigure, importFigure, parseKey } from '../../../core/import/import-figure.js';
import { type Key, keyText, keyWords } from '../../../core/theory/key.js';
import type { ImportView } from '../contract/answers/figure.js';

const plain = (key: Key): string => keyText(key).replaceAll('♭', 'b').replaceAll('♯', '#');
const named = (key: Key) => ({ key: keyWords(key), keyTyped: plain(key) });

/** `draw` engraves degrees in C. Refusals are those of the core. */
export function importView(
  { bytes, key }: { readonly bytes: string; readonly key?: string | undefined },
  draw: (figure: string) => Result<{ readonly svg: string }>,
): Result<ImportView> {
  const given = key === undefined || key.trim() === '' ? undefined : parseKey(key);
  if (given && !given.ok) return given;
  const read = importFigure(new Uint8Array(Buffer.from(bytes, 'base64')), given ? { key: given.value } : {});
  if (!read.ok) return read;
  const found: ImportedFigure = read.value;
  const drawn = parseFigure(found.figure).ok ? draw(found.figure) : undefined;
  return good(
    {
      figure: found.figure,
      rhythm: found.rhythm,
      ...named(found.key),
      keyFrom: found.keyFrom,
      confidence: found.confidence,
      others: found.others.map((other) => ({ ...named(other.key), confidence: other.confidence })),
      metre: found.metre,
      title: found.title,
      svg: drawn?.ok ? drawn.value.svg : '',
    },
    read.issues,
  );
}
