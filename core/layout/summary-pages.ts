/** The teacher's summary: students down, exercises across, present and goal tempo in the cells. */
import type { Book } from '../book/book.js';
import type { Assigned } from '../people/assignment.js';
import { latest } from '../people/progress.js';
import type { Roster, Student } from '../people/roster.js';
import { dateWords, shortDate } from './booklet-pages.js';
import type { Leaf } from './edition.js';
import { finish } from './edition-pages.js';
import { bodyOf, type MatterPage, pagesOn, type Setting } from './geometry.js';
import { curved } from './markdown.js';
import { shortened } from './matter/furniture.js';
import { pageHeading, textLines } from './matter/heading.js';
import { type Cell, type Column, tablePages } from './matter/table.js';
import type { Document, Tag } from './page.js';
import { spanOf } from './text.js';

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

function gridPages(content: SummaryContent, exercises: readonly Assigned[], part: number, setting: Setting): MatterPage[] {
  const { roster, assigned } = content;
  const { styles, geometry, fonts } = setting;
  const body = bodyOf(geometry, styles);
  const [cell, head] = [styles['table-cell'], styles['table-head']];
  const names = NAMES * body.width;
  const width = (body.width - names) / exercises.length;
  const heading =
    part === 0 ? pageHeading(roster.title === '' ? 'Summary' : roster.title, 'summary', body, setting) : { items: [], bottom: body.top };
  const tag: Tag = { kind: 'element', type: 'P', id: `summary-note-${part}` };
  const note = `${dateWords(content.date)}. Present tempo and goal in beats a minute, with the day on which it was reached.`;
  const under = part === 0 ? textLines(note, styles.caption, body, heading.bottom, 'center', tag, fonts) : { items: [], bottom: body.top };
  const columns: Column[] = [
    { width: names, align: 'left', head: [spanOf('Student', head)] },
    ...exercises.map((own): Column => ({ width, align: 'center', head: [spanOf(`${own.number}`, head)] })),
  ];
  const rows = roster.students.map((student, s): Cell[] => [
    { spans: shortened(`${student.name}, ${student.player.instrument.short}`, names - cell.size, cell, fonts) },
    ...exercises.map((own): Cell => {
      const mine = assigned[s]?.find(({ number }) => number === own.number);
      return { spans: [spanOf(cellText(student, mine), cell)] };
    }),
  ]);
  const table = { columns, rows, rowHeight: 1.5 * cell.leading, grid: true, id: `summary-${part}` };
  return [...tablePages(table, 'record', [...heading.items, ...under.items], under.bottom + cell.leading, setting).pages];
}

/** What the numbers across mean. */
function keyPages(content: SummaryContent, exercises: readonly Assigned[], setting: Setting): MatterPage[] {
  const { styles, geometry } = setting;
  const body = bodyOf(geometry, styles);
  const [cell, head] = [styles['table-cell'], styles['table-head']];
  const heading = pageHeading('Exercises', 'summary-exercises', body, setting);
  const table = {
    columns: [
      { width: 0.1 * body.width, align: 'right' as const, head: [spanOf('No.', head)] },
      { width: 0.5 * body.width, align: 'left' as const, head: [spanOf('Exercise', head)] },
      { width: 0.2 * body.width, align: 'center' as const, head: [spanOf('Students', head)] },
    ],
    rows: exercises.map((own): Cell[] => {
      const count = content.assigned.filter((list) => list.some(({ number }) => number === own.number)).length;
      return [`${own.number}`, curved(own.exercise.title), `${count}`].map((text) => ({ spans: [spanOf(text, cell)] }));
    }),
    rowHeight: 1.35 * cell.leading,
    grid: false,
    id: 'summary-exercises',
  };
  return [...tablePages(table, 'record', heading.items, heading.bottom, setting).pages];
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
  const pages: MatterPage[] = [];
  const at = (): Setting => ({ ...setting, geometry: pagesOn(geometry, pages.length) });
  for (let part = 0; part < parts; part++)
    pages.push(...gridPages(content, exercises.slice(part * perPart, (part + 1) * perPart), part, at()));
  pages.push(...keyPages(content, exercises, at()));
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
