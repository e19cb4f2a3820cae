/** The teacher's summary: students down, exercises across, present and goal tempo in the cells. */

import type { Pt } from '../base/units.js';
import type { Book } from '../book/book.js';
import type { Assigned } from '../people/assignment.js';
import { latest } from '../people/progress.js';
import type { Roster, Student } from '../people/roster.js';
import type { Leaf } from './edition.js';
import { finish } from './edition-pages.js';
import { dateWords, shortDate } from './matter/booklet-lists.js';
import { shortened } from './matter/furniture.js';
import { type Placed, pageHeading, textLines } from './matter/heading.js';
import { type Cell, type Column, type Table, tablePages } from './matter/table.js';
import { bodyOf, type Frame, type MatterPage, pagesOn, type Setting } from './page/geometry.js';
import type { Document, Tag } from './page/page.js';
import { curved } from './text/markdown.js';
import { spanOf } from './text/text.js';

export type SummaryContent = {
  readonly book: Book;
  readonly roster: Roster;
  /** ISO date of this print. */
  readonly date: string;
  /** By student. */
  readonly assigned: readonly (readonly Assigned[])[];
};

/** Exercises across, in the book's order: those that anybody has. */
function exercisesOf({ assigned }: SummaryContent): Assigned[] {
  const all = new Map(assigned.flat().map((own) => [own.number, own]));
  return [...all.values()].sort((a, b) => a.number - b.number);
}

/** Least width of an exercise's column, in ems; the names take this share of the page. */
const LEAST_EMS = 5.6;
const NAMES = 0.3;

/** `72 → 96`, and below it the day on which the present tempo was reached. */
function cellText(student: Student, own: Assigned | undefined): string {
  if (!own?.tempo) return own ? '·' : '';
  const reached = latest(student, own.exercise.id);
  const day = reached ? ` ${shortDate(reached.date)}` : '';
  return own.tempo.goal > own.tempo.now ? `${own.tempo.now}–${own.tempo.goal}${day}` : `${own.tempo.now}${day}`;
}

/** A table and what stands over it, from a height down in the body of its page. */
type Section = { readonly over: (top: Pt, body: Frame) => Placed; readonly table: Table };

const NOTHING = (top: Pt): Placed => ({ items: [], bottom: top });

function gridSection(content: SummaryContent, exercises: readonly Assigned[], part: number, setting: Setting): Section {
  const { roster, assigned } = content;
  const { styles, geometry, fonts } = setting;
  const width = bodyOf(geometry, styles).width;
  const [cell, head] = [styles['table-cell'], styles['table-head']];
  const names = NAMES * width;
  const columns: Column[] = [
    { width: names, align: 'left', head: [spanOf('Student', head)] },
    ...exercises.map((own): Column => {
      return { width: (width - names) / exercises.length, align: 'center', head: [spanOf(`${own.number}`, head)] };
    }),
  ];
  const rows = roster.students.map((student, s): Cell[] => [
    { spans: shortened(`${student.name}, ${student.player.instrument.short}`, names - cell.size, cell, fonts) },
    ...exercises.map((own): Cell => {
      const mine = assigned[s]?.find(({ number }) => number === own.number);
      return { spans: [spanOf(cellText(student, mine), cell)] };
    }),
  ]);
  const table = { columns, rows, rowHeight: 1.5 * cell.leading, grid: true, id: `summary-${part}` };
  if (part > 0) return { over: NOTHING, table };
  const note = `${dateWords(content.date)}. Present tempo and goal in beats a minute, with the day on which it was reached.`;
  const tag: Tag = { kind: 'element', type: 'P', id: 'summary-note' };
  const over = (top: Pt, body: Frame): Placed => {
    const heading = pageHeading(roster.title === '' ? 'Summary' : roster.title, 'summary', { ...body, top }, setting);
    const under = textLines(note, styles.caption, body, heading.bottom, 'center', tag, fonts);
    return { items: [...heading.items, ...under.items], bottom: under.bottom + cell.leading };
  };
  return { over, table };
}

