/** Ruled tables that go on over as many pages as they need, with their head repeated. */
import type { Pt } from '../../base/units.js';
import { bodyOf, type Frame, type MatterPage, pagesOn, type Setting } from '../page/geometry.js';
import type { Page, PageItem, Tag } from '../page/page.js';
import { setParagraph } from '../text/paragraph.js';
import { type Align, movedRuns, type Span, textItems } from '../text/text.js';

export type Cell = { readonly spans: readonly Span[]; readonly target?: string; readonly words?: string };

export type Column = { readonly width: Pt; readonly align: Align; readonly head: readonly Span[] };

export type Table = {
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  /** Least height of a row; cells with more lines make it higher. */
  readonly rowHeight: Pt;
  /** Lines between columns too, for forms that are written in. */
  readonly grid: boolean;
  /** Beginning of the cells' ids. */
  readonly id: string;
};

const HAIRLINE = 0.4;
const FIRM = 0.8;
const RULE: Tag = { kind: 'artifact', type: 'layout' };
/** Space between a cell's edge and its text, in ems of the cell's type. */
const PADDING_EMS = 0.4;

const across = (x: Pt, y: Pt, width: Pt, height: Pt): PageItem => ({ kind: 'rect', x, y, width, height, tag: RULE });

export const tableWidth = (table: Table): Pt => table.columns.reduce((sum, column) => sum + column.width, 0);

type SetRow = { readonly height: Pt; readonly place: (x: Pt, y: Pt, page: number) => PageItem[] };

function setRow(table: Table, cells: readonly Cell[], id: string, head: boolean, setting: Setting): SetRow {
  const { fonts, styles } = setting;
  const style = styles[head ? 'table-head' : 'table-cell'];
  const padding = PADDING_EMS * style.size;
  const wide = table.columns.map((column) => column.width - 2 * padding);
  const set = cells.map((cell, c) => setParagraph(cell.spans, { width: wide[c]!, size: style.size, align: 'left' }, fonts));
  const most = Math.max(1, ...set.map((lines) => lines.length));
  const text = most * style.leading;
  const height = Math.max(head ? 0 : table.rowHeight, text + (head ? style.after : table.rowHeight - style.leading));
  return {
    height,
    place(x, y, page) {
      // Baselines of one row agree, whatever the number of lines of its cells; a head stands at the foot of its row.
      const top = head ? y + height - style.after - text : y + (height - text) / 2;
      const first = top + style.leading / 2 + 0.335 * style.size;
      let left: number = x;
      return cells.flatMap((cell, c) => {
        const column = table.columns[c]!;
        const [from, to] = [left + padding, left + padding + wide[c]!];
        left += column.width;
        // The head printed again on later pages is not part of the table's text.
        const tag: Tag = head && page > 0 ? RULE : { kind: 'element', type: 'TD', id: `${table.id}-${id}-${c}` };
        const lines = set[c]!;
        const start = head ? first + (most - lines.length) * style.leading : first;
        const items = lines.flatMap((line, i) => {
          const room = to - from - line.width;
          const shift = column.align === 'left' ? 0 : column.align === 'right' ? room : room / 2;
          return textItems(movedRuns(line.runs, from + shift, start + i * style.leading), tag);
        });
        if (!cell.target) return items;
        const words = cell.words ?? cell.spans.map((s) => s.text).join('');
        return [{ kind: 'link' as const, x: left - column.width, y, width: column.width, height, target: cell.target, words }, ...items];
      });
    },
  };
}

export type TablePages = { readonly pages: readonly MatterPage[]; readonly end: Pt };

/**
 * The table on pages of the given kind, centred in the body. `top` is where it begins on the first page, `before` the
 * items that stand there. Rows stay whole.
 */
export function tablePages(table: Table, kind: Page['kind'], before: readonly PageItem[], top: Pt, setting: Setting): TablePages {
  const { geometry, styles } = setting;
  const head = setRow(
    table,
    table.columns.map((c) => ({ spans: c.head })),
    'head',
    true,
    setting,
  );
  const rows = table.rows.map((cells, r) => setRow(table, cells, `${r}`, false, setting));
  const width = tableWidth(table);
  const pages: PageItem[][] = [[...before]];
  let body: Frame = bodyOf(geometry, styles);
  let y: number = top;
  let open = 0;
  const x = () => body.left + (body.width - width) / 2;
  const items = () => pages.at(-1)!;
  const begin = () => {
    items().push(...head.place(x(), y, pages.length - 1));
    y += head.height;
    open = y;
    items().push(across(x(), y, width, FIRM));
  };
  const finish = () => {
    items().push(across(x(), y, width, FIRM));
    if (!table.grid) return;
    let at = x();
    for (const column of [...table.columns, undefined]) {
      items().push(across(Math.min(at, x() + width - HAIRLINE), open, HAIRLINE, y - open));
      at += column?.width ?? 0;
    }
  };
  begin();
  rows.forEach((row, r) => {
    if (r > 0 && y + row.height + FIRM > body.bottom) {
      finish();
      pages.push([]);
      body = bodyOf(pagesOn(geometry, pages.length - 1), styles);
      y = body.top;
      begin();
    } else if (r > 0) {
      items().push(across(x(), y, width, HAIRLINE / (table.grid ? 1 : 2)));
    }
    items().push(...row.place(x(), y, pages.length - 1));
    y += row.height;
  });
  finish();
  return { pages: pages.map((list) => ({ kind, items: list })), end: y };
}
