import { JSDOM } from 'jsdom';
import type { PDFDocumentProxy, PDFPageProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { beforeAll, describe, expect, it } from 'vitest';
import { openFonts } from '../../../core/engrave/metrics.js';
import type { Document, PageItem } from '../../../core/layout/page/page.js';
import { writePdf } from '../../../core/output/pdf/pdf.js';
import { testFonts } from '../../fonts.js';
import { opened, operators, pdfOf } from '../read-pdf.js';
import { element, FOLIO, sample, text, withPage } from '../sample.js';

/** Left and top edge of the trimmed page inside the sheet: bleed 9 pt and 8 mm for the crop marks. */
const MARGIN = 31.677;
const SHEET_HEIGHT = 612 + 2 * MARGIN;

let bytes: Buffer;
let pdf: PDFDocumentProxy;
beforeAll(async () => {
  bytes = await pdfOf(sample);
  pdf = await opened(bytes);
});

/** Page from 1 and top edge of the view, from the trimmed page's upper edge, that a destination shows. */
async function shown(dest: string | readonly unknown[] | null): Promise<{ page: number; y: number }> {
  const array = typeof dest === 'string' ? await pdf.getDestination(dest) : dest;
  const [ref, , , top] = array as [{ num: number; gen: number }, unknown, number, number];
  return { page: (await pdf.getPageIndex(ref)) + 1, y: Math.round(SHEET_HEIGHT - MARGIN - top) };
}

type Words = { readonly str: string; readonly transform: number[]; readonly width: number };
async function wordsOf(page: PDFPageProxy): Promise<Words[]> {
  return ((await page.getTextContent()).items as Words[]).filter(({ str }) => str.trim() !== '');
}

type Node = {
  readonly role?: string;
  readonly type?: string;
  readonly alt?: string;
  readonly bbox?: number[];
  readonly children?: readonly Node[];
};
/** `H1 P Figure TOC(TOCI(Link))`, content left out. */
function outlineOf(node: Node): string {
  const inner = (node.children ?? [])
    .filter(({ role }) => role)
    .map(outlineOf)
    .join(' ');
  return inner ? `${node.role}(${inner})` : `${node.role}`;
}
async function structureOf(number: number): Promise<Node> {
  return ((await (await pdf.getPage(number)).getStructTree()) as Node).children![0]!;
}

describe('places to go to, as pdf.js reads them', () => {
  it('has two levels of bookmarks that lead to their anchors, all closed', async () => {
    const entries = (await pdf.getOutline())!;
    const flat = entries.flatMap((entry) => [entry, ...entry.items]);
    const read = await Promise.all(flat.map(async ({ title, count, dest }) => ({ title, count, ...(await shown(dest)) })));
    expect(read).toEqual([
      { title: 'Contents', count: undefined, page: 3, y: 60 },
      { title: 'Chapter one — café', count: -2, page: 4, y: 60 },
      { title: 'Exercise 2', count: undefined, page: 5, y: 80 },
      { title: 'Exercise 4', count: undefined, page: 7, y: 80 },
    ]);
    expect(await pdf.getPageMode()).toBe('UseOutlines');
  });

  it('labels the pages i to iii and 1 to 4', async () => {
    expect(await pdf.getPageLabels()).toEqual(['i', 'ii', 'iii', '1', '2', '3', '4']);
  });

  it('names destinations so that byte order and language order agree', async () => {
    const names = Object.keys((await pdf.getDestinations()) as Record<string, unknown>);
    expect(names).toEqual(['d00001', 'd00002', 'd00003', 'd00004', 'd00005']);
  });

  it('links with words, without a border, to the right page', async () => {
    const links = await (await pdf.getPage(3)).getAnnotations();
    const read = await Promise.all(
      links.map(async ({ dest, contentsObj, borderStyle, rect }) => ({
        words: contentsObj.str,
        border: borderStyle.width,
        rect: (rect as number[]).map(Math.round),
        ...(await shown(dest)),
      })),
    );
    const left = Math.round(60 + MARGIN);
    const bottom = (y: number): number => Math.round(SHEET_HEIGHT - MARGIN - y - 3);
    expect(read).toEqual([
      { words: 'Chapter one, page 1', border: 0, rect: [left, bottom(120), left + 320, bottom(120) + 12], page: 4, y: 60 },
      { words: 'Exercise 2, page 2', border: 0, rect: [left, bottom(140), left + 320, bottom(140) + 12], page: 5, y: 80 },
      { words: 'Exercise 4, page 4', border: 0, rect: [left, bottom(160), left + 320, bottom(160) + 12], page: 7, y: 80 },
    ]);
  });

  it.each([
    ['a link', withPage([{ kind: 'link', x: 0, y: 0, width: 9, height: 9, target: 'nowhere', words: 'Nowhere' }])],
    ['a bookmark', { ...withPage([]), outline: [{ title: 'Nowhere', anchor: 'nowhere', children: [] }] }],
  ] as [string, Document][])('refuses %s to an anchor that stands nowhere', async (_, document) => {
    await expect(pdfOf(document)).rejects.toThrow('the anchor nowhere stands on a page');
  });

  it('refuses an anchor named twice', async () => {
    const anchor: PageItem = { kind: 'anchor', name: 'twice', y: 0 };
    await expect(pdfOf(withPage([anchor, anchor]))).rejects.toThrow('the anchor twice stands in one place');
  });
});

describe('text', () => {
  it('is read back as written, ligatures, small capitals and accents included', async () => {
    const read = (await wordsOf(await pdf.getPage(1))).map(({ str }) => str.normalize('NFC'));
    expect(read).toEqual([
      'Scales & Arpeggios',
      'for clarinet in b',
      '♭',
      'a first edition',
      'café, naïve: éx\u0301',
      'Old-style 0123456789',
      'i',
    ]);
    const prose = await wordsOf(await pdf.getPage(5));
    expect(prose.map(({ str }) => str)).toContain('The office staff offer five fine waffles; AVATAR, Tokyo, Wm.');
  });

  it('stands where the page says, as wide as it was measured', async () => {
    for (const number of [1, 3, 5]) {
      const runs = sample.pages[number - 1]!.items.filter((item) => item.kind === 'text').map(({ run }) => run);
      const read = await wordsOf(await pdf.getPage(number));
      for (const run of runs) {
        const found = read.find(
          ({ str, transform }) =>
            str.normalize('NFC') === run.text.normalize('NFC') && Math.abs(transform[5]! - (SHEET_HEIGHT - MARGIN - run.y)) < 0.01,
        );
        expect(found, run.text).toBeDefined();
        expect(found!.transform[4]).toBeCloseTo(run.x + MARGIN, 2);
        // A reader may leave out the space after the last letter, and that of a letter under its accent.
        expect(Math.abs(found!.width - run.width), run.text).toBeLessThan(0.05 + (run.tracking ?? 0));
      }
    }
  });

  it('would be wider without kerning', () => {
    const font = testFonts().opened('roman');
    const unkerned = font.glyphsForString('AVATAR').reduce((sum, glyph) => sum + glyph.advanceWidth, 0) / font.unitsPerEm;
    expect(testFonts().width('roman', 'AVATAR')).toBeLessThan(unkerned - 0.1);
  });

  it.each([
    ['roman', '𝄫'],
    ['music', '♭𝄪'],
  ] as const)('refuses a %s run with a character that the font lacks: %s', async (font, words) => {
    await expect(pdfOf(withPage([text(font, 10, 50, 50, words, FOLIO)]))).rejects.toThrow(
      `the ${font} font has a glyph for every character of "${words}"`,
    );
  });
});

describe('what the document says of itself', () => {
  it('gives title, author, subject, keywords and dates, unescaped', async () => {
    expect((await pdf.getMetadata()).info).toMatchObject({
      PDFFormatVersion: '1.7',
      Language: 'en-US',
      Title: 'Scales & Arpeggios <1>',
      Author: 'A. N. Author',
      Subject: 'Cycle exercises “in all keys”',
      Keywords: 'scales, arpeggios',
      CreationDate: 'D:20260304000000Z',
      ModDate: 'D:20260304000000Z',
    });
    expect(await pdf.getMarkInfo()).toMatchObject({ Marked: true });
    expect(await pdf.getViewerPreferences()).toEqual({ DisplayDocTitle: true });
  });

  it('has a metadata stream that an XML parser reads', () => {
    const xml = /<\?xpacket begin[\s\S]*<\?xpacket end="w"\?>/.exec(bytes.toString('utf8'))![0];
    const { DOMParser } = new JSDOM('').window;
    const parsed = new DOMParser().parseFromString(xml, 'application/xml');
    expect(parsed.querySelector('parsererror')).toBeNull();
    const dc = (name: string): string | undefined =>
      parsed.getElementsByTagNameNS('http://purl.org/dc/elements/1.1/', name)[0]?.textContent?.trim();
    expect(dc('title')).toBe('Scales & Arpeggios <1>');
    expect(dc('language')).toBe('en-US');
    // The broken case: the same title without escapes is no XML.
    const broken = new DOMParser().parseFromString(xml.replaceAll('&amp;', '&'), 'application/xml');
    expect(broken.querySelector('parsererror')).not.toBeNull();
  });

  it('refuses a date that is none', async () => {
    const wrong = { ...sample, info: { ...sample.info, date: 'yesterday' } };
    await expect(pdfOf(wrong)).rejects.toThrow('yesterday is an ISO date');
  });
});

describe('logical structure', () => {
  it.each([
    [1, 'Document(H1 P P P Figure P)'],
    [2, 'Document(L(LI(LBody) LI(LBody)) Table(TR(TD TD) TR(TD TD)))'],
    [3, 'Document(H1 TOC(TOCI(Link) TOCI(Link) TOCI(Link)))'],
    // The running text began before the heading of this page, so it comes first.
    [5, 'Document(P H2 Figure)'],
  ])('page %i reads %s', async (number, expected) => {
    expect(outlineOf(await structureOf(number))).toBe(expected);
  });

  it('gives figures their words, and their box when they stand on one page', async () => {
    const figure = (await structureOf(5)).children!.find(({ role }) => role === 'Figure')!;
    expect(figure.alt).toBe('Exercise 2: eight eighths under a slur');
    // The drawing starts at x 60, its lowest ink is 6.2 spaces of 5 pt below y 200.
    expect(figure.bbox![0]).toBeCloseTo(60 + MARGIN, 2);
    expect(figure.bbox![1]).toBeCloseTo(SHEET_HEIGHT - MARGIN - (200 + 6.2 * 5), 2);
  });

  it('joins the items of one element across pages', async () => {
    const plain = (await pdfOf(sample, { compress: false })).toString('latin1');
    const running = [...plain.matchAll(/\/S \/P\n[\s\S]*?endobj/g)].filter(([found]) => found.includes('/MCR'));
    expect(running).toHaveLength(1);
    expect(running[0]![0].match(/\/MCR/g)).toHaveLength(3);
  });

  it('puts every piece of ink into an element or an artifact', async () => {
    const painting = / (re f|f|S|B)$|[>\]](Tj|TJ)$|^(f|S|B)$/;
    let inside = 0;
    let painted = 0;
    for (const line of operators(await pdfOf(sample, { compress: false })).split('\n')) {
      if (line.endsWith('BDC')) inside++;
      if (line === 'EMC') inside--;
      expect(inside === 0 || inside === 1, line).toBe(true);
      if (!painting.test(line)) continue;
      painted++;
      expect(inside, line).toBe(1);
    }
    expect(painted).toBeGreaterThan(80);
  });

  it('refuses an element that changes its type', async () => {
    const items = [
      text('roman', 9, 50, 50, 'one', element('P', 'same')),
      text('roman', 9, 50, 70, 'two', FOLIO),
      text('roman', 9, 50, 90, 'three', element('H1', 'same')),
    ];
    await expect(pdfOf(withPage(items))).rejects.toThrow('the element same has one type');
  });
});