/** What the numbers across mean. */
function keySection(content: SummaryContent, exercises: readonly Assigned[], setting: Setting): Section {
  const { styles, geometry } = setting;
  const { width } = bodyOf(geometry, styles);
  const [cell, head] = [styles['table-cell'], styles['table-head']];
  const table = {
    columns: [
      { width: 0.1 * width, align: 'right' as const, head: [spanOf('No.', head)] },
      { width: 0.5 * width, align: 'left' as const, head: [spanOf('Exercise', head)] },
      { width: 0.2 * width, align: 'center' as const, head: [spanOf('Students', head)] },
    ],
    rows: exercises.map((own): Cell[] => {
      const count = content.assigned.filter((list) => list.some(({ number }) => number === own.number)).length;
      return [`${own.number}`, curved(own.exercise.title), `${count}`].map((text) => ({ spans: [spanOf(text, cell)] }));
    }),
    rowHeight: 1.35 * cell.leading,
    grid: false,
    id: 'summary-exercises',
  };
  return { over: (top, body) => pageHeading('Exercises', 'summary-exercises', { ...body, top }, setting), table };
}

/** Tables one under another, each on the page of the one before it where it fits there whole. */
function sectionPages(sections: readonly Section[], setting: Setting): MatterPage[] {
  const { styles, geometry } = setting;
  const gap = 1.5 * styles['table-cell'].leading;
  const pages: MatterPage[] = [];
  let end = 0;
  for (const { over, table } of sections) {
    const setFrom = (index: number, top: Pt | undefined) => {
      const own = { ...setting, geometry: pagesOn(geometry, index) };
      const body = bodyOf(own.geometry, styles);
      const before = top === undefined ? [] : (pages[index]?.items ?? []);
      const placed = over(top ?? body.top, body);
      return tablePages(table, 'record', [...before, ...placed.items], placed.bottom, own);
    };
    const under = pages.length > 0 ? setFrom(pages.length - 1, end + gap) : undefined;
    const fits = under?.pages.length === 1 && under.end <= bodyOf(geometry, styles).bottom;
    const set = under && fits ? under : setFrom(pages.length, undefined);
    pages.splice(fits ? -1 : pages.length, 1, ...set.pages);
    end = set.end;
  }
  return pages;
}

/** Nothing about the students stands in the document's information: only on its pages. */
export function summaryDocument(content: SummaryContent, setting: Setting): Document {
  const { book } = content;
  const { geometry, styles } = setting;
  const exercises = exercisesOf(content);
  const body = bodyOf(geometry, styles);
  const atOnce = Math.max(1, Math.floor(((1 - NAMES) * body.width) / (LEAST_EMS * styles['table-cell'].size)));
  const parts = Math.max(1, Math.ceil(exercises.length / atOnce));
  const perPart = Math.ceil(exercises.length / parts);
  const grids = Array.from({ length: parts }, (_, part) =>
    gridSection(content, exercises.slice(part * perPart, (part + 1) * perPart), part, setting),
  );
  const pages = sectionPages([...grids, keySection(content, exercises, setting)], setting);
  const leaves = pages.map((matter): Leaf => ({ matter, running: 'Summary', footFolio: false }));
  return {
    width: geometry.width,
    height: geometry.height,
    margins: geometry.margins,
    bleed: 0,
    cropMarks: false,
    pages: finish(leaves, 'arabic', 0, setting, '', book.title),
    outline: [
      { title: 'Summary', anchor: 'summary', children: [] },
      { title: 'Exercises', anchor: 'summary-exercises', children: [] },
    ],
    info: {
      title: `${book.title} – Summary`,
      author: book.author,
      subject: book.subtitle,
      keywords: '',
      language: book.language,
      date: book.date,
    },
  };
}
