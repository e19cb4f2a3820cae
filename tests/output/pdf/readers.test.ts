/**
 * A whole edition read back by programs that share no code: pdf.js, PDFium and poppler, with mupdf for the bookmarks.
 * Where a command is not installed, its test is skipped and says so.
 */
import type { PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { mmToPt } from '../../../core/base/units.js';
import type { Document, OutlineEntry, TextRun } from '../../../core/layout/page/page.js';
import { testFonts } from '../../fonts.js';
import { type SeenByPdfium, seenByPdfium } from '../pdfium.js';
import { opened, pdfOf, run, withTool } from '../read-pdf.js';
import { realEdition } from '../real-edition.js';

let document: Document;
let bytes: Buffer;
let pdf: PDFDocumentProxy;
let pdfium: SeenByPdfium;
beforeAll(async () => {
  ({ document } = realEdition('small-wheels', 'clarinet-in-bb'));
  bytes = await pdfOf(document);
  pdf = await opened(bytes);
  pdfium = await seenByPdfium(bytes);
});
afterAll(() => pdfium.close());

/** Anchors in the order of the pages, with page from 0. */
function anchors(): { readonly name: string; readonly page: number }[] {
  return document.pages.flatMap(({ items }, page) => items.filter((item) => item.kind === 'anchor').map(({ name }) => ({ name, page })));
}

type Bookmark = { readonly title: string; readonly depth: number; readonly page: number };
function bookmarks(entries: readonly OutlineEntry[] = document.outline, depth = 0): Bookmark[] {
  return entries.flatMap(({ title, anchor, children }) => [
    { title, depth, page: anchors().find(({ name }) => name === anchor)!.page },
    ...bookmarks(children, depth + 1),
  ]);
}

/** Text alternatives of the figures that each page's own items name. */
function alternatives(): string[][] {
  return document.pages.map(({ items }) => {
    const words = items.flatMap((item) => ('tag' in item && item.tag.kind === 'element' && item.tag.alt ? [item.tag.alt] : []));
    return [...new Set(words)];
  });
}

const unescaped = (xml: string): string =>
  xml.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&#39;', "'").replaceAll('&amp;', '&');

describe('bookmarks', () => {
  it('are many, on two levels', () => {
    expect(bookmarks().length).toBeGreaterThan(15);
    expect(new Set(bookmarks().map(({ depth }) => depth))).toEqual(new Set([0, 1]));
  });

  it('are found by pdf.js', async () => {
    type Entry = Awaited<ReturnType<typeof pdf.getOutline>>[number];
    async function read(entries: readonly Entry[], depth: number): Promise<Bookmark[]> {
      const found: Bookmark[] = [];
      for (const { title, dest, items } of entries) {
        found.push({ title, depth, page: await pdf.getPageIndex((dest as [{ num: number; gen: number }])[0]) });
        found.push(...(await read(items, depth + 1)));
      }
      return found;
    }
    expect(await read(await pdf.getOutline(), 0)).toEqual(bookmarks());
  });

  it('are found by PDFium', () => {
    expect(pdfium.outline).toEqual(bookmarks());
  });

  withTool('pdftohtml', 'are found by poppler', () => {
    const { out } = run('pdftohtml', ['-xml', '-i', '-stdout', 'FILE'], bytes);
    let depth = -1;
    const found: Bookmark[] = [];
    for (const line of out.slice(out.indexOf('<outline>')).split('\n')) {
      if (line === '<outline>') depth++;
      else if (line === '</outline>') depth--;
      const item = /^<item page="(\d+)">(.*)<\/item>$/.exec(line);
      if (item) found.push({ title: unescaped(item[2]!), depth, page: Number(item[1]) - 1 });
    }
    expect(found).toEqual(bookmarks());
  });

  withTool('mutool', 'are found by mupdf', () => {
    const { out } = run('mutool', ['show', 'FILE', 'outline'], bytes);
    const found = out
      .trimEnd()
      .split('\n')
      .map((line) => /^[|+-](\t+)"(.*)"\t#page=(\d+)/.exec(line)!)
      .map(([, tabs, title, page]) => ({ title: title!, depth: tabs!.length - 1, page: Number(page) - 1 }));
    expect(found).toEqual(bookmarks());
  });
});

describe('page labels', () => {
  const labels = (): string[] => document.pages.map(({ label }) => label);

  it('are found by pdf.js', async () => {
    expect(labels()).toContain('iv');
    expect(await pdf.getPageLabels()).toEqual(labels());
  });

  it('are found by PDFium', () => {
    expect(pdfium.labels).toEqual(labels());
  });

  withTool('qpdf', 'are found by qpdf, as ranges', () => {
    const { out } = run('qpdf', ['--json', '--json-key=pagelabels', 'FILE'], bytes);
    const roman = labels().findIndex((label) => /^\d+$/.test(label));
    expect(JSON.parse(out).pagelabels).toEqual([
      { index: 0, label: { '/S': '/r', '/St': 1 } },
      { index: roman, label: { '/S': '/D', '/St': 1 } },
    ]);
  });
});

describe('named destinations', () => {
  /** The names stand in the order of the anchors. */
  const wanted = (): [string, number][] => anchors().map(({ page }, i) => [`d${String(i + 1).padStart(5, '0')}`, page]);

  it('are found by pdf.js', async () => {
    const found = Object.entries((await pdf.getDestinations()) as Record<string, [{ num: number; gen: number }]>);
    expect(found.length).toBeGreaterThan(15);
    const read = await Promise.all(found.map(async ([name, [page]]) => [name, await pdf.getPageIndex(page)]));
    expect(read).toEqual(wanted());
  });

  it('are found by PDFium, each by its name', () => {
    expect(pdfium.destinationCount).toBe(wanted().length);
    expect(wanted().map(([name]) => [name, pdfium.destination(name)])).toEqual(wanted());
    expect(pdfium.destination('d99999')).toBeUndefined();
  });

  withTool('pdfinfo', 'are found by poppler', () => {
    const { out } = run('pdfinfo', ['-dests', 'FILE'], bytes);
    const found = [...out.matchAll(/^ *(\d+) \[.*\] "(.*)"$/gm)].map(([, page, name]) => [name, Number(page) - 1]);
    expect(found).toEqual(wanted());
  });
});

describe('logical structure', () => {
  type Node = { readonly role?: string; readonly alt?: string; readonly children?: readonly Node[] };
  const words = ({ alt, children = [] }: Node): string[] => [...(alt === undefined ? [] : [alt]), ...children.flatMap(words)];

  it('says what each study is, as pdf.js reads it', async () => {
    const found: string[][] = [];
    for (let page = 1; page <= pdf.numPages; page++) found.push(words((await (await pdf.getPage(page)).getStructTree()) as Node));
    expect(found).toEqual(alternatives());
    const studies = found.flat().filter((alt) => /^Study \d+, figure \d/.test(alt));
    expect(studies.map((alt) => Number(/\d+/.exec(alt)![0]))).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
  });

  it('says the same as PDFium reads it', () => {
    expect(pdfium.alternatives).toEqual(alternatives());
  });

  withTool('pdfinfo', 'has a heading for each study and a link for each line of the contents, as poppler reads it', () => {
    const { out, err } = run('pdfinfo', ['-struct-text', 'FILE'], bytes);
    expect(err).toBe('');
    expect(out.match(/^ {2}Figure/gm)).toHaveLength(alternatives().flat().length);
    const headings = [...out.matchAll(/^ {2}H2 \(block\)\n((?: {4}".*"\n)+)/gm)].map(([, lines]) =>
      lines!.replaceAll(/["\s]+/g, ' ').trim(),
    );
    const studies = bookmarks().filter(({ depth }) => depth === 1);
    expect(headings).toEqual(expect.arrayContaining(studies.map(({ title }) => title.replace(/\s+/g, ' '))));
    const links = document.pages.flatMap(({ items }) => items.filter((item) => item.kind === 'link'));
    expect(out.match(/^ +Link \(inline\)/gm)).toHaveLength(links.length);
  });
});

type Word = { readonly text: string; readonly x0: number; readonly x1: number; readonly baseline: number };

/** The words of the layout's runs and where each must stand; leaders of dots and music signs are no words. */
function layoutWords(runs: readonly TextRun[]): (Word & { readonly run: TextRun })[] {
  const fonts = testFonts();
  return runs
    .filter(({ font, text }) => font !== 'music' && /[^.\s]/.test(text))
    .flatMap((run) => {
      const { font, size, tracking = 0, features } = run;
      const along = (part: string): number => run.x + fonts.width(font, part, features) * size + tracking * [...part].length;
      return [...run.text.matchAll(/\S+/g)].map(({ 0: text, index }) => ({
        run,
        text: text.normalize('NFC'),
        x0: along(run.text.slice(0, index)),
        x1: along(run.text.slice(0, index) + text) - tracking,
        baseline: run.y,
      }));
    });
}

/** Words that poppler finds on each page: it gives a word's box as high as the font, so the box's top tells the baseline. */
function popplerWords(file: Uint8Array): { readonly text: string; readonly x0: number; readonly x1: number; readonly top: number }[][] {
  const { out } = run('pdftotext', ['-bbox', 'FILE', '-'], file);
  const word = /<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="[\d.-]+">(.*)<\/word>/g;
  return out
    .split('<page ')
    .slice(1)
    .map((page) =>
      [...page.matchAll(word)].map(([, x0, top, x1, text]) => ({
        text: unescaped(text!).normalize('NFC'),
        x0: Number(x0),
        x1: Number(x1),
        top: Number(top),
      })),
    );
}

/** Points: about a sixth of a millimeter. */
const SLACK = 0.5;

/** Words of the pages that poppler does not have at the same place, and how many it has alone, without a neighbour joined to them. */
function compare(
  pages: Document['pages'],
  file: Uint8Array,
): { readonly missing: string[]; readonly exact: number; readonly count: number } {
  const found = popplerWords(file);
  const missing: string[] = [];
  let exact = 0;
  let count = 0;
  for (const [index, { items, label }] of pages.entries()) {
    const runs = items.filter((item) => item.kind === 'text').map(({ run }) => run);
    for (const { text: shown, x0, x1, baseline, run } of layoutWords(runs)) {
      // The hyphen of a divided word is read as a soft one.
      const text = run.divided && run.text.endsWith(shown) ? shown.replace(/-$/, '\u00ad') : shown;
      count++;
      const { ascent, unitsPerEm } = testFonts().opened(run.font);
      const top = baseline - (ascent / unitsPerEm) * run.size;
      const level = found[index]!.filter((word) => Math.abs(word.top - top) < SLACK);
      if (level.some((word) => word.text === text && Math.abs(word.x0 - x0) < SLACK && Math.abs(word.x1 - x1) < SLACK)) exact++;
      // A word next to another run without a space, such as a comma after a flat, is joined to it.
      else if (!level.some((word) => word.text.includes(text) && word.x0 < x0 + SLACK && word.x1 > x1 - SLACK))
        missing.push(`page ${label}: ${text} at ${x0.toFixed(2)}, ${baseline.toFixed(2)}`);
    }
  }
  return { missing, exact, count };
}

describe('places of words', () => {
  withTool('pdftotext', 'are where the layout put them, to half a point, as poppler reads them', () => {
    const { missing, exact, count } = compare(document.pages, bytes);
    expect(missing).toEqual([]);
    expect(count).toBeGreaterThan(800);
    expect(exact / count).toBeGreaterThan(0.97);
  });

  withTool('pdftotext', 'are so in a long book too, with its indexes and tables', async () => {
    const long = realEdition('keywrights-daybook', 'oboe').document;
    const { missing, exact, count } = compare(long.pages, await pdfOf(long));
    expect(missing).toEqual([]);
    expect(count).toBeGreaterThan(4000);
    expect(exact / count).toBeGreaterThan(0.97);
  });

  withTool('pdftotext', 'differ from pages moved by one point', () => {
    const move = (dx: number, dy: number): Document['pages'] =>
      document.pages.map((page) => ({
        ...page,
        items: page.items.map((item) =>
          item.kind === 'text' ? { ...item, run: { ...item.run, x: item.run.x + dx, y: item.run.y + dy } } : item,
        ),
      }));
    for (const [dx, dy] of [
      [1, 0],
      [0, 1],
    ] as const) {
      const { exact, missing, count } = compare(move(dx, dy), bytes);
      expect(exact).toBe(0);
      expect(missing.length).toBeGreaterThan(0.9 * count);
    }
  });
});

describe('an edition with bleed and crop marks', () => {
  const BLEED = mmToPt(3);
  /** Crop marks reach 8 mm beyond the bleed. */
  const MARGIN = mmToPt(3 + 8);

  withTool('pdfinfo', 'has the trimmed page inside the bleed inside the sheet, on every page', async () => {
    const marked = realEdition('small-wheels', 'clarinet-in-bb', { bleed: 3, cropMarks: true }).document;
    const { out } = run('pdfinfo', ['-box', '-f', '1', '-l', '999', 'FILE'], await pdfOf(marked));
    const boxes = [...out.matchAll(/^Page +\d+ (\w+)Box: +([\d.-]+) +([\d.-]+) +([\d.-]+) +([\d.-]+)$/gm)].map(([, name, ...sides]) => ({
      name,
      sides: sides.map(Number),
    }));
    const wanted: Record<string, number[]> = {
      Media: [0, 0, 612 + 2 * MARGIN, 792 + 2 * MARGIN],
      Bleed: [MARGIN - BLEED, MARGIN - BLEED, 612 + MARGIN + BLEED, 792 + MARGIN + BLEED],
      Trim: [MARGIN, MARGIN, 612 + MARGIN, 792 + MARGIN],
    };
    for (const [name, sides] of Object.entries(wanted)) {
      const found = boxes.filter((box) => box.name === name);
      expect(found).toHaveLength(marked.pages.length);
      for (const box of found) for (const [i, side] of sides.entries()) expect(Math.abs(box.sides[i]! - side)).toBeLessThan(0.02);
    }
  });
});
