/**
 * The parts of PDFKit 0.20.2 that the painter uses and its published types lack, and what must be put right in them:
 * metadata that is not escaped, outline destinations, page labels and page boxes.
 */
import type { FontName } from '../../engrave/drawing.js';
import type { OutlineEntry, Page } from '../../layout/page/page.js';
import { escapeXml } from '../xml.js';

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
  subset.glyphs.push(subset.glyphs[first] as number);
  widths[second] = widths[first] as number;
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

type Outline = {
  readonly outlineData: Record<string, unknown>;
  addItem(title: string, options: { pageNumber: number; expanded: boolean }): Outline;
};

type Tree = { limits: boolean };

export type Kit = {
  page: { readonly dictionary: Ref; readonly fonts: Record<string, Ref> };
  info: Record<string, unknown>;
  readonly outline: Outline;
  readonly _root: { readonly data: { Pages: Ref; Names: { data: { Dests: Tree } }; [key: string]: unknown } };
  readonly _font: EmbeddedFont;
  /** Objects begun and not yet written. */
  _waiting: number;
  /** Bytes written. */
  readonly _offset: number;
  /** One entry for each object. */
  readonly _offsets: readonly unknown[];
  readonly _info: Ref;
  readonly _id: Uint8Array;
  _write(data: string | Uint8Array): void;
  _refEnd(ref: Ref): void;
  _finalize(): void;
  push(chunk: null): void;
  _addInfo(): void;
  appendXML(xml: string): void;
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

/** What the metadata stream holds besides the document information, and escaped as XML wants it. */
export function escapeMetadata(kit: Kit, language: string, modified: Date): void {
  const write = kit._addInfo.bind(kit);
  kit._addInfo = () => {
    const plain = kit.info;
    kit.info = Object.fromEntries(Object.entries(plain).map(([key, v]) => [key, typeof v === 'string' ? escapeXml(v) : v]));
    write();
    kit.info = plain;
    kit.appendXML(`<rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:dc="http://purl.org/dc/elements/1.1/">
      <xmp:ModifyDate>${modified.toISOString().slice(0, 19)}Z</xmp:ModifyDate>
      <dc:language><rdf:Bag><rdf:li>${escapeXml(language)}</rdf:li></rdf:Bag></dc:language>
    </rdf:Description>`);
  };
}

/** The root of a name or number tree carries no limits (ISO 32000-1, tables 36 and 37). */
export function dropRootLimits(kit: Kit): void {
  kit._root.data.Names.data.Dests.limits = false;
  kit.getStructTreeRoot().data.ParentTree.limits = false;
}

/** A bookmark's place: the page's index and PDF coordinates from the lower left corner of the media box. */
export type Place = { readonly page: number; readonly left: number; readonly top: number };

/**
 * Bookmarks, all levels closed. To be called when every page exists. PDFKit counts only open items and puts the left
 * edge of a destination at the page's width, so count and destination are set here (ISO 32000-1, 12.3.3 and table 152).
 */
export function addOutline(kit: Kit, entries: readonly OutlineEntry[], place: (anchor: string) => Place): void {
  const kids = kit._root.data.Pages.data.Kids as readonly Ref[];
  function add(parent: Outline, entry: OutlineEntry): void {
    const { page, left, top } = place(entry.anchor);
    const item = parent.addItem(entry.title, { pageNumber: page, expanded: false });
    item.outlineData.Dest = [kids[page], 'XYZ', left, top, null];
    // A closed item counts its hidden children as a negative number.
    if (entry.children.length > 0) item.outlineData.Count = -entry.children.length;
    for (const child of entry.children) add(item, child);
  }
  for (const entry of entries) add(kit.outline, entry);
  if (entries.length > 0) kit.outline.outlineData.Count = entries.length;
}

type LabelRange = { readonly S?: 'r' | 'R' | 'D'; readonly St?: number; readonly P?: string };

/** Page labels (ISO 32000-1, 12.4.2): index of the first page of each range, and how its pages are numbered. */
export function labelRanges(pages: readonly Pick<Page, 'label' | 'numbering'>[]): [number, LabelRange][] {
  const ranges: [number, LabelRange][] = [];
  let style = '';
  let next = Number.NaN;
  for (const [index, page] of pages.entries()) {
    const read = readLabel(page);
    if (!read) {
      // A label that is no number, or none at all: a range of its own, which is only a prefix.
      ranges.push([index, page.label === '' ? {} : { P: page.label }]);
      style = '';
    } else {
      if (read.style !== style || read.number !== next) ranges.push([index, { S: read.style, St: read.number }]);
      style = read.style;
      next = read.number + 1;
    }
  }
  return ranges;
}

function readLabel({ label, numbering }: Pick<Page, 'label' | 'numbering'>): { style: 'r' | 'R' | 'D'; number: number } | undefined {
  if (numbering === 'arabic') return /^[1-9]\d*$/.test(label) ? { style: 'D', number: Number(label) } : undefined;
  const number = fromRoman(label.toLowerCase());
  if (number === undefined) return undefined;
  if (label === label.toLowerCase()) return { style: 'r', number };
  return label === label.toUpperCase() ? { style: 'R', number } : undefined;
}

const ROMAN: readonly (readonly [number, string])[] = [
  [1000, 'm'],
  [900, 'cm'],
  [500, 'd'],
  [400, 'cd'],
  [100, 'c'],
  [90, 'xc'],
  [50, 'l'],
  [40, 'xl'],
  [10, 'x'],
  [9, 'ix'],
  [5, 'v'],
  [4, 'iv'],
  [1, 'i'],
];

const WELL_FORMED = /^m*(?:cm|cd|d?c{0,3})(?:xc|xl|l?x{0,3})(?:ix|iv|v?i{0,3})$/;

/** The number of a well-formed lower-case Roman numeral; undefined for anything else (`iiii`, `ic`, empty). */
function fromRoman(text: string): number | undefined {
  if (text === '' || !WELL_FORMED.test(text)) return undefined;
  let rest = text;
  let number = 0;
  for (const [value, letters] of ROMAN) {
    while (rest.startsWith(letters)) {
      number += value;
      rest = rest.slice(letters.length);
    }
  }
  return number;
}

export function addPageLabels(kit: Kit, pages: readonly Page[]): void {
  const nums = labelRanges(pages).flatMap(([index, { P, ...range }]) => [
    index,
    // PDFKit writes a String object as a string and a plain string as a name.
    P === undefined ? range : { ...range, P: new String(P) },
  ]);
  const labels = kit.ref({ Nums: nums });
  kit._root.data.PageLabels = labels;
  labels.end();
}
