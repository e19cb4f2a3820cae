/**
 * The pipeline of an ensemble: exercise by exercise the keys, registers, breaths and systems for all chairs at once; then the
 * pages that all share; then the documents, part by part. What passes between the stages is plain data and small, so that
 * each exercise, each part and the score can be made on a thread of its own.
 */

import { assert, bad, good, type Issue, isError, type Result, under } from '../base/issue.js';
import type { Book } from '../book/book.js';
import type { PrintedBreaths, ReaderBreaths } from '../breath/policy.js';
import { barsOf } from '../engrave/bars.js';
import type { Fonts } from '../engrave/metrics.js';
import { type ScoreShape, shapeScore } from '../engrave/shape.js';
import { ensembleBreathingPage } from '../ensemble/breath-page.js';
import { breatheParts, type CopyBreathing } from '../ensemble/copy-breathing.js';
import type { Chair, Ensemble } from '../ensemble/ensemble.js';
import { type Copy, chairSpec, copiesOf, ensembleExercises, type NumberedExercise } from '../ensemble/ensemble-book.js';
import { type ExercisePlan, planExercise } from '../ensemble/exercise-plan.js';
import { partLine } from '../ensemble/part-lines.js';
import { tempoText } from '../exercise/tempo.js';
import type { EditionContent, Match } from '../layout/edition.js';
import { editionDocument, openingWords, padOpening } from '../layout/edition-pages.js';
import { breathMarks } from '../layout/matter/breathing-pages.js';
import { chapterOpening } from '../layout/matter/text-pages.js';
import { type BlockHeights, blockHeights } from '../layout/music/block-heights.js';
import type { SetSystems } from '../layout/music/exercise-block.js';
import { matchedBreaks, unevenIssues } from '../layout/music/matched-systems.js';
import { musicBlock } from '../layout/music/music-block.js';
import type { SystemBreak } from '../layout/music/systems.js';
import { bodyOf, pagesOn } from '../layout/page/geometry.js';
import { type ChapterHeights, type Fill, matchedFill } from '../layout/page/matched-pages.js';
import type { Document } from '../layout/page/page.js';
import { exercisePaths, pageIssues } from '../layout/page/page-issues.js';
import { BLOCK_AIR } from '../layout/page/page-spread.js';
import { type Sheet, sheetOf } from '../layout/page/sheet.js';
import type { Line } from '../player/line.js';

/** One exercise in one copy, laid out but not yet on a page. */
export type CopyLayout = { readonly systems: SetSystems; readonly heights: BlockHeights; readonly breathing: CopyBreathing | undefined };

/** One exercise for the whole ensemble. Plain data. */
export type ExerciseLayout = { readonly id: string; readonly plan: ExercisePlan; readonly copies: readonly CopyLayout[] };

/** Pages of all chapters, the same in every part. Plain data. */
export type SharedPages = { readonly openings: readonly number[]; readonly fills: readonly Fill[] };

const chairOf = (ensemble: Ensemble, copy: Copy): Chair => ensemble.chairs[copy.chair] as Chair;

const sheetOfChair = (book: Book, chair: Chair, fonts: Fonts): Sheet => sheetOf(book, chairSpec(book, chair), chair.player, fonts);

/** `♩ = 72: by turns, player 2`. */
function footWords(ensemble: Ensemble, copy: Copy, { tempo, marks }: CopyBreathing): string {
  const count = `${marks.length === 0 ? 'no' : marks.length} ${marks.length === 1 ? 'breath' : 'breaths'}`;
  const manner =
    ensemble.breathing.plan === 'together' ? 'all together' : `by turns${copy.player === undefined ? '' : `, player ${copy.player}`}`;
  return `${tempoText(tempo)}: ${count}, ${manner}`;
}

function breathingOf(ensemble: Ensemble, copy: Copy, exercises: ReadonlyMap<string, CopyBreathing>): ReaderBreaths | undefined {
  const [first] = exercises.values();
  const { plan } = ensemble.breathing;
  if (!first || plan === 'none') return undefined;
  const printed = [...exercises].map(([id, own]): [string, PrintedBreaths] => [
    id,
    { marks: own.marks, words: footWords(ensemble, copy, own) },
  ]);
  return {
    lung: first.lung,
    manner: 'in-time',
    added: undefined,
    ladders: true,
    exercises: new Map(printed),
    text: ensembleBreathingPage(plan, first.lung.words),
  };
}

