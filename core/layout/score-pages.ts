/** The score of an ensemble: title, instrumentation, contents, and the exercises in full with pages filled from top to bottom. */

import { at, first, mustGet } from '../base/list.js';
import type { Pt } from '../base/units.js';
import type { Book } from '../book/book.js';
import type { Fonts } from '../engrave/metrics.js';
import { STYLE } from '../engrave/style.js';
import type { Leaf } from './edition.js';
import { chapterAnchor, exerciseAnchor } from './edition.js';
import { finish } from './edition-pages.js';
import { type ContentsEntry, contentsPages } from './matter/contents.js';
import { pageHeading, textLines } from './matter/heading.js';
import { type Table, tablePages } from './matter/table.js';
import { copyrightPage, titlePage } from './matter/title-page.js';
import { type ExerciseHeading, exerciseHeading } from './music/exercise-heading.js';
import { drawSystemOpened, indents, type ScoreStaves, type ScoreSystem, STAFF_AIR } from './music/score-block.js';
import { anchorAt, blankPage, bodyOf, type Frame, type MatterPage, pagesOn, type Setting } from './page/geometry.js';
import type { Document, OutlineEntry, Page, PageItem, Tag } from './page/page.js';
import { fillPages } from './page/page-fill.js';
import { type FittedScore, rowHeight, type ScoreHeading } from './score-fit.js';
import { spanOf } from './text/text.js';

/** One exercise of the score, as its heading and the contents name it. */
export type ScoreExercise = {
  readonly id: string;
  readonly number: string;
  readonly title: string;
  /** `concert B♭, E♭ and F`. */
  readonly aside: string;
  readonly instruction: string;
  readonly notes: readonly string[];
  readonly words: string;
  readonly chapter: number;
};

export type ScoreContent = {
  readonly book: Book;
  readonly ensemble: string;
  /** `Score in concert pitch`. */
  readonly title: string;
  readonly staves: ScoreStaves;
  /** Rows of the page that names the instruments: name, players. */
  readonly instruments: readonly { readonly name: string; readonly players: string; readonly sounds: string }[];
  readonly exercises: readonly ScoreExercise[];
};

/** Air between two systems, between a heading and the system above it, in spaces; how far they may open (house). */
const ROW_AIR = { least: 3, most: 6.5 } as const;

const headingOf = (exercise: ScoreExercise, width: Pt, setting: Setting): ExerciseHeading =>
  exerciseHeading({ ...exercise, anchor: exerciseAnchor(exercise.id) }, width, setting);

/** What stands over the first system of each exercise. */
export function scoreHeadings({ exercises }: ScoreContent, setting: Setting): ScoreHeading[] {
  const { width } = bodyOf(setting.geometry, setting.styles);
  return exercises.map((exercise) => ({ id: exercise.id, height: headingOf(exercise, width, setting).height }));
}

type Row = {
  readonly exercise: ScoreExercise;
  readonly index: number;
  readonly system: ScoreSystem;
  readonly heading: ExerciseHeading | undefined;
};

const heightOf = ({ system, heading }: Row, scale: Pt): Pt => rowHeight(system, heading?.height ?? 0, scale);

function placeRows(rows: readonly Row[], body: Frame, scale: Pt, indentOf: (index: number) => number, fonts: Fonts): PageItem[] {
  const used = rows.reduce((sum, row) => sum + heightOf(row, scale), 0) + (rows.length - 1) * ROW_AIR.least * scale;
  const gaps = rows.reduce((sum, row) => sum + row.system.steps.length, 0) + rows.length - 1;
  // All distances of a page open alike; a page that cannot be filled so is left open at its foot.
  const opened = gaps === 0 ? 0 : Math.max(0, Math.min(STAFF_AIR.most, (body.height - used) / scale / gaps));
  const items: PageItem[] = [];
  let y: number = body.top;
  for (const { exercise, index, system, heading } of rows) {
    if (heading) {
      items.push(...heading.place(body, y));
      y += heading.height;
    }
    y += system.above * scale;
    const tag: Tag = { kind: 'element', type: 'Figure', id: `score:${exercise.id}:${index}`, alt: exercise.words };
    const x = body.left + indentOf(index) * scale;
    const draw = () => drawSystemOpened(system, opened, fonts);
    items.push({ kind: 'drawing', x, y, scale, draw, exercise: exercise.id, system: index, tag });
    y += (system.steps.reduce((a, b) => a + b + opened, 0) + system.below + STYLE.wordsToStaff + ROW_AIR.least + opened) * scale;
  }
  return items;
}

