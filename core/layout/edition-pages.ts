/** One edition: its lines and the book's texts → all pages, numbered, with running heads, contents and bookmarks. */

import { type Cached, type KeyPart, uncached } from '../base/cache.js';
import { last } from '../base/list.js';
import { mmToPt } from '../base/units.js';
import type { Book } from '../book/book.js';
import { BREATHING_TITLE } from '../breath/page.js';
import type { Fonts } from '../engrave/metrics.js';
import { backMatter } from './back-matter.js';
import { chapterAnchor, type EditionContent, type ExercisePlace, exerciseAnchor, type Leaf, plainLeaf } from './edition.js';
import { type Body, bodyPages } from './edition-body.js';
import { breathingPages } from './matter/breathing-pages.js';
import { type ContentsEntry, contentsPages } from './matter/contents.js';
import { contentsGridPages } from './matter/contents-grid.js';
import { footFolio, runningHead } from './matter/furniture.js';
import { keyGrid } from './matter/key-grid.js';
import { textPages } from './matter/text-pages.js';
import { copyrightPage, titlePage } from './matter/title-page.js';
import { blankPage, type MatterPage, pagesOn, type Setting } from './page/geometry.js';
import type { Document, OutlineEntry, Page } from './page/page.js';
import { sheetOf } from './page/sheet.js';

/** Chapters that have an exercise in this edition. */
const printedChapters = (book: Book, body: Body) =>
  book.chapters.flatMap((chapter, c) => {
    const page = body.chapterPages[c];
    return page === undefined ? [] : [{ chapter, c, page }];
  });

function contentsEntries(
  content: EditionContent,
  body: Body,
  back: readonly { title: string; anchor: string; page: number }[],
): ContentsEntry[] {
  const { book } = content;
  const label = (page: number): string => `${page + 1}`;
  return [
    ...printedChapters(book, body).flatMap(({ chapter, c, page }): ContentsEntry[] => [
      { level: 'chapter', number: `${c + 1}`, title: chapter.title, page: label(page), anchor: chapterAnchor(chapter.id) },
      ...body.places
        .filter((p) => p.chapter === c)
        .map(
          (p): ContentsEntry => ({
            level: 'exercise',
            number: p.number,
            title: p.title,
            page: label(p.page),
            anchor: exerciseAnchor(p.id),
          }),
        ),
    ]),
    ...back.map((b): ContentsEntry => ({ level: 'chapter', number: '', title: b.title, page: label(b.page), anchor: b.anchor })),
  ];
}

function outlineOf(content: EditionContent, body: Body, front: readonly OutlineEntry[], back: readonly OutlineEntry[]): OutlineEntry[] {
  const chapters = printedChapters(content.book, body).map(
    ({ chapter, c }): OutlineEntry => ({
      title: `${c + 1}  ${chapter.title}`,
      anchor: chapterAnchor(chapter.id),
      children: body.places
        .filter((p) => p.chapter === c)
        .map((p) => ({ title: `${p.number}  ${p.title}`, anchor: exerciseAnchor(p.id), children: [] })),
    }),
  );
  return [...front, ...chapters, ...back];
}

const romanDigits = [
  [10, 'x'],
  [9, 'ix'],
  [5, 'v'],
  [4, 'iv'],
  [1, 'i'],
] as const;

/** Small roman numerals for the pages before page 1. */
export function roman(value: number): string {
  let rest = value;
  let text = '';
  for (const [size, digits] of romanDigits) {
    while (rest >= size) {
      text += digits;
      rest -= size;
    }
  }
  return text;
}

/** Prints number and running head on each page, by its place. */
export function finish(
  leaves: readonly Leaf[],
  numbering: 'roman' | 'arabic',
  before: number,
  setting: Setting,
  instrument: string,
  bookTitle: string,
  cached: Cached = uncached,
): Page[] {
  return leaves.map((leaf, i) => {
    const geometry = pagesOn(setting.geometry, before + i);
    const own = { ...setting, geometry };
    const label = numbering === 'roman' ? roman(i + 1) : `${i + 1}`;
    const title = geometry.side === 'left' ? bookTitle : (leaf.running ?? bookTitle);
    const words = { folio: label, instrument, title };
    const head = leaf.running === undefined ? [] : cached(['head', words, geometry.side], () => runningHead(words, own));
    const foot = leaf.footFolio ? cached(['folio', label, geometry.side], () => footFolio(label, own)) : [];
    return { label, numbering, side: geometry.side, kind: leaf.matter.kind, items: [...head, ...leaf.matter.items, ...foot] };
  });
}

