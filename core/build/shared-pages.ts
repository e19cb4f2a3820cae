/** The second stage of an ensemble's parts: pages that serve all copies. */

import type { Fonts } from '../engrave/metrics.js';
import { copiesOfChair, type EnsembleBook, type NumberedExercise, ofExercise } from '../ensemble/ensemble-book.js';
import { openingWords, padOpening } from '../layout/edition-body.js';
import { chapterOpening } from '../layout/matter/text-pages.js';
import { bodyOf, pagesOn } from '../layout/page/geometry.js';
import { type ChapterHeights, type Fill, matchedFill } from '../layout/page/matched-pages.js';
import { BLOCK_AIR } from '../layout/page/page-spread.js';
import type { Sheet } from '../layout/page/sheet.js';
import { type CopyExercise, chairSheet, copyExercises, type ExerciseLayout } from './ensemble-layout.js';

/** Chapter by chapter the pages of its opening and of its exercises, the same in every copy. Plain data. */
export type SharedPages = { readonly openings: readonly number[]; readonly fills: readonly Fill[] };

/** The sheet of a part, and what each of its copies has on it. */
type PartSheet = { readonly sheet: Sheet; readonly copies: readonly (readonly CopyExercise[])[] };

/** A chapter from this page on, counted from 0; `words` open it. */
function chapterPages(
  words: ReturnType<typeof openingWords>,
  exercises: readonly NumberedExercise[],
  parts: readonly PartSheet[],
  page: number,
): { readonly opening: number; readonly fill: Fill } {
  const begun = parts.map(({ sheet, copies }) => {
    const setting = { ...sheet.setting, geometry: pagesOn(sheet.setting.geometry, page) };
    return { sheet, copies, setting, opened: chapterOpening(words, setting) };
  });
  const opening = Math.max(...begun.map(({ opened }) => opened.pages.length));
  const first = page + opening - 1;
  const heights = begun.flatMap(({ sheet, copies, setting, opened }) => {
    const { styles } = sheet.setting;
    const geometry = pagesOn(sheet.setting.geometry, first);
    const top = padOpening(opened, opening, setting).end + BLOCK_AIR.least * sheet.space;
    const room = bodyOf(geometry, styles).height;
    const firstRoom = Math.max(0, bodyOf(geometry, styles, opening === 1).bottom - top);
    return copies.map((own): ChapterHeights => {
      const blocks = exercises.map((one) => ofExercise(own, one).heights);
      return { blocks, room, firstRoom, scale: sheet.space };
    });
  });
  return { opening, fill: matchedFill(heights, first % 2 === 0 ? 'right' : 'left') };
}

export function sharedPages({ book, ensemble, exercises }: EnsembleBook, layouts: readonly ExerciseLayout[], fonts: Fonts): SharedPages {
  const parts = ensemble.chairs.map((chair): PartSheet => {
    const copies = copiesOfChair(chair, ensemble);
    return { sheet: chairSheet(book, chair, fonts), copies: copies.map((copy) => copyExercises(layouts, copy)) };
  });
  const openings: number[] = [];
  const fills: Fill[] = [];
  let page = 0;
  for (const [c, chapter] of book.chapters.entries()) {
    const own = exercises.filter((one) => one.chapter === c);
    if (own.length === 0) {
      openings.push(1);
      fills.push({ pages: [], cuts: [] });
      continue;
    }
    if (book.house.chaptersOnRight && page % 2 === 1) page++;
    const { opening, fill } = chapterPages(openingWords(chapter, c), own, parts, page);
    openings.push(opening);
    fills.push(fill);
    page += opening - 1 + Math.max(1, fill.pages.length);
  }
  return { openings, fills };
}
