/** Whole editions, read back from their PDF bytes with pdf.js and checked by qpdf and poppler. */
import type { PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Book } from '../../core/book/book.js';
import { buildEdition } from '../../core/build/edition.js';
import type { Exercise } from '../../core/exercise/exercise.js';
import { roman } from '../../core/layout/edition-pages.js';
import { instrumentById } from '../../core/player/catalogue.js';
import { testFonts } from '../fonts.js';
import { opened, run, withTool } from '../output/read-pdf.js';
import { value } from '../player/fixture.js';
import { bookNamed, build, bytesOf, freshFonts } from './editions.js';

/** Text of a page without spaces, quotation marks made straight: how it was broken into lines does not matter. */
const bare = (text: string): string =>
  text
    .normalize('NFKC')
    .replace(/[“”]/g, '"')
    .replace(/[‘’]/g, "'")
    .replace(/\u00AD|-/g, '')
    .replace(/\s+/g, '');

type Word = { readonly text: string; readonly x: number; readonly y: number };
type ReadPage = {
  readonly label: string;
  readonly text: string;
  readonly words: readonly Word[];
  readonly links: readonly { readonly page: number; readonly y0: number; readonly y1: number; readonly words: string }[];
};
type Bookmark = { readonly title: string; readonly page: number; readonly depth: number };
type Read = { readonly pages: readonly ReadPage[]; readonly outline: readonly Bookmark[]; readonly title: string };

async function pageOf(pdf: PDFDocumentProxy, dest: string | readonly unknown[] | null): Promise<number> {
  const array = typeof dest === 'string' ? await pdf.getDestination(dest) : dest;
  return await pdf.getPageIndex((array as [{ num: number; gen: number }])[0]);
}

async function readBack(bytes: Uint8Array): Promise<Read> {
  const pdf = await opened(bytes);
  const labels = (await pdf.getPageLabels()) ?? [];
  const pages: ReadPage[] = [];
  for (let i = 0; i < pdf.numPages; i++) {
    const page = await pdf.getPage(i + 1);
    const items = (await page.getTextContent()).items as { str: string; transform: number[] }[];
    const words = items.map(({ str, transform }) => ({ text: str, x: transform[4] as number, y: transform[5] as number }));
    const links = [];
    for (const { dest, rect, contentsObj } of await page.getAnnotations())
      links.push({ page: await pageOf(pdf, dest), y0: rect[1] as number, y1: rect[3] as number, words: contentsObj.str as string });
    pages.push({ label: labels[i] as string, text: bare(words.map((w) => w.text).join(' ')), words, links });
  }
  const outline: Bookmark[] = [];
  type Entry = { title: string; dest: string | unknown[] | null; items: Entry[] };
  const walk = async (entries: readonly Entry[], depth: number): Promise<void> => {
    for (const { title, dest, items } of entries) {
      outline.push({ title, page: await pageOf(pdf, dest), depth });
      await walk(items, depth + 1);
    }
  };
  await walk(((await pdf.getOutline()) ?? []) as Entry[], 0);
  const { info } = (await pdf.getMetadata()) as unknown as { info: { Title: string } };
  return { pages, outline, title: info.Title };
}

type ContentsLine = { readonly words: string; readonly printed: string; readonly to: string };

/** Lines of the contents: what is printed at their right end, and the label of the page that they lead to. */
function contentsLines({ pages }: Read, kinds: readonly string[]): ContentsLine[] {
  return pages.flatMap((page, i) =>
    kinds[i] !== 'contents'
      ? []
      : page.links.map((link) => {
          const own = page.words.filter((w) => w.y > link.y0 && w.y < link.y1 && w.text.trim() !== '').sort((a, b) => a.x - b.x);
          return { words: link.words, printed: own.at(-1)?.text.trim() ?? '', to: pages[link.page]?.label ?? '' };
        }),
  );
}

const contentsFaults = (lines: readonly ContentsLine[]): string[] =>
  lines.flatMap(({ words, printed, to }) => (printed === to && words.includes(to) ? [] : [`${words}: printed ${printed}, leads to ${to}`]));

/** Treble, bass and alto clef, at concert pitch and transposing, all page sizes of the books that come with the program. */
const EDITIONS: readonly (readonly [string, string])[] = [
  ['small', 'viola'],
  ['small', 'bassoon'],
  ['small', 'horn-in-f'],
  ['small-wheels', 'trombone'],
  ['small-wheels', 'alto-saxophone'],
  ['keywrights-daybook', 'oboe'],
];

