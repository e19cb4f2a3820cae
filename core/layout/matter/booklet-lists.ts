/** The tables of a booklet: what is assigned, the tempo ladders to cross out, the record of practice. */
import type { Book, EditionSpec } from '../../book/book.js';
import type { ReaderBreaths } from '../../breath/policy.js';
import { beatOf, METRONOME, tempoText } from '../../exercise/tempo.js';
import type { Assigned } from '../../people/assignment.js';
import { latest } from '../../people/progress.js';
import type { Student } from '../../people/roster.js';
import type { Line } from '../../player/line.js';
import { keyText } from '../../theory/key.js';
import { exerciseAnchor } from '../edition.js';
import { bodyOf, type MatterPage, pagesOn, type Setting } from '../page/geometry.js';
import { curved } from '../text/markdown.js';
import { spanOf } from '../text/text.js';
import { pageHeading } from './heading.js';
import { type Cell, type Column, tablePages } from './table.js';

export type BookletContent = {
  readonly book: Book;
  readonly spec: EditionSpec;
  readonly student: Student;
  /** Class or studio; may be empty. */
  readonly title: string;
  /** ISO date of this print. */
  readonly date: string;
  /** First days of the weeks of the term, as printed; empty texts where no dates are known. */
  readonly weekDates: readonly string[];
  readonly assigned: readonly Assigned[];
  /** By exercise id: those that can be played. */
  readonly lines: ReadonlyMap<string, Line>;
  readonly breathing: ReaderBreaths | undefined;
};

const MONTHS = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December'];

/** `March 8, 2026`. */
export function dateWords(date: string): string {
  const [year, month, day] = date.split('-').map(Number) as [number, number, number];
  return `${MONTHS[month - 1]} ${day}, ${year}`;
}

/** `3/8`, short enough for the head of a column. */
export const shortDate = (date: string): string => date.split('-').slice(1).map(Number).join('/');