/** Lines of all chairs in one exercise. */
function linesOf(exercise: NumberedExercise['exercise'], ensemble: Ensemble, plan: ExercisePlan): Result<Line[]> {
  const lines: Line[] = [];
  const issues: Issue[] = [];
  ensemble.chairs.forEach((chair, c) => {
    const line = partLine(exercise, chair.player, plan, plan.parts[c] as ExercisePlan['parts'][number]);
    issues.push(...line.issues);
    if (line.ok) lines.push(line.value);
  });
  return issues.some(isError) ? { ok: false, issues } : good(lines, issues);
}

/** The same for copies whose exercise looks the same: chairs of one instrument that play the same notes on the same sheet. */
function pageKey(
  { player, staff, page }: Chair,
  part: ExercisePlan['parts'][number] | undefined,
  breaths: PrintedBreaths | undefined,
): string {
  const { instrument, level, compass, spelling } = player;
  return JSON.stringify([instrument.id, level, compass, spelling, staff, page, part, breaths?.marks, breaths?.words]);
}

/** Stage 1: one exercise for all. Issues with their place in the book. */
export function layOutExercise(book: Book, ensemble: Ensemble, one: NumberedExercise, fonts: Fonts): Result<ExerciseLayout> {
  const { exercise, number, path } = one;
  const planned = planExercise(exercise, ensemble.chairs, ensemble);
  if (!planned.ok) return bad(...under(path, planned.issues));
  const plan = planned.value;
  const lines = linesOf(exercise, ensemble, plan);
  if (!lines.ok) return bad(...under(path, lines.issues));
  const copies = copiesOf(ensemble);
  const breathed = breatheParts(exercise, ensemble, plan, lines.value, copies);
  assert(breathed.ok, 'breaths that cannot be planned are warnings');
  const sheets = ensemble.chairs.map((chair) => sheetOfChair(book, chair, fonts));
  const shapes = new Map<string, ScoreShape>();
  const ready = copies.map((copy, i) => {
    const breathing = breathed.value[i];
    const printed = breathingOf(ensemble, copy, new Map(breathing ? [[exercise.id, breathing]] : []));
    const line = lines.value[copy.chair] as Line;
    const breaths = printed?.exercises.get(exercise.id);
    const page = pageKey(chairOf(ensemble, copy), plan.parts[copy.chair], breaths);
    const shape = shapes.get(page) ?? shapeScore(line, barsOf(line, breathMarks(breaths)), fonts);
    shapes.set(page, shape);
    return { copy, breathing, printed, line, shape, page, sheet: sheets[copy.chair] as Sheet };
  });
  const breaks = matchedBreaks(
    ready.map(({ shape, sheet: { setting, space } }) => ({ shape, spaces: bodyOf(setting.geometry, setting.styles).width / space })),
  );
  const uneven = unevenIssues(
    exercise.title || exercise.id,
    copies.map((copy, i) => ({ name: chairOf(ensemble, copy).name, breaks: breaks[i] as SystemBreak[] })),
  );
  const notes = new Map([[exercise.id, plan.notes]]);
  const alike = new Map<string, Omit<CopyLayout, 'breathing'>>();
  const laidOut = ready.map(({ copy, breathing, printed, line, shape, page, sheet }, i): CopyLayout => {
    const known = alike.get(page);
    if (known) return { ...known, breathing };
    const chair = chairOf(ensemble, copy);
    const systems = new Map([[exercise.id, breaks[i] as SystemBreak[]]]);
    const match: Match = { part: copy.name, systems, openings: [], fills: [], notes };
    const content: EditionContent = {
      book,
      spec: chairSpec(book, chair),
      player: chair.player,
      lines: new Map(),
      breathing: printed,
      match,
    };
    const block = musicBlock(content, exercise, line, number, sheet, () => shape);
    const { systems: set, steps, drawings } = block.block;
    const made = { systems: { systems: set, steps, drawings }, heights: blockHeights(block) };
    alike.set(page, made);
    return { ...made, breathing };
  });
  return good({ id: exercise.id, plan, copies: laidOut }, under(path, [...planned.issues, ...lines.issues, ...breathed.issues, ...uneven]));
}

