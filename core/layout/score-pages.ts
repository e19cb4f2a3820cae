/** The score of an ensemble: title, instrumentation, contents, and the exercises in full with pages filled from top to bottom. */

import type { Pt } from '../base/units.js';
import type { Book } from '../book/book.js';
import type { Fonts } from '../engrave/metrics.js';
import { STYLE } from '../engrave/style.js';
import type { Leaf } from './edition.js';
import { exerciseAnchor } from './edition.js';
import { chapterAnchor, finish } from './edition-pages.js';
import { type ContentsEntry, contentsPages } from './matter/contents.js';
import { pageHeading, textLines } from './matter/heading.js';
import { tablePages } from './matter/table.js';
import { copyrightPage, titlePage } from './matter/title-page.js';
import { type ExerciseHeading, exerciseHeading } from './music/exercise-heading.js';
import { drawSystemOpened, indents, type ScoreStaves, type ScoreSystem, STAFF_AIR } from './music/score-block.js';
import { anchorAt, blankPage, bodyOf, type Frame, type MatterPage, pagesOn, type Setting } from './page/geometry.js';
import type { Document, OutlineEntry, Page, PageItem, Tag } from './page/page.js';
import { fillPages } from './page/page-fill.js';
import { type FittedScore, rowHeight } from './score-fit.js';
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

/** Heights over the first system of each exercise. */
export const scoreHeadings = ({ exercises }: ScoreContent, setting: Setting): Pt[] =>
  exercises.map((exercise) => headingOf(exercise, bodyOf(setting.geometry, setting.styles).width, setting).height);

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

type Body = {
  readonly leaves: readonly Leaf[];
  readonly starts: ReadonlyMap<string, number>;
  readonly chapters: ReadonlyMap<number, number>;
};

function bodyLeaves(content: ScoreContent, { scale, systems }: FittedScore, setting: Setting): Body {
  const { geometry, styles, fonts } = setting;
  const body = bodyOf(geometry, styles);
  const room = body.height;
  const rows = content.exercises.flatMap((exercise, e) => {
    const heading = headingOf(exercise, body.width, setting);
    return (systems[e] ?? []).map((system, index): Row => ({ exercise, index, system, heading: index === 0 ? heading : undefined }));
  });
  const pages = fillPages({
    blocks: rows.map((row) => ({ least: Math.min(room, heightOf(row, scale)), pages: 1 })),
    firstRoom: room,
    room,
    firstSide: geometry.side,
    air: ROW_AIR.least * scale,
  });
  const { first, later } = indents(content.staves, fonts);
  const starts = new Map<string, number>();
  const chapters = new Map<number, number>();
  const leaves = pages.map((page, p): Leaf => {
    if (page.kind !== 'blocks') return { matter: blankPage(), running: undefined, footFolio: false };
    const own = rows.slice(page.from, page.to);
    const frame = bodyOf(pagesOn(geometry, p), styles);
    const anchors: PageItem[] = [];
    for (const { exercise, heading } of own) {
      if (!heading) continue;
      starts.set(exercise.id, p);
      if (chapters.has(exercise.chapter)) continue;
      chapters.set(exercise.chapter, p);
      anchors.push(anchorAt(chapterAnchor((content.book.chapters[exercise.chapter] as Book['chapters'][number]).id), frame.top));
    }
    const running = content.book.chapters[own[0]?.exercise.chapter ?? 0]?.title;
    const items = [...anchors, ...placeRows(own, frame, scale, (index) => (index === 0 ? first : later), fonts)];
    return { matter: { kind: 'music', items }, running, footFolio: false };
  });
  return { leaves, starts, chapters };
}

function instrumentsPage(content: ScoreContent, setting: Setting): MatterPage[] {
  const { styles, fonts, geometry } = setting;
  const body = bodyOf(geometry, styles);
  const heading = pageHeading('Instruments', 'instruments', body, setting);
  const cell = styles['table-cell'];
  const head = styles['table-head'];
  const tag: Tag = { kind: 'element', type: 'P', id: 'instruments-name' };
  const name = textLines(content.ensemble, styles.body, body, heading.bottom, 'center', tag, fonts);
  const table = {
    columns: [
      { width: 0.34 * body.width, align: 'left' as const, head: [spanOf('Part', head)] },
      { width: 0.14 * body.width, align: 'center' as const, head: [spanOf('Players', head)] },
      { width: 0.52 * body.width, align: 'left' as const, head: [spanOf('A written C sounds', head)] },
    ],
    rows: content.instruments.map((row) => [row.name, row.players, row.sounds].map((text) => ({ spans: [spanOf(text, cell)] }))),
    rowHeight: 1.35 * cell.leading,
    grid: false,
    id: 'instruments',
  };
  return [...tablePages(table, 'text', [...heading.items, ...name.items], name.bottom + styles.body.leading, setting).pages];
}

/** The score as a document, of the systems that were set for it; `setting` is that of its first page. */
export function scoreDocument(content: ScoreContent, fitted: FittedScore, setting: Setting): Document {
  const { book, title } = content;
  const { geometry } = setting;
  const body = bodyLeaves(content, fitted, setting);
  const entries = [...body.chapters].flatMap(([c, page]): ContentsEntry[] => {
    const chapter = book.chapters[c] as Book['chapters'][number];
    const own = content.exercises.filter((exercise) => exercise.chapter === c);
    return [
      { level: 'chapter', number: `${c + 1}`, title: chapter.title, page: `${page + 1}`, anchor: chapterAnchor(chapter.id) },
      ...own.map(
        (e): ContentsEntry => ({
          level: 'exercise',
          number: e.number,
          title: e.title,
          page: `${(body.starts.get(e.id) as number) + 1}`,
          anchor: exerciseAnchor(e.id),
        }),
      ),
    ];
  });
  const front: Leaf[] = [];
  const add = (pages: readonly MatterPage[], running: string | undefined) =>
    front.push(...pages.map((matter): Leaf => ({ matter, running, footFolio: false })));
  const at = (): Setting => ({ ...setting, geometry: pagesOn(geometry, front.length) });
  add([titlePage({ ...book, instrument: title }, at())], undefined);
  add([copyrightPage({ ...book, edition: `${title} for ${content.ensemble}` }, at())], undefined);
  add(instrumentsPage(content, at()), 'Instruments');
  add(contentsPages(entries, at()), 'Contents');
  if (front.length % 2 === 1) add([blankPage()], undefined);
  const pages: Page[] = [
    ...finish(front, 'roman', 0, setting, title, book.title),
    ...finish(body.leaves, 'arabic', front.length, setting, title, book.title),
  ];
  const outline = [...body.chapters.keys()].map((c): OutlineEntry => {
    const chapter = book.chapters[c] as Book['chapters'][number];
    const own = content.exercises.filter((exercise) => exercise.chapter === c);
    return {
      title: `${c + 1}  ${chapter.title}`,
      anchor: chapterAnchor(chapter.id),
      children: own.map((e) => ({ title: `${e.number}  ${e.title}`, anchor: exerciseAnchor(e.id), children: [] })),
    };
  });
  return {
    width: geometry.width,
    height: geometry.height,
    margins: geometry.margins,
    bleed: 0,
    cropMarks: false,
    pages,
    outline: [
      { title: 'Instruments', anchor: 'instruments', children: [] },
      { title: 'Contents', anchor: 'contents', children: [] },
      ...outline,
    ],
    info: {
      title: `${book.title} – ${content.ensemble}, ${title}`,
      author: book.author,
      subject: book.subtitle,
      keywords: 'score, technique, exercises in all keys',
      language: book.language,
      date: book.date,
    },
  };
}