function frontLeaves(
  content: EditionContent,
  setting: Setting,
  entries: readonly ContentsEntry[],
  places: readonly ExercisePlace[],
  cached: Cached,
): { leaves: Leaf[]; outline: OutlineEntry[] } {
  const { book, player } = content;
  const instrument = content.match?.part ?? player.instrument.name;
  const { title, subtitle, author, publisher, copyright, date } = book;
  const named = [title, subtitle, author, publisher, copyright, date, instrument];
  const leaves: Leaf[] = [
    plainLeaf(cached(['title-page', named], () => titlePage({ ...book, instrument }, setting))),
    plainLeaf(
      cached(['copyright', named], () =>
        copyrightPage({ ...book, edition: `Edition for ${instrument}` }, { ...setting, geometry: pagesOn(setting.geometry, 1) }),
      ),
    ),
  ];
  const outline: OutlineEntry[] = [];
  const add = (title: string, anchor: string, from: KeyPart, build: (own: Setting) => MatterPage[]): void => {
    const geometry = pagesOn(setting.geometry, leaves.length);
    const pages = cached(['front', anchor, geometry.side, from], () => build({ ...setting, geometry }));
    leaves.push(...pages.map((matter): Leaf => ({ matter, running: title, footFolio: false })));
    outline.push({ title, anchor, children: [] });
  };
  add('Contents', 'contents', entries, (own) => contentsPages(entries, own));
  if (book.extras.contentsGrid) {
    const grid = keyGrid(content, places);
    add('Keys and Pages', 'contents-grid', grid, (own) => contentsGridPages(grid, own));
  }
  if (book.preface)
    add('Preface', 'preface', book.preface, (own) => textPages({ title: 'Preface', text: book.preface, anchor: 'preface' }, own));
  if (book.howToUse)
    add('How to Use This Book', 'how-to-use', book.howToUse, (own) =>
      textPages({ title: 'How to Use This Book', text: book.howToUse, anchor: 'how-to-use' }, own),
    );
  const { breathing } = content;
  if (breathing)
    add(BREATHING_TITLE, 'breathing', [breathing.lung, breathing.manner, breathing.added, breathing.text, instrument], (own) =>
      breathingPages(breathing, instrument, own),
    );
  if (leaves.length % 2 === 1) leaves.push(plainLeaf(blankPage()));
  return { leaves, outline };
}

/** Pads a stapled book to whole sheets of four pages. */
function padded(pages: Page[], binding: Book['house']['binding']): Page[] {
  const all = [...pages];
  while (binding === 'stapled' && all.length % 4 !== 0) {
    const end = last(all);
    all.push({
      label: `${Number(end.label) + 1}`,
      numbering: 'arabic',
      side: end.side === 'left' ? 'right' : 'left',
      kind: 'blank',
      items: [],
    });
  }
  return all;
}

export function editionDocument(content: EditionContent, fonts: Fonts): Document {
  const { book, spec, player } = content;
  const { staff, space, setting } = sheetOf(book, spec, player, fonts);
  const { geometry } = setting;
  const { margins, width, height } = geometry;
  const kept = content.cache?.cached ?? uncached;
  const ground = [width, height, margins, staff, book.language];
  const cached: Cached = (key, make) => kept([...ground, ...key], make);
  const body = bodyPages(content, setting, space, cached);
  const back = backMatter(
    content,
    body.places,
    { ...setting, geometry: pagesOn(geometry, body.leaves.length) },
    body.leaves.length,
    space,
    cached,
  );
  const entries = contentsEntries(content, body, back.sections);
  const front = content.bodyOnly ? { leaves: [], outline: [] } : frontLeaves(content, setting, entries, body.places, cached);
  const instrument = content.match?.part ?? player.instrument.name;
  const backOutline = back.sections.map((s): OutlineEntry => ({ title: s.title, anchor: s.anchor, children: [] }));
  const pages = [
    ...finish(front.leaves, 'roman', 0, setting, instrument, book.title, cached),
    ...finish([...body.leaves, ...back.leaves], 'arabic', front.leaves.length, setting, instrument, book.title, cached),
  ];
  return {
    width,
    height,
    margins,
    bleed: mmToPt(book.house.bleed),
    cropMarks: book.house.cropMarks,
    pages: padded(pages, book.house.binding),
    outline: outlineOf(content, body, front.outline, backOutline),
    info: {
      title: `${book.title} – ${instrument}`,
      author: book.author,
      subject: book.subtitle,
      keywords: `${instrument}, technique, exercises in all keys`,
      language: book.language,
      date: book.date,
    },
  };
}
