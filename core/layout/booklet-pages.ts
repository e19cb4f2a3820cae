/** One student's booklet: cover, assignments, the exercises with the book's own numbers, tempo ladders and practice record. */
import { BREATHING_TITLE } from '../breath/page.js';
import type { Assigned } from '../people/assignment.js';
import type { Line } from '../player/line.js';
import type { EditionContent, Leaf } from './edition.js';
import { exerciseAnchor } from './edition.js';
import { finish } from './edition-pages.js';
import {
  assignments,
  type BookletContent,
  dateWords,
  keysOf,
  ladders,
  listPages,
  NAMED,
  playable,
  records,
} from './matter/booklet-lists.js';
import { breathingPages, breathMarks } from './matter/breathing-pages.js';
import { shortened } from './matter/furniture.js';
import { titlePage } from './matter/title-page.js';
import { shapeCache } from './music/exercise-block.js';
import { musicBlock } from './music/music-block.js';
import { bodyOf, type MatterPage, pagesOn, type Setting } from './page/geometry.js';
import { musicPages } from './page/music-pages.js';
import type { Document, OutlineEntry } from './page/page.js';
import type { Sheet } from './page/sheet.js';

/** The line as its heading names it: a few keys by their names, whatever order they come from. */
const named = (line: Line, { restricted }: Assigned): Line =>
  restricted && keysOf(line).length <= NAMED
    ? { ...line, exercise: { ...line.exercise, order: { ...line.exercise.order, name: 'custom' } } }
    : line;

type Assembled = { readonly leaves: Leaf[]; readonly outline: OutlineEntry[] };

/** The exercises of the student under their numbers in the book. */
function addMusic({ leaves, outline }: Assembled, content: BookletContent, running: string, sheet: Sheet): void {
  const { book, spec, student, lines, breathing } = content;
  const { setting } = sheet;
  const exercises = playable(content);
  const edition: EditionContent = { book, spec, player: student.player, lines, breathing };
  const shapeOf = shapeCache(setting.fonts, (line) => breathMarks(breathing?.exercises.get(line.exercise.id)));
  const blocks = exercises.map(({ own, line }) => musicBlock(edition, own.exercise, named(line, own), own.number, sheet, shapeOf));
  const music = musicPages(blocks, { ...setting, geometry: pagesOn(setting.geometry, leaves.length) }, undefined);
  leaves.push(...music.pages.map((matter): Leaf => ({ matter, running: matter.kind === 'blank' ? undefined : running, footFolio: false })));
  for (const { own } of exercises)
    outline.push({ title: `${own.number}  ${own.exercise.title}`, anchor: exerciseAnchor(own.exercise.id), children: [] });
}

/** All pages of a booklet in their order, and where its parts begin. */
function assembled(content: BookletContent, sheet: Sheet): Assembled {
  const { book, student, breathing } = content;
  const { setting } = sheet;
  const { geometry, styles, fonts } = setting;
  const instrument = student.player.instrument.name;
  const leaves: Leaf[] = [];
  const outline: OutlineEntry[] = [];
  const running = shortened(student.name, 0.4 * bodyOf(geometry, styles).width, styles['running-head'], fonts)
    .map((span) => span.text)
    .join('');
  const at = (): Setting => ({ ...setting, geometry: pagesOn(geometry, leaves.length) });
  const add = (title: string, anchor: string, pages: readonly MatterPage[]): void => {
    if (pages.length === 0) return;
    leaves.push(...pages.map((matter): Leaf => ({ matter, running, footFolio: false })));
    outline.push({ title, anchor, children: [] });
  };
  const words = { title: student.name, subtitle: book.title, instrument, author: content.title, publisher: dateWords(content.date) };
  leaves.push({ matter: { ...titlePage(words, at()), kind: 'cover' }, running: undefined, footFolio: false });
  add('Assignments', 'assignments', listPages([assignments(content), ladders(content)], at()));
  addMusic({ leaves, outline }, content, running, sheet);
  add('Practice Record', 'practice-record', listPages(records(content), at()));
  if (breathing) add(BREATHING_TITLE, 'breathing', breathingPages(breathing, instrument, at()));
  return { leaves, outline };
}

/** Nothing about the student stands in the document's information: only on its pages. */
export function bookletDocument(content: BookletContent, sheet: Sheet): Document {
  const { book, student } = content;
  const { width, height, margins } = sheet.setting.geometry;
  const instrument = student.player.instrument.name;
  const { leaves, outline } = assembled(content, sheet);
  return {
    width,
    height,
    margins,
    bleed: 0,
    cropMarks: false,
    pages: finish(leaves, 'arabic', 0, sheet.setting, instrument, book.title),
    outline,
    info: {
      title: `${book.title} – ${instrument}`,
      author: book.author,
      subject: book.subtitle,
      keywords: `${instrument}, technique, exercises in all keys`,
      language: book.language,
      date: book.date,
    },
  };
}
