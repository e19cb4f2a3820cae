/** This program: a book from its checked form to the bytes of the PDF. */
import type { Book, EditionSpec } from '../core/book/book.js';
import { type BuiltEdition, buildEdition } from '../core/build/edition.js';
import { installedFonts } from '../core/disk/fonts.js';
import { type Fonts, openFonts } from '../core/engrave/metrics.js';
import type { Document } from '../core/layout/page/page.js';
import { writePdf } from '../core/output/pdf/pdf.js';
import type { Line } from '../core/player/line.js';

export const openAllFonts = (): Fonts => openFonts(installedFonts());

export function build(book: Book, fonts: Fonts): BuiltEdition {
  const built = buildEdition(book, book.editions[0] as EditionSpec, fonts);
  if (!built.ok) throw new Error(built.issues.map((issue) => issue.message).join('\n'));
  return built.value;
}

/** Writes the document and returns its size in bytes; the chunks go to the sink and are not kept. */
export async function paint(document: Document, fonts: Fonts, sink: (chunk: Uint8Array) => void = () => {}): Promise<number> {
  let bytes = 0;
  await writePdf(document, fonts, (chunk) => {
    bytes += chunk.length;
    sink(chunk);
  });
  return bytes;
}

export const notesOf = (lines: Iterable<Line>): number => {
  let notes = 0;
  for (const line of lines) for (const event of line.events) if (event.kind === 'note') notes++;
  return notes;
};

/** The same document with every drawing made beforehand: painting it is what no engraving could be cheaper than. */
export function drawn(document: Document): Document {
  const pages = document.pages.map((page) => ({
    ...page,
    items: page.items.map((item) => {
      if (item.kind !== 'drawing') return item;
      const drawing = item.draw();
      return { ...item, draw: () => drawing };
    }),
  }));
  return { ...document, pages };
}

/** Bytes of the embedded font programs in a PDF as this program writes it. */
export function fontBytes(pdf: Buffer): number {
  const text = pdf.toString('latin1');
  let bytes = 0;
  for (const found of text.matchAll(/<<([^>]*)>>\s*stream\n/g)) {
    const dictionary = found[1] as string;
    if (/\/Subtype \/(CIDFontType0C|OpenType)/.test(dictionary)) bytes += Number(/\/Length (\d+)/.exec(dictionary)?.[1] ?? 0);
  }
  return bytes;
}
