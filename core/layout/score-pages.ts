/** The score of a set: title, instrumentation, contents, and the exercises in full with pages filled from top to bottom. */
import type { Book } from '../book/book.js';
import type { Fonts } from '../engrave/metrics.js';
import type { StackShape } from '../engrave/score-spacing.js';
import { STYLE } from '../engrave/style.js';
import { type Mm, type Pt, ptToMm, spaceOf } from '../units.js';
import type { Leaf } from './edition.js';
import { exerciseAnchor } from './edition.js';
import { chapterAnchor, finish } from './edition-pages.js';
import { type ExerciseHeading, exerciseHeading } from './exercise-heading.js';
import { anchorAt, blankPage, bodyOf, type Frame, type MatterPage, pagesOn, type Setting } from './geometry.js';
import { type ContentsEntry, contentsPages } from './matter/contents.js';
import { pageHeading, textLines } from './matter/heading.js';
import { tablePages } from './matter/table.js';
import { copyrightPage, titlePage } from './matter/title-page.js';
import type { Document, OutlineEntry, Page, PageItem, Tag } from './page.js';
import { fillPages } from './page-fill.js';
import {
  drawSystemOpened,
  fittingScale,
  indents,
  type ScoreStaves,
  type ScoreSystem,
  STAFF_AIR,
  scoreSystems,
  systemHeight,
} from './score-block.js';
import { spanOf } from './text.js';

/** One exercise of the score. Shapes are made when they are needed and not held. */
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
  readonly shape: () => StackShape;
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
  /** Staff height that is asked for; what fits the page when undefined. */
  readonly staff: Mm | undefined;
};

/** Staff height of a score within which a size is chosen: not below that of a full score (Gould, second-hand: 3.7 mm). */
const STAFF_LIMITS = { least: 3.7, most: 6 } as const;

/** Air between two systems, between a heading and the system above it, in spaces; how far they may open (house). */
const ROW_AIR = { least: 3, most: 6.5 } as const;

type Row = {
  readonly exercise: ScoreExercise;
  readonly index: number;
  readonly system: ScoreSystem;
  readonly heading: ExerciseHeading | undefined;
};

/** Shapes of the last exercise drawn: pages are painted in order. */
function lastShape(): (exercise: ScoreExercise) => StackShape {
  let held: { id: string; shape: StackShape } | undefined;
  return (exercise) => {
    if (held?.id !== exercise.id) held = { id: exercise.id, shape: exercise.shape() };
    return held.shape;
  };
}

const rowHeight = ({ system, heading }: Row, scale: Pt): Pt =>
  (heading?.height ?? 0) + systemHeight(system) * scale + STYLE.wordsToStaff * scale;

function placeRows(
  rows: readonly Row[],
  body: Frame,
  scale: Pt,
  indentOf: (index: number) => number,
  shapeOf: (e: ScoreExercise) => StackShape,
): PageItem[] {
  const used = rows.reduce((sum, row) => sum + rowHeight(row, scale), 0) + (rows.length - 1) * ROW_AIR.least * scale;
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
    const draw = () => drawSystemOpened(shapeOf(exercise), system, opened);
    items.push({ kind: 'drawing', x, y, scale, draw, exercise: exercise.id, system: index, tag });
    y += (system.steps.reduce((a, b) => a + b + opened, 0) + system.below + STYLE.wordsToStaff + ROW_AIR.least + opened) * scale;
  }
  return items;
}

type Body = {
  readonly scale: Pt;
  readonly leaves: readonly Leaf[];
  readonly starts: ReadonlyMap<string, number>;
  readonly chapters: ReadonlyMap<number, number>;
};

