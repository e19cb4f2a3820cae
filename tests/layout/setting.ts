/** Settings of all page sizes, and questions that tests ask about placed items. */

import { mmToPt } from '../../core/base/units.js';
import { PAGE_SIZES } from '../../core/book/page-size.js';
import { blockOf, type Geometry, pagesOn, type Setting } from '../../core/layout/page/geometry.js';
import type { PageItem, TextRun } from '../../core/layout/page/page.js';
import { typeStyles } from '../../core/layout/text/type-style.js';
import { testFonts } from '../fonts.js';

export function settingOf(size: keyof typeof PAGE_SIZES = 'letter', staff = 7.5, side: 'left' | 'right' = 'right'): Setting {
  const { width, height } = PAGE_SIZES[size];
  const margins = { top: mmToPt(15), bottom: mmToPt(15), inner: mmToPt(18), outer: mmToPt(15) };
  const geometry: Geometry = { width: mmToPt(width), height: mmToPt(height), margins, side };
  return { geometry, fonts: testFonts(), styles: typeStyles(staff), language: 'en-US' };
}

export const SIZES = Object.keys(PAGE_SIZES) as (keyof typeof PAGE_SIZES)[];

export const runsIn = (items: readonly PageItem[]): TextRun[] => items.flatMap((item) => (item.kind === 'text' ? [item.run] : []));

/** The text of a page, line by line from the top, each from the left; signs that stand higher belong to their line. */
export function linesIn(items: readonly PageItem[]): string[] {
  const lines: { y: number; runs: TextRun[] }[] = [];
  for (const run of runsIn(items).filter((r) => !/^\.+$/.test(r.text) || r.text.length < 3)) {
    const line = lines.find((l) => Math.abs(l.y - run.y) < 0.5 * run.size);
    if (run.text === ' ') continue;
    if (line) line.runs.push(run);
    else lines.push({ y: run.y, runs: [run] });
  }
  return lines
    .sort((a, b) => a.y - b.y)
    .map(({ runs }) => {
      const sorted = runs.sort((a, b) => a.x - b.x);
      return sorted.reduce((text, run, i) => {
        const before = sorted[i - 1];
        const apart = before && !text.endsWith(' ') && run.x - before.x - before.width > 0.15 * run.size;
        return text + (apart ? ' ' : '') + run.text;
      }, '');
    });
}

/** What of the ink stands outside the margins, as short sentences. Letters reach 0.73 em up and 0.24 em down. */
export function outside(items: readonly PageItem[], geometry: Geometry): string[] {
  const block = blockOf(geometry);
  const found: string[] = [];
  const check = (what: string, x0: number, y0: number, x1: number, y1: number) => {
    const out = Math.max(block.left - x0, block.top - y0, x1 - block.right, y1 - block.bottom);
    if (!(out < 0.51)) found.push(`${what} by ${out.toFixed(1)}`);
  };
  for (const item of items) {
    if (item.kind === 'text') {
      const { run } = item;
      const up = run.font === 'music' ? 0 : 0.73;
      check(run.text, run.x, run.y - up * run.size, run.x + run.width, run.y + (run.font === 'music' ? 0 : 0.24) * run.size);
    } else if (item.kind === 'rect' || item.kind === 'link') {
      check(item.kind, item.x, item.y, item.x + item.width, item.y + item.height);
    } else if (item.kind === 'path') {
      for (const step of item.d) {
        if (step[0] !== 'Z') check('path', step.at(-2) as number, step.at(-1) as number, step.at(-2) as number, step.at(-1) as number);
      }
    } else if (item.kind === 'drawing') {
      const { width, top, bottom } = item.draw();
      check('drawing', item.x, item.y + top * item.scale, item.x + width * item.scale, item.y + bottom * item.scale);
    }
  }
  return found;
}

/** The same for each page of a builder, with sides in turn. */
export const outsideAll = (pages: readonly { readonly items: readonly PageItem[] }[], setting: Setting): string[] =>
  pages.flatMap((page, i) => outside(page.items, pagesOn(setting.geometry, i)));
