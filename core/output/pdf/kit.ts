/**
 * The door to PDFKit. No method of it is replaced. What is used besides its documented ways, since there is none for it:
 *
 * - `metadata` is given a value of our own, which has the whole packet (metadata.ts): PDFKit would put the texts of `info` into it
 *   unescaped, without the language and the date of the last change;
 * - `push`, through which a stream of Node hands on what is written, is wrapped by `packObjects` (pack.ts), which reads the
 *   objects from it and takes `_root`, `_info` and `_id` for the trailer;
 * - `limits` of the two trees, `outlineData` and `Kids` (outline.ts), `PageLabels` of `_root` (page-labels.ts);
 * - `_font` with its `subset`, `widths` and `unicode`, to give a glyph a second number (`secondGlyph`).
 *
 * `tests/output/pdf/kit.test.ts` fails when these parts of PDFKit are no longer those that this was written for.
 */
import PDFDocument from 'pdfkit';
import { assert } from '../../base/issue.js';
import { at } from '../../base/list.js';
import type { FontName } from '../../engrave/drawing.js';
import type { Document } from '../../layout/page/page.js';
import { xmpMetadata } from './metadata.js';

/** An indirect object of the file; `end` writes it, with the bytes of its stream when there are any. */
export type Ref = { readonly id: number; readonly data: Record<string, unknown>; end(stream?: string | Uint8Array): void };

/** Advances and offsets in thousandths of an em; `advanceWidth` is the glyph's own, without kerning. */
export type GlyphPlace = { readonly xAdvance: number; readonly advanceWidth: number; readonly xOffset: number; readonly yOffset: number };

export type EmbeddedFont = {
  /** Name of the font in a page's resources. */
  readonly id: string;
  ref(): Ref;
  /** Glyph numbers of the subset as four hexadecimal digits, and where each stands. */
  encode(text: string, features: readonly string[]): [string[], GlyphPlace[]];
  /** By glyph number of the subset: the font's own glyph, its width, and the characters it stands for. */
  readonly subset: { readonly glyphs: number[] };
  readonly widths: number[];
  readonly unicode: (readonly number[])[];
};

/** The same glyph once more in the subset, where it stands for another character; its number as four hexadecimal digits. */
export function secondGlyph({ subset, widths, unicode }: EmbeddedFont, glyph: string, codePoint: number): string {
  const first = Number.parseInt(glyph, 16);
  const second = subset.glyphs.length;
  subset.glyphs.push(at(subset.glyphs, first));
  widths[second] = at(widths, first);
  unicode[second] = [codePoint];
  return second.toString(16).padStart(4, '0');
}

/** What PDFKit takes for a font that is open already. */
export type OpenFont = { layout(text: string, features?: readonly string[]): OpenRun };
export type OpenRun = {
  readonly glyphs: readonly { readonly id: number; readonly advanceWidth: number; readonly codePoints: readonly number[] }[];
  /** In font units; PDFKit scales them in place. */
  readonly positions: { xAdvance: number; yAdvance: number; xOffset: number; yOffset: number }[];
};

export type StructureContent = { readonly refs: readonly unknown[] };
export type StructureElement = {
  readonly dictionary: Ref;
  add(child: StructureElement | StructureContent): StructureElement;
  end(): void;
};

export type Outline = {
  readonly outlineData: Record<string, unknown>;
  addItem(title: string, options: { pageNumber: number; expanded: boolean }): Outline;
};

type Tree = { limits: boolean };

/** The packet of XML beside the pages: PDFKit tells it piece by piece, and asks for the whole at the end. */
type Metadata = {
  append(xml: string, newline?: boolean): void;
  end(): void;
  getXML(): string;
  getLength(): number;
};

export type Kit = {
  page: { readonly dictionary: Ref; readonly fonts: Record<string, Ref> };
  readonly outline: Outline;
  metadata: Metadata;
  readonly _root: {
    readonly data: { Pages: { data: { Kids: readonly Ref[] } }; Names: { data: { Dests: Tree } }; [key: string]: unknown };
  };
  readonly _font: EmbeddedFont;
  /** Objects begun and not yet written. */
  readonly _waiting: number;
  readonly _info: Ref;
  readonly _id: Uint8Array;
  /** Of a stream that Node reads: what PDFKit writes goes through it, one line or one stream of an object at a time. */
  push(chunk: Uint8Array | null): boolean;
  /** Bytes that were pushed and not yet read. */
  readonly readableLength: number;
  registerFont(name: FontName, font: OpenFont): void;
  font(name: FontName): void;
  addPage(): void;
  addContent(operators: string): void;
  transform(a: number, b: number, c: number, d: number, e: number, f: number): void;
  addNamedDestination(name: string, fit: 'XYZ', left: number, top: number, zoom: null): void;
  annotate(x: number, y: number, width: number, height: number, options: Record<string, unknown>): void;
  ref(data: unknown): Ref;
  struct(type: string, options: { alt?: string }): StructureElement;
  addStructure(element: StructureElement): void;
  markContent(tag: 'Artifact', options: { type: string }): void;
  markStructureContent(tag: string): StructureContent;
  endMarkedContent(): void;
  getStructTreeRoot(): { data: { ParentTree: Tree } };
  read(): Uint8Array | null;
  end(): void;
  destroy(): void;
};

const CREATOR = 'Twelvefold';

export type KitOptions = {
  /** Of the sheet, in points. */
  readonly size: [number, number];
  readonly info: Document['info'];
  readonly compress: boolean;
  /** PDF/A-1b. */
  readonly archive: boolean;
};

export function openKit({ size, info, compress, archive }: KitOptions): Kit {
  const date = new Date(`${info.date.slice(0, 10)}T00:00:00Z`);
  assert(!Number.isNaN(date.getTime()), `${info.date} is an ISO date`);
  const known = { Title: info.title, Author: info.author, Subject: info.subject, Keywords: info.keywords };
  const texts = Object.entries(known).filter(([, text]) => text !== '');
  const kit = new PDFDocument({
    size,
    margin: 0,
    autoFirstPage: false,
    compress,
    // No standard font: only what is used gets embedded.
    font: '',
    pdfVersion: archive ? '1.4' : '1.7',
    ...(archive ? { subset: 'PDF/A-1b' } : {}),
    tagged: true,
    lang: info.language,
    displayTitle: true,
    info: {
      Creator: CREATOR,
      CreationDate: date,
      ModDate: date,
      ...Object.fromEntries(texts),
    },
  }) as unknown as Kit;
  const packet = xmpMetadata({ info, creator: CREATOR, producer: 'PDFKit', date, archive });
  kit.metadata = { append() {}, end() {}, getXML: () => packet, getLength: () => packet.length };
  // The root of a name or number tree carries no limits (ISO 32000-1, tables 36 and 37).
  kit._root.data.Names.data.Dests.limits = false;
  kit.getStructTreeRoot().data.ParentTree.limits = false;
  return kit;
}