function bodyLeaves(content: ScoreContent, setting: Setting): Body {
  const { geometry, styles, fonts } = setting;
  const body = bodyOf(geometry, styles);
  const headingOf = (exercise: ScoreExercise): ExerciseHeading =>
    exerciseHeading({ ...exercise, anchor: exerciseAnchor(exercise.id) }, body.width, setting);
  const limits = { least: spaceOf(STAFF_LIMITS.least), most: spaceOf(STAFF_LIMITS.most) };
  const shapeOf = lastShape();
  const room = body.height;
  const rowsAt = (at: Pt): Row[] =>
    content.exercises.flatMap((exercise) => {
      const heading = headingOf(exercise);
      return scoreSystems(shapeOf(exercise), content.staves, body.width / at, fonts).map(
        (system, index): Row => ({ exercise, index, system, heading: index === 0 ? heading : undefined }),
      );
    });
  let scale = content.staff === undefined ? scaleFor(content, body, headingOf, limits, fonts, shapeOf) : spaceOf(content.staff);
  let rows = rowsAt(scale);
  // A system taller than the page makes all staves smaller; narrower bars may then break otherwise, so it is looked at again.
  for (let round = 0; round < 6; round++) {
    const over = Math.max(...rows.map((row) => rowHeight(row, scale))) / room;
    if (over <= 1) break;
    scale *= SAFETY / over;
    rows = rowsAt(scale);
  }
  const pages = fillPages({
    blocks: rows.map((row) => ({ least: Math.min(room, rowHeight(row, scale)), pages: 1 })),
    firstRoom: room,
    room,
    firstSide: geometry.side,
    air: ROW_AIR.least * scale,
  });
  const { first, later } = indents(content.staves, fonts);
  const drawn = lastShape();
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
    const items = [...anchors, ...placeRows(own, frame, scale, (index) => (index === 0 ? first : later), drawn)];
    return { matter: { kind: 'music', items }, running, footFolio: false };
  });
  return { leaves, starts, chapters, scale };
}

/** Systems are looked at in one scale and set in another, where their bars may break otherwise: room for that. */
const SAFETY = 0.975;

/** A scale at which every system fits the page, and the tallest fill it well. */
function scaleFor(
  content: ScoreContent,
  body: Frame,
  headingOf: (exercise: ScoreExercise) => ExerciseHeading,
  limits: { readonly least: Pt; readonly most: Pt },
  fonts: Fonts,
  shapeOf: (exercise: ScoreExercise) => StackShape,
): Pt {
  let tallest = 0;
  let heading = 0;
  let most: number = limits.most;
  for (const exercise of content.exercises) {
    const own = headingOf(exercise).height;
    heading = Math.max(heading, own);
    scoreSystems(shapeOf(exercise), content.staves, body.width / limits.least, fonts).forEach((system, index) => {
      const height = systemHeight(system) + STYLE.wordsToStaff;
      tallest = Math.max(tallest, height);
      most = Math.min(most, (SAFETY * (body.height - (index === 0 ? own : 0))) / height);
    });
  }
  return fittingScale(tallest, content.staves.names.length, body.height, heading, { least: Math.min(limits.least, most), most });
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
      { width: 0.42 * body.width, align: 'left' as const, head: [spanOf('Part', head)] },
      { width: 0.16 * body.width, align: 'center' as const, head: [spanOf('Players', head)] },
      { width: 0.3 * body.width, align: 'left' as const, head: [spanOf('A written C sounds', head)] },
    ],
    rows: content.instruments.map((row) => [row.name, row.players, row.sounds].map((text) => ({ spans: [spanOf(text, cell)] }))),
    rowHeight: 1.35 * cell.leading,
    grid: false,
    id: 'instruments',
  };
  return [...tablePages(table, 'text', [...heading.items, ...name.items], name.bottom + styles.body.leading, setting).pages];
}

/** The score as a document, and the height of its staves; `setting` is that of its first page. */
export function scoreDocument(content: ScoreContent, setting: Setting): { readonly document: Document; readonly staff: Mm } {
  const { book, title } = content;
  const { geometry } = setting;
  const body = bodyLeaves(content, setting);
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
  add([copyrightPage({ ...book, instrument: `${title} for ${content.ensemble}` }, at())], undefined);
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
  const document: Document = {
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
  return { document, staff: ptToMm(4 * body.scale) };
}
