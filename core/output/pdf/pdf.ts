/** Finished pages as a PDF file. Painted page by page, so memory stays flat in a long book. */
import { assert } from '../../base/issue.js';
import { mmToPt } from '../../base/units.js';
import type { FontName } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { Document, Page, PageItem, Tag } from '../../layout/page/page.js';
import { decimal } from '../decimal.js';
import { type Content, pageContent } from './content.js';
import { shapingFont } from './fonts.js';
import { type EmbeddedFont, type Kit, openKit } from './kit.js';
import { addOutline } from './outline.js';
import { packObjects } from './pack.js';
import { addPageLabels } from './page-labels.js';
import { type Structure, structure } from './structure.js';
import { spaceBetween, textEncoder } from './text.js';

export type PdfOptions = {
  readonly onPage?: (done: number, total: number) => void;
  readonly signal?: AbortSignal;
  /** Deflate the streams (default). Uncompressed files do not depend on the version of zlib. */
  readonly compress?: boolean;
  /**
   * Write PDF/A-1b (ISO 19005-1) for archives: version 1.4, with an sRGB output intent, as that part wants one beside
   * DeviceGray (6.2.3.3). Tags and the one black ink stay. An array of
   * such a file has at most 8191 entries (6.1.12), so a book may have 8191 paragraphs and 4095 pages and links.
   */
  readonly archive?: boolean;
};

/** Room for crop marks outside the bleed; a mark is `CROP_LENGTH` long and keeps `CROP_GAP` from the trim (common practice). */
const SLUG = mmToPt(8);
const CROP_GAP = mmToPt(3);
const CROP_LENGTH = mmToPt(5);
const CROP_WIDTH = 0.25;

/** Pages between two turns of the event loop, so that progress, cancel and the sink's own work get their chance. */
const PAGES_A_TURN = 8;

/**
 * Writes the document to the sink, a chunk for each page, and awaits the sink before it goes on. Same document, same
 * bytes: the dates come from `document.info.date`. Rejects with an AbortError when the signal is aborted; what the sink
 * has by then is no whole file. Throws for a link or bookmark without its anchor, an anchor named twice, a character
 * that a font lacks, or a date that is none: mistakes of the layout.
 */
export async function writePdf(
  document: Document,
  fonts: Fonts,
  sink: (chunk: Uint8Array) => void | Promise<void>,
  options: PdfOptions = {},
): Promise<void> {
  const { pages } = document;
  assert(pages.length > 0, 'a document has a page');
  const { compress = true, archive = false } = options;
  const sheet = sheetOf(document);
  const kit = openKit({ size: [sheet.width, sheet.height], info: document.info, compress, archive });
  // PDF 1.4, of the archive, has no object streams; and who asks for plain streams wants to read the objects.
  if (compress && !archive) packObjects(kit);
  const painter = pagePainter(kit, document, fonts, sheet);

  async function drain(): Promise<void> {
    for (let chunk = kit.read(); chunk !== null; chunk = kit.read()) await sink(chunk);
  }

  function stopIfAborted(): void {
    if (!options.signal?.aborted) return;
    kit.destroy();
    throw new DOMException('The writing of the PDF was stopped.', 'AbortError');
  }

  for (const [index, page] of pages.entries()) {
    stopIfAborted();
    painter.paint(page, index);
    await drain();
    options.onPage?.(index + 1, pages.length);
    if ((index + 1) % PAGES_A_TURN === 0) await new Promise((resolve) => setImmediate(resolve));
  }

  stopIfAborted();
  painter.end();
  kit.end();
  assert(kit._waiting === 0, 'every object of the file is written');
  await drain();
}

/** What is printed on, in points: the trimmed page with the same margin on all sides, for bleed and crop marks. */
type Sheet = { readonly width: number; readonly height: number; readonly margin: number };

function sheetOf({ width, height, bleed, cropMarks }: Document): Sheet {
  const margin = Math.round((bleed + (cropMarks ? SLUG : 0)) * 1000) / 1000;
  return { width: width + 2 * margin, height: height + 2 * margin, margin };
}

type PagePainter = {
  /** Paints the next page. */
  paint(page: Page, index: number): void;
  /** Writes what stands for all pages: structure, page labels, bookmarks. */
  end(): void;
};

type AnchorItem = Extract<PageItem, { readonly kind: 'anchor' }>;

function paintItems(items: readonly PageItem[], content: Content, tags: Structure, place: (anchor: AnchorItem) => void): void {
  let before: Extract<PageItem, { readonly kind: 'text' }> | undefined;
  for (const item of items) {
    if (item.kind === 'link') continue;
    if (item.kind === 'anchor') {
      place(item);
      continue;
    }
    const space = before && item.kind === 'text' && sameElement(before.tag, item.tag) && spaceBetween(before.run, item.run);
    if (space) content.text(space);
    before = item.kind === 'text' ? item : undefined;
    tags.enter(item);
    if (item.kind === 'text') content.text(item.run);
    else if (item.kind === 'rect') content.rect(item);
    else if (item.kind === 'path') content.path(item);
    else tags.cover(item.tag, content.drawing(item));
  }
}