describe('writing', () => {
  it('gives the same bytes for the same document, whatever was measured before', async () => {
    // A non-breaking space shares the glyph of the space: measuring it first must not change what the file says of it.
    const used = openFonts(testFonts().files);
    used.width('roman', '\u00a0');
    expect(used.opened('roman').layout(' ').glyphs[0]!.codePoints).toEqual([0xa0]);
    const chunks: Uint8Array[] = [];
    await writePdf(sample, used, (chunk) => void chunks.push(chunk));
    expect(Buffer.concat(chunks).equals(bytes)).toBe(true);
    const later = { ...sample, info: { ...sample.info, date: '2026-03-05' } };
    expect((await pdfOf(later)).equals(bytes)).toBe(false);
  });

  it('hands over page by page and waits for the sink', async () => {
    const events: string[] = [];
    let busy = false;
    const sink = async (): Promise<void> => {
      expect(busy).toBe(false);
      busy = true;
      await new Promise((resolve) => setImmediate(resolve));
      busy = false;
      events.push('chunk');
    };
    await writePdf(sample, testFonts(), sink, { onPage: (done, total) => events.push(`${done}/${total}`) });
    expect(events.filter((event) => event !== 'chunk')).toEqual(['1/7', '2/7', '3/7', '4/7', '5/7', '6/7', '7/7']);
    // A page is flushed when the next begins, so the first two pages have given a chunk before the third is done.
    expect(events.slice(0, events.indexOf('3/7')).filter((event) => event === 'chunk').length).toBeGreaterThanOrEqual(2);
  });

  it('stops with an AbortError', async () => {
    const stop = new AbortController();
    let pages = 0;
    const onPage = (done: number): void => {
      pages = done;
      if (done === 2) stop.abort();
    };
    await expect(pdfOf(sample, { signal: stop.signal, onPage })).rejects.toMatchObject({ name: 'AbortError' });
    expect(pages).toBe(2);
  });

  it('passes on what the sink throws', async () => {
    const full = (): never => {
      throw new Error('disk full');
    };
    await expect(writePdf(sample, testFonts(), full)).rejects.toThrow('disk full');
  });
});
