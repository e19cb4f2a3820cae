/** Exercises down, keys across, page numbers in the cells: where to find a key. */
import { bodyOf, type MatterPage, type Setting } from '../page/geometry.js';
import { curved } from '../text/markdown.js';
import { spanOf, widthOf } from '../text/text.js';
import { pageHeading } from './heading.js';
import { type Cell, tablePages } from './table.js';

export type ContentsGrid = {
  /** Names of the keys as the player reads them (written pitch): `B♭`, `F♯m`. */
  readonly keys: readonly string[];
  readonly rows: readonly {
    readonly number: string;
    readonly title: string;
    /** One for each key; undefined where the exercise leaves the key out. */
    readonly cells: readonly ({ readonly page: string; readonly anchor: string } | undefined)[];
  }[];
};

/** Least share of the width for the titles. */
const TITLES = 0.24;

/** The grid on as many pages as it needs; more keys than fit the width go into a second grid. */
export function contentsGridPages(grid: ContentsGrid, setting: Setting, title = 'Keys and Pages'): MatterPage[] {
  const { geometry, styles, fonts } = setting;
  const body = bodyOf(geometry, styles);
  const cell = styles['table-cell'];
  const head = { ...styles['table-head'], font: 'roman' as const };
  const labels = [...grid.keys, ...grid.rows.flatMap((row) => row.cells.map((c) => c?.page ?? ''))];
  const keyWidth = Math.max(...labels.map((label) => widthOf([spanOf(label, cell)], cell.size, fonts)), 1.4 * cell.size) + cell.size;
  const number = Math.max(...grid.rows.map((row) => widthOf([spanOf(row.number, cell)], cell.size, fonts)), cell.size) + cell.size;
  const atOnce = Math.max(1, Math.floor((body.width * (1 - TITLES) - number) / keyWidth));
  const grids = Math.max(1, Math.ceil(grid.keys.length / atOnce));
  const perGrid = Math.ceil(grid.keys.length / grids);
  return [...Array(grids).keys()].flatMap((g): readonly MatterPage[] => {
    const [from, to] = [g * perGrid, Math.min(grid.keys.length, (g + 1) * perGrid)];
    const keys = grid.keys.slice(from, to);
    const titles = Math.min(body.width - number - keys.length * keyWidth, 20 * cell.size);
    const heading = g === 0 ? pageHeading(title, 'contents-grid', body, setting) : { items: [], bottom: body.top };
    const table = {
      columns: [
        { width: number, align: 'right' as const, head: [] },
        { width: titles, align: 'left' as const, head: [] },
        ...keys.map((key) => ({ width: keyWidth, align: 'center' as const, head: [spanOf(key, head)] })),
      ],
      rows: grid.rows.map((row): Cell[] => [
        { spans: [spanOf(row.number, cell)] },
        { spans: [spanOf(curved(row.title), cell)] },
        ...row.cells
          .slice(from, to)
          .map(
            (c, k): Cell =>
              c ? { spans: [spanOf(c.page, cell)], target: c.anchor, words: `${row.title} in ${keys[k]}, page ${c.page}` } : { spans: [] },
          ),
      ]),
      rowHeight: 1.35 * cell.leading,
      grid: false,
      id: `contents-grid-${g}`,
    };
    return tablePages(table, 'contents', heading.items, heading.bottom, setting).pages;
  });
}