describe.each(EDITIONS)('%s for %s', (name, instrument) => {
  const book: Book = bookNamed(name);
  const who = value(instrumentById(instrument)).name;
  let bytes: Buffer;
  let read: Read;
  let kinds: readonly string[];
  beforeAll(async () => {
    const edition = build(book, instrument);
    kinds = edition.document.pages.map((page) => page.kind);
    bytes = await bytesOf(edition);
    read = await readBack(bytes);
  });

  it('is named for book and instrument', () => {
    expect(read.title).toBe(`${book.title} – ${who}`);
    expect(read.pages[0]?.text.toLowerCase()).toContain(bare(book.title).toLowerCase());
  });

  it('is labelled in roman and then arabic numbers, the first arabic page on the right', () => {
    const labels = read.pages.map((p) => p.label);
    const front = labels.indexOf('1');
    expect(front % 2).toBe(0);
    expect(labels.slice(0, front)).toEqual(Array.from({ length: front }, (_, i) => roman(i + 1)));
    expect(labels.slice(front)).toEqual(Array.from({ length: labels.length - front }, (_, i) => `${i + 1}`));
  });

  it('has a bookmark for every chapter and exercise, in order, that leads to its title', () => {
    const wanted: [string, number][] = [];
    let number = 0;
    book.chapters.forEach((chapter, c) => {
      wanted.push([`${c + 1}  ${chapter.title}`, 0]);
      for (const exercise of chapter.exercises) wanted.push([`${++number}  ${exercise.title}`, 1]);
    });
    const found = read.outline.filter((b) => b.depth === 1 || /^\d+ {2}/.test(b.title));
    expect(found.map((b) => [bare(b.title), b.depth])).toEqual(wanted.map(([title, depth]) => [bare(title), depth]));
    for (const { title, page } of read.outline) {
      const words = bare(title.replace(/^\d+ {2}/, ''));
      expect(read.pages[page]?.text.toLowerCase(), `${title} on page ${read.pages[page]?.label}`).toContain(words.toLowerCase());
    }
    for (const [i, { page }] of read.outline.filter((b) => b.depth === 1).entries())
      if (i > 0) expect(page).toBeGreaterThanOrEqual(read.outline.filter((b) => b.depth === 1)[i - 1]?.page as number);
  });

  it('prints in the contents the numbers of the pages that the lines lead to', () => {
    const lines = contentsLines(read, kinds);
    const exercises = book.chapters.reduce((sum, chapter) => sum + chapter.exercises.length, 0);
    expect(lines.length).toBeGreaterThanOrEqual(exercises + book.chapters.length);
    expect(contentsFaults(lines)).toEqual([]);
    // Every exercise is led to on the page that its bookmark knows.
    const led = lines.map((line) => line.to);
    for (const { page } of read.outline.filter((b) => b.depth === 1)) expect(led).toContain(read.pages[page]?.label);
    // The broken case: a book whose pages moved on by one after the contents were set.
    const moved = { ...read, pages: read.pages.map((page, i) => ({ ...page, label: read.pages[i + 1]?.label ?? '' })) };
    expect(contentsFaults(contentsLines(moved, kinds)).length).toBe(lines.length);
  });

  it('has instrument and number at the head of every page of music, and a number on every chapter opening', () => {
    read.pages.forEach((page, i) => {
      if (kinds[i] !== 'music' && kinds[i] !== 'chapter') return;
      const [top, bottom] = [Math.max(...page.words.map((w) => w.y)), Math.min(...page.words.map((w) => w.y))];
      const at = (y: number) =>
        bare(
          page.words
            .filter((w) => Math.abs(w.y - y) < 3)
            .map((w) => w.text)
            .join(' '),
        );
      if (kinds[i] === 'music') {
        expect(at(top)).toContain(bare(who));
        expect(at(top)).toContain(page.label);
        // Outside corner: right on odd pages, left on even ones.
        const folio = page.words.filter((w) => Math.abs(w.y - top) < 3).find((w) => w.text.trim() === page.label)?.x ?? Number.NaN;
        const head = page.words.filter((w) => Math.abs(w.y - top) < 3 && w.text.trim() !== '').map((w) => w.x);
        expect(folio).toBe(i % 2 === 0 ? Math.max(...head) : Math.min(...head));
      } else expect(`${at(top)} ${at(bottom)}`).toContain(page.label);
    });
  });

  it('is the same, byte for byte, when built again from nothing', async () => {
    const fonts = freshFonts();
    const again = await bytesOf(build(bookNamed(name), instrument, fonts), fonts);
    expect(again.equals(bytes)).toBe(true);
  });

  withTool('qpdf', 'passes the check of qpdf', () => {
    const { status, out, err } = run('qpdf', ['--check', 'FILE'], bytes);
    expect(err).toBe('');
    expect(out).toContain('No syntax or stream encoding errors found');
    expect(status).toBe(0);
  });

  withTool('pdffonts', 'has every font embedded and subset, as poppler sees it', () => {
    const { out, err } = run('pdffonts', ['FILE'], bytes);
    expect(err).toBe('');
    const fonts = out.trim().split('\n').slice(2);
    expect(fonts.length).toBeGreaterThanOrEqual(3);
    for (const font of fonts) expect(font).toMatch(/^[A-Z]{6}\+\S+ +CID Type 0C +Identity-H +yes yes yes/);
  });

  withTool('pdftoppm', 'is painted by poppler without a complaint', () => {
    const { err, status } = run('pdftoppm', ['-r', '18', '-gray', 'FILE', 'FOLDER/page'], bytes);
    expect(err).toBe('');
    expect(status).toBe(0);
  });
});