/** Runs of weeks: `1–3, 5`. */
export function weeksText(weeks: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const week of weeks) {
    const last = runs.at(-1);
    if (last && week === last[1] + 1) last[1] = week;
    else runs.push([week, week]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(', ');
}

export const keysOf = (line: Line): string[] => [...new Set(line.statements.map((s) => keyText(s.writtenKey)))];

/** As many keys as a cell names; more are counted. */
export const NAMED = 6;

export function playable({ assigned, lines }: BookletContent): { readonly own: Assigned; readonly line: Line }[] {
  return assigned.flatMap((own) => {
    const line = lines.get(own.exercise.id);
    return line ? [{ own, line }] : [];
  });
}

type ListColumn = { readonly head: string; readonly share: number; readonly align?: 'left' | 'center' | 'right' };

type List = {
  readonly title: string;
  readonly anchor: string;
  readonly columns: readonly ListColumn[];
  readonly rows: readonly (readonly (string | { readonly text: string; readonly target: string })[])[];
  /** Rows as high as a hand needs to write in, with lines between the columns. */
  readonly form: boolean;
};

/** A table under a heading, from `top` on if it is to begin below something. */
function placeList({ title, anchor, columns, rows, form }: List, setting: Setting, top?: number) {
  const { styles, geometry } = setting;
  const body = bodyOf(geometry, styles);
  const heading = pageHeading(title, anchor, top === undefined ? body : { ...body, top }, setting);
  const [cell, head] = [styles['table-cell'], styles['table-head']];
  const cells = rows.map((row) =>
    row.map((value): Cell => {
      const text = typeof value === 'string' ? value : value.text;
      return { spans: [spanOf(curved(text), cell)], ...(typeof value === 'string' ? {} : { target: value.target, words: text }) };
    }),
  );
  const wide = columns.map(
    (column): Column => ({ width: column.share * body.width, align: column.align ?? 'left', head: [spanOf(column.head, head)] }),
  );
  const table = { columns: wide, rows: cells, rowHeight: (form ? 1.9 : 1.5) * cell.leading, grid: form, id: anchor };
  return tablePages(table, 'record', heading.items, heading.bottom, setting);
}

/** Tables one below the other; each that does not fit below the one before begins a page of its own. */
export function listPages(lists: readonly List[], setting: Setting): MatterPage[] {
  const pages: MatterPage[] = [];
  let end: number | undefined;
  for (const list of lists) {
    if (list.rows.length === 0) continue;
    const last = pages.at(-1);
    const here = { ...setting, geometry: pagesOn(setting.geometry, Math.max(0, pages.length - 1)) };
    const below = last && end !== undefined ? placeList(list, here, end) : undefined;
    if (last && below?.pages.length === 1 && below.end <= bodyOf(here.geometry, here.styles).bottom) {
      pages[pages.length - 1] = { ...last, items: [...last.items, ...(below.pages[0] as MatterPage).items] };
      end = below.end;
      continue;
    }
    const fresh = placeList(list, { ...setting, geometry: pagesOn(setting.geometry, pages.length) });
    pages.push(...fresh.pages);
    end = fresh.end;
  }
  return pages;
}

export function assignments(content: BookletContent): List {
  const rows = playable(content).map(({ own, line }) => {
    const keys = keysOf(line);
    const reached = latest(content.student, own.exercise.id);
    const target = exerciseAnchor(own.exercise.id);
    return [
      `${own.number}`,
      { text: own.exercise.title, target },
      keys.length <= NAMED ? keys.join(', ') : `${keys.length} keys`,
      weeksText(own.weeks),
      own.tempo ? tempoText({ beat: beatOf(own.exercise), bpm: own.tempo.now }) : '',
      own.tempo ? `${own.tempo.goal}` : '',
      reached ? `${reached.tempo} (${shortDate(reached.date)})` : '',
    ];
  });
  const columns = [
    { head: 'No.', share: 0.07, align: 'right' as const },
    { head: 'Exercise', share: 0.29 },
    { head: 'Keys', share: 0.22 },
    { head: 'Weeks', share: 0.12 },
    { head: 'Now', share: 0.1 },
    { head: 'Goal', share: 0.07, align: 'center' as const },
    { head: 'Reached', share: 0.13 },
  ];
  return { title: 'Assignments', anchor: 'assignments', columns, rows, form: false };
}

/** The metronome's numbers from the present tempo to the goal. */
export function rungsBetween(now: number, goal: number): number[] {
  return [...new Set([now, ...METRONOME.filter((number) => number > now && number < goal), goal])];
}

export function ladders(content: BookletContent): List {
  const rows = playable(content).flatMap(({ own }) =>
    own.tempo && own.tempo.goal > own.tempo.now
      ? [[`${own.number}`, own.exercise.title, rungsBetween(own.tempo.now, own.tempo.goal).join('\u2002 ')]]
      : [],
  );
  const columns = [
    { head: 'No.', share: 0.07, align: 'right' as const },
    { head: 'Exercise', share: 0.29 },
    { head: 'Cross out each tempo when it goes well', share: 0.64 },
  ];
  return { title: 'Tempo Ladders', anchor: 'tempo-ladders', columns, rows, form: true };
}

/** Share of the width for the cells of a week, at least. */
const WEEK_SHARE = 0.075;

/** One row an exercise, one cell a week: where a week is not assigned the cell holds a dash. */
export function records(content: BookletContent): List[] {
  const { weekDates } = content;
  const used = [...new Set(playable(content).flatMap(({ own }) => own.weeks))].sort((a, b) => a - b);
  const titles = 0.38;
  const atOnce = Math.max(1, Math.floor((1 - titles) / WEEK_SHARE));
  const sheets = Math.max(1, Math.ceil(used.length / atOnce));
  return Array.from({ length: sheets }, (_, sheet): List => {
    const weeks = used.slice(sheet * atOnce, (sheet + 1) * atOnce);
    const columns: ListColumn[] = [
      { head: 'No.', share: 0.07, align: 'right' },
      { head: 'Exercise', share: titles - 0.14 },
      { head: 'Goal', share: 0.07, align: 'center' },
      ...weeks.map((week): ListColumn => ({ head: weekHead(week, weekDates), share: (1 - titles) / weeks.length, align: 'center' })),
    ];
    const rows = playable(content).map(({ own }) => [
      `${own.number}`,
      own.exercise.title,
      own.tempo ? `${own.tempo.goal}` : '',
      ...weeks.map((week) => (own.weeks.includes(week) ? '' : '–')),
    ]);
    const title = sheet === 0 ? 'Practice Record' : 'Practice Record, continued';
    return { title, anchor: sheet === 0 ? 'practice-record' : `practice-record-${sheet}`, columns, rows, form: true };
  });
}

/** `Week 2`, and its first day where it is known: `3/10`. */
const weekHead = (week: number, dates: readonly string[]): string => `Week\u00a0${week} ${dates[week - 1] ?? ''}`.trim();
