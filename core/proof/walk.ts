/**
 * The walk through an edition: what each scope offers to the rules, in the order of the pages. Each drawing is drawn once,
 * and only the systems of one exercise are held at a time, so that a large book needs no more memory than a small one.
 */

import { assert } from '../base/issue.js';
import type { Book } from '../book/book.js';
import { pageSize, staffHeight } from '../book/defaults.js';
import { PAGE_SIZES } from '../book/page-size.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Document, Page } from '../layout/page/page.js';
import type { Line } from '../player/line.js';
import { barLength } from '../theory/metre.js';
import { advancesOf } from './advances.js';
import { type ExerciseSummary, summaryOf } from './exercise-summary.js';
import { blockOf, contentsOf, type DrawingItem, type PageContents, type PageSystem, pageSystem } from './placed-page.js';
import type { PlacedDrawing, PlacedExercise, PlacedSystem } from './placed-system.js';
import { breathingOf, type ProvedEdition } from './proved-edition.js';
import { readSystem } from './read-system.js';
import { ratiosOf, replay } from './replay.js';
import type { Offers, Scope } from './rule.js';
import { type SpreadPage, spreadPage } from './spread-page.js';

/** Called with all that a scope offers, each time that the walk has it. */
export type Offer = <S extends Scope>(scope: S, offered: Offers[S]) => void;

/** What is kept of an edition, to be compared with the other parts of its ensemble. */
export type Walked = {
  /** By exercise id. */
  readonly exercises: ReadonlyMap<string, ExerciseSummary>;
  readonly spreads: readonly SpreadPage[];
};

/** The exercises of an edition, system by system as the pages bring them. */
function exerciseWalk(edition: ProvedEdition, fonts: Fonts, offer: Offer) {
  const exercises = new Map<string, ExerciseSummary>();
  let held: { readonly id: string; readonly line: Line; readonly systems: PlacedSystem[]; bars: number } | undefined;

  const close = (): void => {
    if (!held) return;
    const { id, line, systems } = held;
    const spot = { exercise: id, page: systems[0]?.spot.page };
    const exercise: PlacedExercise = { spot, line, systems, unwanted: edition.unwanted?.get(id) };
    const breathing = breathingOf(edition, id);
    const readings = systems.map(({ reading }) => reading);
    const bars = replay(readings, barLength(line.exercise.metre), ratiosOf(line));
    offer('exercise', { exercise, bars, breathing, fonts });
    exercises.set(id, summaryOf(exercise, breathing, fonts));
    held = undefined;
  };

  const open = (id: string) => {
    if (held?.id === id) return held;
    close();
    const line = edition.lines.get(id);
    assert(line, 'every exercise on the pages has its line');
    held = { id, line, systems: [], bars: 0 };
    return held;
  };

  const add = (id: string, drawing: PlacedDrawing): void => {
    const own = open(id);
    const at: PlacedSystem = { ...drawing, firstBar: own.bars, advances: advancesOf(drawing.reading, own.line, fonts) };
    own.systems.push(at);
    own.bars += at.reading.barlines.length;
    offer('drawing', { at, fonts });
    offer('system', { at, fonts });
  };

  return { exercises, add, close };
}

type ExerciseWalk = ReturnType<typeof exerciseWalk>;

/** A drawing of a page, offered as what it is: a system of an exercise, or an example. */
function walkDrawing(document: Document, page: Page, item: DrawingItem, fonts: Fonts, { add }: ExerciseWalk, offer: Offer): PageSystem {
  const { exercise, system = 0, x, y, scale } = item;
  const drawing = item.draw();
  const { x0: left, x1: right } = blockOf(document, page);
  const spot = { page: page.label, ...(exercise === undefined ? {} : { exercise, system }) };
  const at: PlacedDrawing = { spot, reading: readSystem(drawing), firstBar: 0, x, y, scale, left, right };
  if (exercise === undefined) offer('drawing', { at, fonts });
  else add(exercise, at);
  return pageSystem(item, drawing);
}

/** Number of each exercise in its book, by id. */
const bookNumbers = ({ chapters }: Book): ReadonlyMap<string, number> =>
  new Map(chapters.flatMap(({ exercises }) => exercises).map(({ id }, i) => [id, i + 1]));

/** `onPage` is told after each page how many are done. */
export function walkEdition(
  edition: ProvedEdition,
  book: Book,
  fonts: Fonts,
  offer: Offer,
  onPage: (done: number, total: number) => void,
): Walked {
  const { document, spec, part, player } = edition;
  const staff = staffHeight(book, spec);
  const instrument = part ?? player.instrument.name;
  const exercises = exerciseWalk(edition, fonts, offer);
  const pages: PageContents[] = [];
  const spreads: SpreadPage[] = [];
  let numbered = 0;
  document.pages.forEach((page, index) => {
    const drawings = page.items.filter((item) => item.kind === 'drawing');
    const systems = drawings.map((item) => walkDrawing(document, page, item, fonts, exercises, offer));
    const runs = page.items.flatMap((item) => (item.kind === 'text' ? [{ run: item.run, item }] : []));
    const placed = { page, systems, runs };
    const arabic = page.numbering === 'arabic' ? ++numbered : undefined;
    offer('page', { document, placed, staff, arabic, instrument, fonts });
    pages.push(contentsOf(placed));
    spreads.push(spreadPage(document, placed));
    onPage(index + 1, document.pages.length);
  });
  exercises.close();
  const sheet = PAGE_SIZES[pageSize(book, spec)];
  offer('edition', { document, pages, staff, sheet, numbers: part === undefined ? undefined : bookNumbers(book) });
  return { exercises: exercises.exercises, spreads };
}