type Chapter = Book['chapters'][number];

/** A chapter of the score and its exercises, with the pages on which they begin. */
type PlacedChapter = {
  readonly number: string;
  readonly chapter: Chapter;
  readonly exercises: readonly { readonly exercise: ScoreExercise; readonly page: number }[];
};

type Body = { readonly leaves: readonly Leaf[]; readonly chapters: readonly PlacedChapter[] };

/** The exercises that begin on a page lead to it, and so does the chapter that begins with one of them. */
function chapterAnchors({ book, exercises }: ScoreContent, rows: readonly Row[], { top }: Frame): PageItem[] {
  return rows.flatMap(({ exercise, heading }) => {
    const opens = heading && exercises.find(({ chapter }) => chapter === exercise.chapter) === exercise;
    return opens ? [anchorAt(chapterAnchor(at(book.chapters, exercise.chapter).id), top)] : [];
  });
}

function rowsOf({ exercises }: ScoreContent, systems: FittedScore['systems'], width: Pt, setting: Setting): Row[] {
  return exercises.flatMap((exercise) => {
    const heading = headingOf(exercise, width, setting);
    return mustGet(systems, exercise.id).map(
      (system, index): Row => ({ exercise, index, system, heading: index === 0 ? heading : undefined }),
    );
  });
}

/** Chapters that have an exercise in the score, and where they begin. */
function placedChapters({ book, exercises }: ScoreContent, starts: ReadonlyMap<string, number>): PlacedChapter[] {
  return book.chapters.flatMap((chapter, c) => {
    const own = exercises.filter((exercise) => exercise.chapter === c);
    const placed = own.map((exercise) => ({ exercise, page: mustGet(starts, exercise.id) }));
    return placed.length > 0 ? [{ number: `${c + 1}`, chapter, exercises: placed }] : [];
  });
}

function bodyLeaves(content: ScoreContent, { scale, systems }: FittedScore, setting: Setting): Body {
  const { geometry, styles, fonts } = setting;
  const body = bodyOf(geometry, styles);
  const room = body.height;
  const rows = rowsOf(content, systems, body.width, setting);
  const pages = fillPages({
    blocks: rows.map((row) => ({ least: Math.min(room, heightOf(row, scale)), pages: 1 })),
    firstRoom: room,
    room,
    firstSide: geometry.side,
    air: ROW_AIR.least * scale,
  });
  const indent = indents(content.staves, fonts);
  const starts = new Map<string, number>();
  const leaves = pages.map((page, p): Leaf => {
    if (page.kind !== 'blocks') return { matter: blankPage(), running: undefined, footFolio: false };
    const own = rows.slice(page.from, page.to);
    for (const { exercise, heading } of own) if (heading) starts.set(exercise.id, p);
    const frame = bodyOf(pagesOn(geometry, p), styles);
    const running = content.book.chapters[own[0]?.exercise.chapter ?? 0]?.title;
    const placed = placeRows(own, frame, scale, (index) => (index === 0 ? indent.first : indent.later), fonts);
    const items = [...chapterAnchors(content, own, frame), ...placed];
    return { matter: { kind: 'music', items }, running, footFolio: false };
  });
  return { leaves, chapters: placedChapters(content, starts) };
}