describe('what is asked for in the extras', () => {
  it('is bound in, each page with its bookmark', () => {
    const titles = build(bookNamed('small'), 'viola').document.outline.map((entry) => entry.title);
    for (const title of [
      'The Compass of This Book',
      'Keys and Signatures',
      'Scales',
      'Metronome Ladder',
      'Practice Record',
      'Index of Figures',
      'Index of Keys',
    ])
      expect(titles).toContain(title);
  });
});

describe('what cannot be built', () => {
  it('is told as an issue with its place', () => {
    const book = bookNamed('small');
    const narrow: Book = {
      ...book,
      chapters: book.chapters.map((chapter) => ({
        ...chapter,
        exercises: chapter.exercises.map((exercise) => ({ ...exercise, misfit: { kind: 'report' as const } })),
      })),
    };
    const spec = {
      ...(narrow.editions[0] as Book['editions'][number]),
      compass: { low: { letter: 0, alter: 0, octave: 4 }, high: { letter: 2, alter: 0, octave: 4 } },
    };
    const built = buildEdition(narrow, spec, testFonts());
    expect(built.ok).toBe(false);
    expect(built.issues[0]).toMatchObject({ code: 'figure-too-wide', severity: 'error' });
    expect(built.issues[0]?.path.slice(0, 4)).toEqual(['chapters', 0, 'exercises', 0]);
  });

  it('an unknown instrument is told by name', () => {
    const book = bookNamed('small');
    const built = buildEdition(book, { ...(book.editions[0] as Book['editions'][number]), instrument: 'ophicleide' }, testFonts());
    expect(built.ok).toBe(false);
    expect(built.issues[0]?.message).toContain('ophicleide');
  });
});

describe('long and short exercises', () => {
  const withExercises = (exercises: readonly Exercise[]): Book => {
    const book = bookNamed('small');
    return { ...book, chapters: [{ ...(book.chapters[0] as Book['chapters'][number]), text: '', exercises }] };
  };
  const exercises = bookNamed('small').chapters.flatMap((chapter) => chapter.exercises);
  const [first, second, , , home] = exercises as [Exercise, Exercise, Exercise, Exercise, Exercise];

  it('an instruction longer than a page does not stop the build', () => {
    const instruction = Array.from({ length: 300 }, () => 'Play it again, slower and softer than the time before.').join(' ');
    const built = buildEdition(withExercises([{ ...first, instruction }, second]), bookNamed('small').editions[0] as never, testFonts());
    expect(built.ok).toBe(true);
  });

  it('the same for an exercise of one system', () => {
    const instruction = Array.from({ length: 300 }, () => 'Play it again, slower and softer than the time before.').join(' ');
    const built = buildEdition(withExercises([{ ...home, instruction }, second]), bookNamed('small').editions[0] as never, testFonts());
    expect(built.ok).toBe(true);
  });
});
