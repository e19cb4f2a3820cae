/** Rule 25: what of the printed file can be told from the document. Fonts and bytes are for readers of the file itself. */

import { type Mm, mmToPt } from '../../base/units.js';
import type { Drawing } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { Document, OutlineEntry } from '../../layout/page/page.js';
import { type Fault, fault, type Spot } from '../fault.js';
import type { PlacedPage } from '../placed-page.js';
import { round } from '../placed-system.js';
import { LIMIT } from '../tolerance.js';

const code = (text: string): string => `U+${(text.codePointAt(0) as number).toString(16).toUpperCase().padStart(4, '0')}`;

/** Every sign of a drawing is in its font. */
export function drawnGlyphs(drawing: Drawing, fonts: Fonts, spot: Spot): Fault[] {
  const faults: Fault[] = [];
  for (const mark of drawing.marks) {
    const [font, text] =
      mark.kind === 'glyph'
        ? (['music', String.fromCodePoint(mark.code)] as const)
        : mark.kind === 'text'
          ? ([mark.font, mark.text] as const)
          : (['music', ''] as const);
    if (text === '' || fonts.covers(font, text)) continue;
    const lost = [...text].find((c) => !fonts.covers(font, c)) as string;
    faults.push(fault(25, spot, `The ${font} font has no sign ${code(lost)}.`));
  }
  return faults;
}

/** Text and grays of a page. Gray is for charts and tables, never on a page of music. */
export function pageHygiene(placed: PlacedPage, fonts: Fonts): Fault[] {
  const faults: Fault[] = [];
  const spot = { page: placed.page.label };
  for (const { run } of placed.runs) {
    const lost = [...run.text].find((c) => !fonts.covers(run.font, c));
    if (lost !== undefined) faults.push(fault(25, spot, `The ${run.font} font has no sign ${code(lost)} for "${run.text.slice(0, 40)}".`));
    if (run.size <= 0 || !Number.isFinite(run.x + run.y + run.size))
      faults.push(fault(25, spot, `"${run.text.slice(0, 40)}" has no size or place.`));
  }
  for (const item of placed.page.items) {
    if (item.kind === 'rect' && (item.gray ?? 0) > 0 && (placed.page.kind === 'music' || placed.page.kind === 'chapter')) {
      faults.push(fault(25, spot, 'Something on a page of music is gray.', { amount: round(item.gray ?? 0), limit: 0, unit: 'ratio' }));
    }
  }
  return faults;
}

const namesOf = (entries: readonly OutlineEntry[]): string[] => entries.flatMap((e) => [e.anchor, ...namesOf(e.children)]);

/** Page size, information and targets of links and bookmarks. `size` in millimetres, as the edition asks for it. */
export function documentHygiene(document: Document, size: { readonly width: Mm; readonly height: Mm }): Fault[] {
  const faults: Fault[] = [];
  for (const side of ['width', 'height'] as const) {
    const due = mmToPt(size[side]) as number;
    if (Math.abs(document[side] - due) > LIMIT.pageBox) {
      faults.push(
        fault(25, {}, `The ${side} of the page is not that of its sheet.`, {
          amount: round(document[side], 3),
          limit: round(due, 3),
          unit: 'pt',
        }),
      );
    }
  }
  if (document.info.title.trim() === '') faults.push(fault(25, {}, 'The document has no title.'));
  if (document.info.language.trim() === '') faults.push(fault(25, {}, 'The document does not say its language.'));
  const anchors = new Set<string>();
  for (const page of document.pages) {
    for (const item of page.items) {
      if (item.kind !== 'anchor') continue;
      if (anchors.has(item.name)) faults.push(fault(25, { page: page.label }, `Two places are named "${item.name}".`));
      anchors.add(item.name);
    }
  }
  for (const page of document.pages) {
    for (const item of page.items) {
      if (item.kind === 'link' && !anchors.has(item.target))
        faults.push(fault(25, { page: page.label }, `A link leads to "${item.target}", which is nowhere.`));
    }
  }
  for (const name of namesOf(document.outline))
    if (!anchors.has(name)) faults.push(fault(25, {}, `A bookmark leads to "${name}", which is nowhere.`));
  const labels = document.pages.map((p) => p.label);
  if (new Set(labels).size !== labels.length) faults.push(fault(25, {}, 'Two pages have the same label.'));
  return faults;
}
