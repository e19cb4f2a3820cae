/** The title page and the copyright page on its back. */
import { anchorAt, blockOf, frame, type MatterPage, measureIn, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { setParagraph } from '../text/paragraph.js';
import { spanOf } from '../text/text.js';
import type { TypeStyle } from '../text/type-style.js';
import { textLines } from './heading.js';

export type TitlePage = {
  readonly title: string;
  readonly subtitle: string;
  /** As printed: `B♭ Clarinet`. */
  readonly instrument: string;
  readonly author: string;
  readonly publisher: string;
};

/** Heights of the parts as shares of the block: the title stands in the upper third, the author below the middle. */
const TITLE_AT = 0.2;
const AUTHOR_AT = 0.6;
const MOST_TITLE_LINES = 3;
const RULE = { width: 54, height: 0.6 };

/** The style, smaller if the title would need more than three lines, but not below half its size. */
function titleStyle(title: string, width: number, setting: Setting): TypeStyle {
  const full = setting.styles['book-title'];
  for (let share = 1; share > 0.5; share -= 0.1) {
    const style = { ...full, size: full.size * share, leading: full.leading * share };
    if (setParagraph([spanOf(title, style)], { width, size: style.size, align: 'center' }, setting.fonts).length <= MOST_TITLE_LINES)
      return style;
  }
  return { ...full, size: full.size / 2, leading: full.leading / 2 };
}

/** Title, subtitle, instrument and author, with the publisher at the foot; what is empty leaves no gap. */
export function titlePage(book: TitlePage, setting: Setting): MatterPage {
  const { fonts, styles } = setting;
  const block = blockOf(setting.geometry);
  const inner = frame(block.left + 0.04 * block.width, block.top, block.right - 0.04 * block.width, block.bottom);
  const items: PageItem[] = [anchorAt('title-page', block.top)];
  const tag = (id: string, type: 'H1' | 'P' = 'P'): Tag => ({ kind: 'element', type, id: `title-page-${id}` });
  let y = block.top + TITLE_AT * block.height;
  const add = (text: string, style: TypeStyle, id: string, type?: 'H1') => {
    const set = textLines(text, style, inner, y, 'center', tag(id, type), fonts);
    items.push(...set.items);
    y = set.bottom;
  };

  add(book.title, titleStyle(book.title, inner.width, setting), 'title', 'H1');
  y += styles['book-title'].after;
  if (book.subtitle) add(book.subtitle, styles.subtitle, 'subtitle');
  if (book.instrument) {
    y += 1.3 * styles.subtitle.leading;
    const x = (inner.left + inner.right - RULE.width) / 2;
    items.push({ kind: 'rect', x, y, ...RULE, tag: { kind: 'artifact', type: 'layout' } });
    y += 1.3 * styles.subtitle.leading;
    add(book.instrument, styles.instrument, 'instrument');
  }
  y = Math.max(y + 2 * styles.author.leading, block.top + AUTHOR_AT * block.height);
  if (book.author) add(book.author, styles.author, 'author');
  if (book.publisher) {
    const style = styles.publisher;
    const lines = setParagraph([spanOf(book.publisher, style)], { width: inner.width, size: style.size, align: 'center' }, fonts).length;
    y = Math.max(y, block.bottom - lines * style.leading);
    add(book.publisher, style, 'publisher');
  }
  return { kind: 'title', items };
}

export type CopyrightPage = {
  readonly title: string;
  /** `Edition for Flute`; nothing when empty. */
  readonly edition: string;
  readonly publisher: string;
  /** The owner (`Example Press`), or the whole notice if it says © or "copyright". */
  readonly copyright: string;
  /** ISO date of the printing; its year stands in the notice. */
  readonly date: string;
};

const MONTHS = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December'];

/** `November 2026`; the year alone, or nothing, if the date says no more. */
export function monthAndYear(date: string): string {
  const [, year, month] = /^(\d{4})(?:-(\d{2}))?/.exec(date) ?? [];
  return [month ? MONTHS[Number(month) - 1] : undefined, year].filter(Boolean).join(' ');
}

/** The notice as the law expects it: ©, year of this printing, owner. */
export function copyrightNotice(copyright: string, date: string): string {
  if (copyright === '' || /©|copyright/i.test(copyright)) return copyright;
  return `Copyright © ${[date.slice(0, 4), copyright].filter(Boolean).join(' ')}`;
}

const FACES = 'Text set in Source Serif 4, music in Sebastian. Both typefaces are licensed under the SIL Open Font License, Version 1.1.';

/** Notice, edition and typefaces, at the foot of the page. */
export function copyrightPage(book: CopyrightPage, setting: Setting): MatterPage {
  const { fonts, styles, geometry } = setting;
  const block = blockOf(geometry);
  const style = styles.colophon;
  const column = measureIn(block, style.size);
  const edition = [book.edition, monthAndYear(book.date)].filter(Boolean).join(', ');
  const texts = [
    book.title,
    edition,
    copyrightNotice(book.copyright, book.date),
    book.publisher ? `Published by ${book.publisher}` : '',
    FACES,
  ];
  const blocks = texts
    .filter((text) => text !== '')
    .map((text, i) => {
      const tag: Tag = { kind: 'element', type: 'P', id: `copyright-${i}` };
      const look = i === 0 ? { ...style, font: 'italic' as const } : style;
      return (y: number) => textLines(text, look, column, y, 'left', tag, fonts);
    });
  const height = blocks.reduce((y, place) => place(y).bottom + style.after, 0) - style.after;
  const items: PageItem[] = [anchorAt('copyright-page', block.top)];
  let y = block.bottom - height;
  for (const place of blocks) {
    const set = place(y);
    items.push(...set.items);
    y = set.bottom + style.after;
  }
  return { kind: 'copyright', items };
}
