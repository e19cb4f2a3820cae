/** Rule 25: what of the printed file can be told from the document. Fonts and bytes are for readers of the file itself. */

import { type Mm, mmToPt } from '../../base/units.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { Document, OutlineEntry } from '../../layout/page/page.js';
import { type Finding, finding } from '../fault.js';
import type { PlacedPage } from '../placed-page.js';
import { type PlacedDrawing, round } from '../placed-system.js';
import type { Rule } from '../rule.js';
import { LIMIT } from '../tolerance.js';

const codeText = (character: string): string => `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;

/** Every sign of a drawing is in its font. */
export function drawnGlyphs({ reading, spot }: PlacedDrawing, fonts: Fonts): Finding[] {
  const findings: Finding[] = [];
  for (const mark of reading.drawing.marks) {
    const [font, text] =
      mark.kind === 'glyph'
        ? (['music', String.fromCodePoint(mark.code)] as const)
        : mark.kind === 'text'
          ? ([mark.font, mark.text] as const)
          : (['music', ''] as const);
    const lost = fonts.covers(font, text) ? undefined : [...text].find((c) => !fonts.covers(font, c));
    if (lost !== undefined) findings.push(finding(spot, `The ${font} font has no sign ${codeText(lost)}.`));
  }
  return findings;
}

/** Text and grays of a page. Gray is for charts and tables, never on a page of music. */
export function pageHygiene(placed: PlacedPage, fonts: Fonts): Finding[] {
  const findings: Finding[] = [];
  const spot = { page: placed.page.label };
  for (const { run } of placed.runs) {
    const lost = [...run.text].find((c) => !fonts.covers(run.font, c));
    if (lost !== undefined)
      findings.push(finding(spot, `The ${run.font} font has no sign ${codeText(lost)} for "${run.text.slice(0, 40)}".`));
    if (run.size <= 0 || !Number.isFinite(run.x + run.y + run.size))
      findings.push(finding(spot, `"${run.text.slice(0, 40)}" has no size or place.`));
  }
  for (const item of placed.page.items) {
    if (item.kind === 'rect' && (item.gray ?? 0) > 0 && (placed.page.kind === 'music' || placed.page.kind === 'chapter')) {
      findings.push(finding(spot, 'Something on a page of music is gray.', { amount: round(item.gray ?? 0), limit: 0, unit: 'ratio' }));
    }
  }
  return findings;
}

const namesOf = (entries: readonly OutlineEntry[]): string[] => entries.flatMap((e) => [e.anchor, ...namesOf(e.children)]);

/** Page size, information and targets of links and bookmarks. `size` in millimetres, as the edition asks for it. */
export function documentHygiene(document: Document, size: { readonly width: Mm; readonly height: Mm }): Finding[] {
  const findings: Finding[] = [];
  for (const side of ['width', 'height'] as const) {
    const due = mmToPt(size[side]);
    if (Math.abs(document[side] - due) > LIMIT.pageBox) {
      findings.push(
        finding({}, `The ${side} of the page is not that of its sheet.`, {
          amount: round(document[side], 3),
          limit: round(due, 3),
          unit: 'pt',
        }),
      );
    }
  }
  if (document.info.title.trim() === '') findings.push(finding({}, 'The document has no title.'));
  if (document.info.language.trim() === '') findings.push(finding({}, 'The document does not say its language.'));
  const anchors = new Set<string>();
  for (const page of document.pages) {
    for (const item of page.items) {
      if (item.kind !== 'anchor') continue;
      if (anchors.has(item.name)) findings.push(finding({ page: page.label }, `Two places are named "${item.name}".`));
      anchors.add(item.name);
    }
  }
  for (const page of document.pages) {
    for (const item of page.items) {
      if (item.kind === 'link' && !anchors.has(item.target))
        findings.push(finding({ page: page.label }, `A link leads to "${item.target}", which is nowhere.`));
    }
  }
  for (const name of namesOf(document.outline))
    if (!anchors.has(name)) findings.push(finding({}, `A bookmark leads to "${name}", which is nowhere.`));
  const labels = document.pages.map((p) => p.label);
  if (new Set(labels).size !== labels.length) findings.push(finding({}, 'Two pages have the same label.'));
  return findings;
}

export const HYGIENE: Rule = {
  number: 25,
  id: 'hygiene',
  title: 'The document is fit to be printed',
  check: {
    drawing: ({ at, fonts }) => drawnGlyphs(at, fonts),
    page: ({ placed, fonts }) => pageHygiene(placed, fonts),
    edition: ({ document, sheet }) => documentHygiene(document, sheet),
  },
};