function pagePainter(kit: Kit, document: Document, fonts: Fonts, { height, margin }: Sheet): PagePainter {
  const { pages } = document;
  const anchor = findAnchors(pages);
  const fontOf = fontLoader(kit, fonts);
  const encode = textEncoder(fontOf);
  function resource(name: FontName): string {
    const font = fontOf(name);
    kit.page.fonts[font.id] ??= font.ref();
    return font.id;
  }
  let content = pageContent(encode, resource);
  const tags = structure(kit, pages, {
    flush: () => {
      const operators = content.take();
      if (operators) kit.addContent(operators);
    },
    destination: (name) => anchor(name).destination,
    toPdf: ({ x0, y0, x1, y1 }) => [x0 + margin, height - margin - y1, x1 + margin, height - margin - y0],
  });

  return {
    paint(page, index) {
      kit.addPage();
      setBoxes(kit, document, margin);
      kit.transform(1, 0, 0, 1, margin, margin);
      // PDFKit turned the y axis downward, as its own positions want it; the content has it upward.
      kit.addContent('1 0 0 -1 0 0 cm');
      content = pageContent(encode, resource);
      tags.startPage(index);
      paintItems(page.items, content, tags, ({ name, y }) =>
        kit.addNamedDestination(anchor(name).destination, 'XYZ', margin, y + margin, null),
      );
      tags.endPage();
      if (document.cropMarks) addCropMarks(kit, document);
    },

    end() {
      tags.end();
      addPageLabels(kit, pages);
      addOutline(kit, document.outline, (name) => {
        const { page, y } = anchor(name);
        return { page, left: margin, top: height - margin - y };
      });
    },
  };
}

function sameElement(a: Tag, b: Tag): boolean {
  return a.kind === 'element' && b.kind === 'element' && a.id === b.id;
}

type Anchor = { readonly destination: string; readonly page: number; readonly y: number };

/**
 * Every anchor before the first page is painted, since links lead forward. Viewers search destinations in byte order
 * and PDFKit sorts them by language, which agree for names of equal length in lower-case letters and digits.
 */
function findAnchors(pages: readonly Page[]): (name: string) => Anchor {
  const found = pages.flatMap(({ items }, page) =>
    items.filter((item) => item.kind === 'anchor').map(({ name, y }) => ({ name, page, y })),
  );
  const digits = Math.max(5, String(found.length).length);
  const anchors = new Map<string, Anchor>();
  for (const [i, { name, page, y }] of found.entries()) {
    assert(!anchors.has(name), `the anchor ${name} stands in one place`);
    anchors.set(name, { destination: `d${String(i + 1).padStart(digits, '0')}`, page, y });
  }
  return (name) => {
    const anchor = anchors.get(name);
    assert(anchor, `the anchor ${name} stands on a page`);
    return anchor;
  };
}

/** Embeds a font at its first use. */
function fontLoader(kit: Kit, fonts: Fonts): (name: FontName) => EmbeddedFont {
  const loaded = new Map<FontName, EmbeddedFont>();
  return (name) => {
    let font = loaded.get(name);
    if (!font) {
      kit.registerFont(name, shapingFont(fonts, name));
      kit.font(name);
      font = kit._font;
      loaded.set(name, font);
    }
    return font;
  };
}

/** The trimmed page and its bleed inside the sheet, in PDF coordinates; the margin is the same on all sides. */
function setBoxes(kit: Kit, { width, height, bleed }: Document, margin: number): void {
  const { data } = kit.page.dictionary;
  data.TrimBox = [margin, margin, margin + width, margin + height];
  data.BleedBox = [margin - bleed, margin - bleed, margin + width + bleed, margin + height + bleed];
}

/** Two thin lines at each corner, outside the bleed. */
function addCropMarks(kit: Kit, { width, height, bleed }: Document): void {
  const gap = Math.max(bleed, CROP_GAP);
  const rects: [number, number, number, number][] = [];
  for (const y of [0, -height]) {
    for (const x of [-gap - CROP_LENGTH, width + gap]) rects.push([x, y - CROP_WIDTH / 2, CROP_LENGTH, CROP_WIDTH]);
  }
  for (const x of [0, width]) {
    for (const y of [-gap - CROP_LENGTH, height + gap]) rects.push([x - CROP_WIDTH / 2, -y - CROP_LENGTH, CROP_WIDTH, CROP_LENGTH]);
  }
  kit.markContent('Artifact', { type: 'Page' });
  kit.addContent(`0 g ${rects.map((rect) => `${rect.map((v) => decimal(v)).join(' ')} re`).join(' ')} f`);
  kit.endMarkedContent();
}
