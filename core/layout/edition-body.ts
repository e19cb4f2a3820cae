/** The chapters of an edition: each exercise set as a block, each chapter put on pages after its opening. */

import type { Cached, KeyPart } from '../base/cache.js';
import { at } from '../base/list.js';
import type { Pt } from '../base/units.js';
import type { Chapter } from '../book/book.js';
import type { ScoreShape } from '../engrave/shape.js';
import type { Exercise } from '../exercise/exercise.js';
import type { Line } from '../player/line.js';
import { chapterAnchor, type EditionContent, type ExercisePlace, type Leaf, plainLeaf } from './edition.js';
import { breathMarks } from './matter/breathing-pages.js';
import { type ChapterOpening, chapterOpening } from './matter/text-pages.js';
import { shapeCache } from './music/exercise-block.js';
import { musicBlock } from './music/music-block.js';
import { blankPage, bodyOf, pagesOn, type Setting } from './page/geometry.js';
import { type MusicPages, musicPages } from './page/music-pages.js';
import { BLOCK_AIR } from './page/page-spread.js';

/** What a chapter's opening says. */
export const openingWords = (chapter: Chapter, index: number): ChapterOpening => ({
  title: chapter.title,
  number: `Chapter ${index + 1}`,
  text: chapter.text,
  anchor: chapterAnchor(chapter.id),
});

/** An opening of so many pages at least, where another part of the ensemble needs them: music begins after them. */
export function padOpening(opening: Opened, pages: number, { geometry, styles }: Setting): Opened {
  const lack = pages - opening.pages.length;
  if (lack <= 0) return opening;
  const full = bodyOf(pagesOn(geometry, pages - 1), styles).bottom;
  return { pages: [...opening.pages, ...Array.from({ length: lack }, blankPage)], end: full };
}

type Opened = ReturnType<typeof chapterOpening>;

export type Body = {
  readonly leaves: readonly Leaf[];
  readonly places: readonly ExercisePlace[];
  readonly chapterPages: readonly (number | undefined)[];
};

/** What the chapters of an edition are set from. */
type BodyGround = {
  readonly content: EditionContent;
  readonly setting: Setting;
  readonly space: Pt;
  readonly cached: Cached;
  /** What stands in a key of the cache for a value that is the same object again. */
  readonly identity: (value: object) => KeyPart;
  readonly shapeOf: (line: Line) => ScoreShape;
};

/** Chapters from a first right-hand page on. */
export function bodyPages(content: EditionContent, setting: Setting, space: Pt, cached: Cached): Body {
  const { book, lines, breathing } = content;
  const identity = content.cache?.identity ?? (() => undefined);
  const shapeOf = shapeCache(setting.fonts, (line) => breathMarks(breathing?.exercises.get(line.exercise.id)));
  const ground: BodyGround = { content, setting, space, cached, identity, shapeOf };
  const leaves: Leaf[] = [];
  const places: ExercisePlace[] = [];
  const chapterPages: (number | undefined)[] = [];
  let number = 0;
  book.chapters.forEach((chapter, c) => {
    const before = number;
    number += chapter.exercises.length;
    if (!chapter.exercises.some(({ id }) => lines.has(id))) {
      chapterPages.push(undefined);
      return;
    }
    if (book.house.chaptersOnRight && leaves.length % 2 === 1) leaves.push(plainLeaf(blankPage()));
    chapterPages.push(leaves.length);
    const own = chapterBody(c, chapter, before, leaves.length, ground);
    leaves.push(...own.leaves);
    places.push(...own.places);
  });
  return { leaves, places, chapterPages };
}

/** A chapter from page `page` on: its opening and its exercises, numbered on from `before`. */
function chapterBody(c: number, chapter: Chapter, before: number, page: number, ground: BodyGround): Pick<Body, 'leaves' | 'places'> {
  const { content, setting, space, cached, identity } = ground;
  const { geometry, styles } = setting;
  const { match } = content;
  const own = { ...setting, geometry: pagesOn(geometry, page) };
  const words = openingWords(chapter, c);
  const opening = padOpening(
    cached(['opening', words, own.geometry.side], () => chapterOpening(words, own)),
    match?.openings[c] ?? 1,
    own,
  );
  const printed = chapter.exercises.flatMap((exercise, i) => exerciseBlocks(exercise, before + i + 1, ground));
  const blocks = printed.map(({ block }) => block);
  const first = page + opening.pages.length - 1;
  const firstGeometry = pagesOn(geometry, first);
  const { bottom } = bodyOf(firstGeometry, styles, opening.pages.length === 1);
  const room = { top: opening.end + BLOCK_AIR.least * space, bottom };
  const music = cached(['music', blocks.map(identity), firstGeometry, room, match?.fills[c]], () =>
    musicPages(blocks, { ...setting, geometry: firstGeometry }, room, match?.fills[c]),
  );
  const places = printed.map(({ exercise: { id, title }, number }, i): ExercisePlace => {
    return { id, number: `${number}`, title, chapter: c, page: first + at(music.starts, i) };
  });
  return { leaves: chapterLeaves(chapter.title, opening, music), places };
}

/** An exercise with its number as a block of music; none where the edition has no line for it. */
function exerciseBlocks(exercise: Exercise, number: number, ground: BodyGround) {
  const { content, setting, space, cached, identity, shapeOf } = ground;
  const { lines, breathing, match } = content;
  const line = lines.get(exercise.id);
  if (!line) return [];
  const breathed = breathing?.exercises.get(exercise.id);
  const from = [identity(line), breathed && identity(breathed), breathing?.ladders, number, space];
  const wanted = [match?.notes.get(exercise.id), match?.systems.get(exercise.id)];
  const block = cached(['exercise', from, wanted], () => musicBlock(content, exercise, line, number, { setting, space }, shapeOf, cached));
  return [{ exercise, number, block }];
}

/** The pages of a chapter, the first of its music on the last of its opening. */
function chapterLeaves(title: string, opening: Opened, music: MusicPages): Leaf[] {
  const [added, ...rest] = music.pages;
  const opened = opening.pages.map(({ kind, items }, i): Leaf => {
    const more = i === opening.pages.length - 1 ? (added?.items ?? []) : [];
    return { matter: { kind, items: [...items, ...more] }, running: i === 0 ? undefined : title, footFolio: i === 0 };
  });
  const following = rest.map(
    (page): Leaf => (page.kind === 'blank' ? plainLeaf(page) : { matter: page, running: title, footFolio: false }),
  );
  return [...opened, ...following];
}