function instrumentsPage(content: ScoreContent, setting: Setting): MatterPage[] {
  const { styles, fonts, geometry } = setting;
  const body = bodyOf(geometry, styles);
  const heading = pageHeading('Instruments', 'instruments', body, setting);
  const cell = styles['table-cell'];
  const head = styles['table-head'];
  const tag: Tag = { kind: 'element', type: 'P', id: 'instruments-name' };
  const name = textLines(content.ensemble, styles.body, body, heading.bottom, 'center', tag, fonts);
  const table: Table = {
    columns: [
      { width: 0.34 * body.width, align: 'left', head: [spanOf('Part', head)] },
      { width: 0.14 * body.width, align: 'center', head: [spanOf('Players', head)] },
      { width: 0.52 * body.width, align: 'left', head: [spanOf('A written C sounds', head)] },
    ],
    rows: content.instruments.map((row) => [row.name, row.players, row.sounds].map((text) => ({ spans: [spanOf(text, cell)] }))),
    rowHeight: 1.35 * cell.leading,
    grid: false,
    id: 'instruments',
  };
  return [...tablePages(table, 'text', [...heading.items, ...name.items], name.bottom + styles.body.leading, setting).pages];
}

function contentsEntries(chapters: readonly PlacedChapter[]): ContentsEntry[] {
  return chapters.flatMap(({ number, chapter, exercises }): ContentsEntry[] => {
    const { page } = first(exercises);
    return [
      { level: 'chapter', number, title: chapter.title, page: `${page + 1}`, anchor: chapterAnchor(chapter.id) },
      ...exercises.map(
        ({ exercise, page: own }): ContentsEntry => ({
          level: 'exercise',
          number: exercise.number,
          title: exercise.title,
          page: `${own + 1}`,
          anchor: exerciseAnchor(exercise.id),
        }),
      ),
    ];
  });
}

/** Title, copyright, instruments and contents, an even number of pages. */
function frontLeaves(content: ScoreContent, chapters: readonly PlacedChapter[], setting: Setting): Leaf[] {
  const { book, title } = content;
  const front: Leaf[] = [];
  const add = (pages: readonly MatterPage[], running: string | undefined) =>
    front.push(...pages.map((matter): Leaf => ({ matter, running, footFolio: false })));
  const here = (): Setting => ({ ...setting, geometry: pagesOn(setting.geometry, front.length) });
  add([titlePage({ ...book, instrument: title }, here())], undefined);
  add([copyrightPage({ ...book, edition: `${title} for ${content.ensemble}` }, here())], undefined);
  add(instrumentsPage(content, here()), 'Instruments');
  add(contentsPages(contentsEntries(chapters), here()), 'Contents');
  if (front.length % 2 === 1) add([blankPage()], undefined);
  return front;
}

const outlineOf = (chapters: readonly PlacedChapter[]): OutlineEntry[] => [
  { title: 'Instruments', anchor: 'instruments', children: [] },
  { title: 'Contents', anchor: 'contents', children: [] },
  ...chapters.map(({ number, chapter, exercises }) => ({
    title: `${number}  ${chapter.title}`,
    anchor: chapterAnchor(chapter.id),
    children: exercises.map(({ exercise: { id, number: own, title } }) => ({
      title: `${own}  ${title}`,
      anchor: exerciseAnchor(id),
      children: [],
    })),
  })),
];

/** The score as a document, of the systems that were set for it; `setting` is that of its first page. */
export function scoreDocument(content: ScoreContent, fitted: FittedScore, setting: Setting): Document {
  const { book, title } = content;
  const { width, height, margins } = setting.geometry;
  const body = bodyLeaves(content, fitted, setting);
  const front = frontLeaves(content, body.chapters, setting);
  const pages: Page[] = [
    ...finish(front, 'roman', 0, setting, title, book.title),
    ...finish(body.leaves, 'arabic', front.length, setting, title, book.title),
  ];
  const info = {
    title: `${book.title} – ${content.ensemble}, ${title}`,
    author: book.author,
    subject: book.subtitle,
    keywords: 'score, technique, exercises in all keys',
    language: book.language,
    date: book.date,
  };
  return { width, height, margins, bleed: 0, cropMarks: false, pages, outline: outlineOf(body.chapters), info };
}
