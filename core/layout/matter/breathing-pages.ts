/** The page "Breathing in this book", with a box to write one's own long tones in; and the marks as the engraving wants them. */

import { BREATHING_TITLE, breathingPage } from '../../breath/page.js';
import type { PrintedBreaths, ReaderBreaths } from '../../breath/policy.js';
import { stopWords } from '../../breath/words.js';
import type { Score } from '../../engrave/bar.js';
import { bodyOf, type MatterPage, measureIn, pagesOn, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { baselineIn } from '../text/prose.js';
import { lineOf, spanOf, textItems } from '../text/text.js';
import { textPages } from './text-pages.js';

export function breathMarks(exercise: Pick<PrintedBreaths, 'marks'> | undefined): Score['breaths'] {
  return new Map((exercise?.marks ?? []).map((mark) => [mark.afterEvent, { parenthesised: mark.fallsAway }]));
}

const ROWS = 3;
const COLUMNS = ['Date', 'First', 'Second', 'Third', 'Longest'];
const RULE = 0.5;

/** A ruled box: date, three tries, the longest. Its top at y. */
function recordBox(setting: Setting, left: number, width: number, y: number): { items: PageItem[]; height: number } {
  const { styles, fonts } = setting;
  const head = styles['table-head'];
  const row = 1.5 * styles['table-cell'].leading;
  const column = width / COLUMNS.length;
  const artifact: Tag = { kind: 'artifact', type: 'layout' };
  const top = y + head.leading + head.after;
  const items: PageItem[] = COLUMNS.flatMap((title, i) => {
    const edges = { left: left + i * column, right: left + (i + 1) * column };
    const tag: Tag = { kind: 'element', type: 'TD', id: `long-tone-${i}` };
    return textItems(lineOf([spanOf(title, head)], edges, y + baselineIn(head), head.size, 'center', fonts), tag);
  });
  for (let r = 0; r <= ROWS; r++) items.push({ kind: 'rect', x: left, y: top + r * row, width, height: RULE, tag: artifact });
  for (let c = 0; c <= COLUMNS.length; c++)
    items.push({ kind: 'rect', x: left + c * column - (c > 0 ? RULE : 0), y: top, width: RULE, height: ROWS * row, tag: artifact });
  return { items, height: top + ROWS * row + RULE - y };
}

/** Where the last line of text on a page ends. */
function inkEnd(page: MatterPage): number {
  return page.items.reduce((y, item) => (item.kind === 'text' ? Math.max(y, item.run.y) : y), 0);
}

/** Shares of the leading that are tried so that the box stands under the text, not alone on a page. */
const TIGHTER = [1, 0.96, 0.92, 0.88, 0.85];

function tighter(setting: Setting, by: number): Setting {
  const { body } = setting.styles;
  return { ...setting, styles: { ...setting.styles, body: { ...body, leading: by * body.leading, after: by * body.after } } };
}

/** The text with the box under it; undefined where the page has no room for it. */
function withBox(words: string, setting: Setting): MatterPage[] | undefined {
  const pages = textPages({ title: BREATHING_TITLE, text: words, anchor: 'breathing' }, setting);
  const last = pages.at(-1) as MatterPage;
  const column = measureIn(bodyOf(pagesOn(setting.geometry, pages.length - 1), setting.styles), setting.styles.body.size);
  const top = inkEnd(last) + 1.2 * setting.styles.body.leading;
  const { items, height } = recordBox(setting, column.left, column.width, top);
  return top + height <= column.bottom ? [...pages.slice(0, -1), { ...last, items: [...last.items, ...items] }] : undefined;
}

export function breathingPages(breathing: ReaderBreaths, instrument: string, setting: Setting): MatterPage[] {
  const player = `a player of this book for ${instrument}`;
  const words = (breathing.text ?? breathingPage(player, breathing.lung.words, breathing.manner, stopWords(breathing.added))).replace(
    /^# .*\n+/,
    '',
  );
  for (const by of TIGHTER) {
    const pages = withBox(words, tighter(setting, by));
    if (pages) return pages;
  }
  const pages = textPages({ title: BREATHING_TITLE, text: words, anchor: 'breathing' }, setting);
  // A page with nothing but the box is not worth its sheet in a part or a booklet.
  if (breathing.text !== undefined) return pages;
  const next = measureIn(bodyOf(pagesOn(setting.geometry, pages.length), setting.styles), setting.styles.body.size);
  return [...pages, { kind: 'text', items: recordBox(setting, next.left, next.width, next.top).items }];
}
