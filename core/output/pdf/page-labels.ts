/** Page labels: how a reader names the pages of the file (ISO 32000-1, 12.4.2). */
import type { Page } from '../../layout/page/page.js';
import type { Kit } from './kit.js';

type LabelRange = { readonly S?: 'r' | 'R' | 'D'; readonly St?: number; readonly P?: string };

/** Page labels (ISO 32000-1, 12.4.2): index of the first page of each range, and how its pages are numbered. */
export function labelRanges(pages: readonly Pick<Page, 'label' | 'numbering'>[]): [number, LabelRange][] {
  const ranges: [number, LabelRange][] = [];
  let style = '';
  let next = Number.NaN;
  for (const [index, page] of pages.entries()) {
    const read = readLabel(page);
    if (!read) {
      // A label that is no number, or none at all: a range of its own, which is only a prefix.
      ranges.push([index, page.label === '' ? {} : { P: page.label }]);
      style = '';
    } else {
      if (read.style !== style || read.number !== next) ranges.push([index, { S: read.style, St: read.number }]);
      style = read.style;
      next = read.number + 1;
    }
  }
  return ranges;
}

function readLabel({ label, numbering }: Pick<Page, 'label' | 'numbering'>): { style: 'r' | 'R' | 'D'; number: number } | undefined {
  if (numbering === 'arabic') return /^[1-9]\d*$/.test(label) ? { style: 'D', number: Number(label) } : undefined;
  const number = fromRoman(label.toLowerCase());
  if (number === undefined) return undefined;
  if (label === label.toLowerCase()) return { style: 'r', number };
  return label === label.toUpperCase() ? { style: 'R', number } : undefined;
}

const ROMAN: readonly (readonly [number, string])[] = [
  [1000, 'm'],
  [900, 'cm'],
  [500, 'd'],
  [400, 'cd'],
  [100, 'c'],
  [90, 'xc'],
  [50, 'l'],
  [40, 'xl'],
  [10, 'x'],
  [9, 'ix'],
  [5, 'v'],
  [4, 'iv'],
  [1, 'i'],
];

const WELL_FORMED = /^m*(?:cm|cd|d?c{0,3})(?:xc|xl|l?x{0,3})(?:ix|iv|v?i{0,3})$/;

/** The number of a well-formed lower-case Roman numeral; undefined for anything else (`iiii`, `ic`, empty). */
function fromRoman(text: string): number | undefined {
  if (text === '' || !WELL_FORMED.test(text)) return undefined;
  let rest = text;
  let number = 0;
  for (const [value, letters] of ROMAN) {
    while (rest.startsWith(letters)) {
      number += value;
      rest = rest.slice(letters.length);
    }
  }
  return number;
}

export function addPageLabels(kit: Kit, pages: readonly Page[]): void {
  const nums = labelRanges(pages).flatMap(([index, { P, ...range }]) => [
    index,
    // PDFKit writes a String object as a string and a plain string as a name.
    P === undefined ? range : { ...range, P: new String(P) },
  ]);
  const labels = kit.ref({ Nums: nums });
  kit._root.data.PageLabels = labels;
  labels.end();
}
