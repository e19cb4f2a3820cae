/** The practice record: exercises down, weeks across, cells for the tempo reached. */
import { bodyOf, type MatterPage, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { curved } from '../text/markdown.js';
import { baselineIn } from '../text/prose.js';
import { runsOf, spanOf, textItems, widthOf } from '../text/text.js';
import { shortened } from './furniture.js';
import { pageHeading } from './heading.js';
import { type Cell, type Column, tablePages } from './table.js';

export type PracticeRecord = {
  readonly exercises: readonly {
    readonly number: string;
    readonly title: string /** As printed, `60–120`; empty for none. */;
    readonly goal: string;
  }[];
  /** How many weeks the sheet is for; fewer if the page is too narrow for them. */
  readonly weeks: number;
};

/** Least width of a cell to write a tempo in, in points. */
const LEAST_CELL = 30;
const TITLES = 0.3;
const RULE: Tag = { kind: 'artifact', type: 'layout' };

/** `Name ______  Instrument ______` to be filled in by hand. */
function blanks(labels: readonly string[], left: number, right: number, y: number, { styles, fonts }: Setting): PageItem[] {
  const style = styles.caption;
  const width = (right - left) / labels.length;
  return labels.flatMap((label, i): PageItem[] => {
    const x = left + i * width;
    const spans = [spanOf(label, style)];
    const from = x + widthOf(spans, style.size, fonts) + 0.6 * style.size;
    const to = x + width - (i < labels.length - 1 ? 1.2 * style.size : 0);
    return [
      ...textItems(runsOf(spans, x, y, style.size, fonts), { kind: 'element', type: 'P', id: `practice-record-${label}` }),
      { kind: 'rect', x: from, y: y + 1, width: to - from, height: 0.4, tag: RULE },
    ];
  });
}

/** The ruled sheet, over as many pages as the exercises need. */
export function practiceRecordPages({ exercises, weeks }: PracticeRecord, setting: Setting): MatterPage[] {
  const { geometry, styles, fonts } = setting;
  const body = bodyOf(geometry, styles);
  const heading = pageHeading('Practice Record', 'practice-record', body, setting);
  const cell = styles['table-cell'];
  const head = styles['table-head'];
  const wide = (texts: readonly string[]) =>
    Math.max(0, ...texts.map((text) => widthOf([spanOf(text, cell)], cell.size, fonts))) + cell.size;
  const number = Math.max(wide(exercises.map((e) => e.number)), wide(['No.']));
  const goals = exercises.some((e) => e.goal !== '');
  const goal = goals ? Math.max(wide(exercises.map((e) => e.goal)), wide(['Goal'])) : 0;
  const titles = TITLES * body.width - number / 2;
  const room = body.width - number - goal - titles;
  const count = Math.max(1, Math.min(weeks, Math.floor(room / LEAST_CELL)));
  const columns: Column[] = [
    { width: number, align: 'right', head: [spanOf('No.', head)] },
    { width: titles, align: 'left', head: [spanOf('Exercise', head)] },
    ...(goals ? [{ width: goal, align: 'center' as const, head: [spanOf('Goal', head)] }] : []),
    ...Array.from(
      { length: count },
      (_, i): Column => ({ width: room / count, align: 'center', head: [spanOf(i === 0 ? 'Week 1' : `${i + 1}`, head)] }),
    ),
  ];
  const blank: Cell = { spans: [] };
  const rows = exercises.map((e): Cell[] => [
    { spans: [spanOf(e.number, cell)] },
    { spans: shortened(curved(e.title), titles - cell.size, cell, fonts) },
    ...(goals ? [{ spans: [spanOf(e.goal, cell)] }] : []),
    ...Array.from({ length: count }, () => blank),
  ]);
  const line = heading.bottom + baselineIn(styles.caption);
  const names = blanks(['Name', 'Teacher', 'Begun'], body.left, body.right, line, setting);
  const note: Tag = { kind: 'element', type: 'P', id: 'practice-record-note' };
  const noteY = line + 1.9 * styles.caption.leading;
  const text = 'Write in each week the fastest tempo at which the exercise went without a mistake.';
  const advice = textItems(runsOf(shortened(text, body.width, styles.caption, fonts), body.left, noteY, styles.caption.size, fonts), note);
  const table = { columns, rows, rowHeight: 1.75 * cell.leading, grid: true, id: 'practice-record' };
  const before = [...heading.items, ...names, ...advice];
  return [...tablePages(table, 'record', before, noteY + 0.8 * styles.caption.leading, setting).pages];
}