/** Stage 2: pages that serve all copies. */
export function sharedPages(book: Book, ensemble: Ensemble, layouts: readonly ExerciseLayout[], fonts: Fonts): SharedPages {
  const exercises = ensembleExercises(book, ensemble);
  const copies = copiesOf(ensemble);
  const sheets = ensemble.chairs.map((chair) => sheetOfChair(book, chair, fonts));
  const openings: number[] = [];
  const fills: Fill[] = [];
  let page = 0;
  book.chapters.forEach((chapter, c) => {
    const own = exercises.filter((one) => one.chapter === c).map((one) => layouts.find(({ id }) => id === one.exercise.id));
    if (own.length === 0) {
      openings.push(1);
      fills.push({ pages: [], cuts: [] });
      return;
    }
    if (book.house.chaptersOnRight && page % 2 === 1) page++;
    const settings = sheets.map(({ setting }) => ({ ...setting, geometry: pagesOn(setting.geometry, page) }));
    const opened = settings.map((setting) => chapterOpening(openingWords(chapter, c), setting));
    const pages = Math.max(...opened.map((opening) => opening.pages.length));
    const first = page + pages - 1;
    const chapters = copies.map((copy, i): ChapterHeights => {
      const { setting, space } = sheets[copy.chair] as Sheet;
      const at = { ...setting, geometry: pagesOn(setting.geometry, first) };
      const { end } = padOpening(opened[copy.chair] as ReturnType<typeof chapterOpening>, pages, settings[copy.chair] as Sheet['setting']);
      const top = end + BLOCK_AIR.least * space;
      return {
        blocks: own.map((layout) => layout?.copies[i]?.heights as BlockHeights),
        room: bodyOf(at.geometry, at.styles).height,
        firstRoom: Math.max(0, bodyOf(at.geometry, at.styles, pages === 1).bottom - top),
        scale: space,
      };
    });
    const fill = matchedFill(chapters, first % 2 === 0 ? 'right' : 'left');
    openings.push(pages);
    fills.push(fill);
    page = first + Math.max(1, fill.pages.length);
  });
  return { openings, fills };
}

/** Stage 3: the document of one copy. */
export function buildPart(
  book: Book,
  ensemble: Ensemble,
  layouts: readonly PartLayout[],
  pages: SharedPages,
  copy: Copy,
  fonts: Fonts,
): Result<Document> {
  const chair = chairOf(ensemble, copy);
  const lines = new Map<string, Line>();
  const breathing = new Map<string, CopyBreathing>();
  for (const { exercise } of ensembleExercises(book, ensemble)) {
    const layout = layouts.find(({ id }) => id === exercise.id);
    assert(layout, 'every exercise of the ensemble is laid out');
    const line = partLine(exercise, chair.player, layout.plan, layout.plan.parts[copy.chair] as ExercisePlan['parts'][number]);
    if (!line.ok) return line;
    lines.set(exercise.id, line.value);
    if (layout.copy.breathing) breathing.set(exercise.id, layout.copy.breathing);
  }
  const match: Match = {
    part: copy.name,
    systems: new Map(layouts.map(({ id, copy }) => [id, copy.systems])),
    notes: new Map(layouts.map(({ id, plan }) => [id, plan.notes])),
    ...pages,
  };
  const spec = chairSpec(book, chair);
  const content = { book, spec, player: chair.player, lines, breathing: breathingOf(ensemble, copy, breathing), match };
  const document = editionDocument(content, fonts);
  // What is uneven was told of once for all parts.
  const issues = pageIssues(document, exercisePaths(book)).filter(({ code }) => code !== 'uneven-systems');
  return issues.some(isError) ? { ok: false, issues } : good(document, issues);
}

/** What one copy needs of the layout of an exercise. */
export type PartLayout = { readonly id: string; readonly plan: ExercisePlan; readonly copy: CopyLayout };

export const layoutOfCopy = (layouts: readonly ExerciseLayout[], index: number): PartLayout[] =>
  layouts.map(({ id, plan, copies }) => ({ id, plan, copy: copies[index] as CopyLayout }));
