/**
 * The first stage of an ensemble's parts: exercise by exercise the keys, registers, breaths and systems for all chairs at
 * once. What comes of it is plain data and small, so that each exercise can be laid out on a thread of its own.
 */

import { assert, bad, good, type Result, under } from '../base/issue.js';
import type { Book } from '../book/book.js';
import { barsOf } from '../engrave/bars.js';
import type { Fonts } from '../engrave/metrics.js';
import { type ScoreShape, shapeScore } from '../engrave/shape.js';
import { type BreathedCopy, type BreathedPart, breatheParts, type CopyBreathing } from '../ensemble/copy-breathing.js';
import type { Chair } from '../ensemble/ensemble.js';
import { type Copy, chairSpec, type EnsembleBook, type NumberedExercise } from '../ensemble/ensemble-book.js';
import { planExercise } from '../ensemble/exercise-plan.js';
import { playedParts } from '../ensemble/part-lines.js';
import type { PartPlan } from '../ensemble/part-plan.js';
import { breathMarks } from '../layout/matter/breathing-pages.js';
import { type BlockHeights, blockHeights } from '../layout/music/block-heights.js';
import type { SetSystems } from '../layout/music/exercise-block.js';
import { matchedBreaks, unevenIssues } from '../layout/music/matched-systems.js';
import { musicBlock } from '../layout/music/music-block.js';
import type { SystemBreak } from '../layout/music/systems.js';
import { bodyOf } from '../layout/page/geometry.js';
import { type Sheet, sheetOf } from '../layout/page/sheet.js';
import { type PartBreathing, partBreathing } from './part-breaths.js';

/** One exercise in one copy, laid out but not yet on a page. */
export type CopyLayout = {
  /** The copy's id. */
  readonly copy: string;
  readonly systems: SetSystems;
  readonly heights: BlockHeights;
  readonly breathing: CopyBreathing | undefined;
};

/** One exercise in one part, with the copies of the part. */
export type PartLayout = {
  /** The chair's id. */
  readonly chair: string;
  readonly plan: PartPlan;
  readonly copies: readonly CopyLayout[];
};

/** One exercise in all parts. */
export type ExerciseLayout = { readonly id: string; readonly parts: readonly PartLayout[] };

/** What one copy has of an exercise, whose id this is. */
export type CopyExercise = Omit<CopyLayout, 'copy'> & { readonly id: string; readonly plan: PartPlan };

/** What a copy has of each exercise. */
export function copyExercises(layouts: readonly ExerciseLayout[], copy: Copy): CopyExercise[] {
  return layouts.map(({ id, parts }) => {
    const part = parts.find(({ chair }) => chair === copy.chair.id);
    const layout = part?.copies.find((one) => one.copy === copy.id);
    assert(part && layout, 'every exercise is laid out for every copy');
    const { systems, heights, breathing } = layout;
    return { id, plan: part.plan, systems, heights, breathing };
  });
}

export const chairSheet = (book: Book, chair: Chair, fonts: Fonts): Sheet => sheetOf(book, chairSpec(book, chair), chair.player, fonts);

/** A copy of an exercise, ready to be broken into systems; `spaces` is their width. */
type ShapedCopy = BreathedCopy & {
  readonly part: BreathedPart;
  readonly sheet: Sheet;
  readonly spaces: number;
  readonly printed: PartBreathing | undefined;
  readonly shape: ScoreShape;
  /** The same for copies that look the same. */
  readonly look: string;
};

/** Chairs of one instrument that play the same notes on the same sheet have copies that look the same. */
function lookOf({ chair, plan }: BreathedPart, id: string, printed: PartBreathing | undefined): string {
  const { player, staff, page } = chair;
  const { instrument, level, compass, spelling } = player;
  const breaths = printed?.exercises.get(id);
  const { roots, held, level: planned } = plan;
  return JSON.stringify([instrument.id, level, compass, spelling, staff, page, roots, held, planned, breaths?.marks, breaths?.words]);
}

function shapeCopies({ book, ensemble }: EnsembleBook, id: string, parts: readonly BreathedPart[], fonts: Fonts): ShapedCopy[] {
  const shapes = new Map<string, ScoreShape>();
  return parts.flatMap((part) => {
    const sheet = chairSheet(book, part.chair, fonts);
    const { setting, space } = sheet;
    const spaces = bodyOf(setting.geometry, setting.styles).width / space;
    return part.copies.map(({ copy, breathing }): ShapedCopy => {
      const printed = partBreathing(ensemble, copy, [{ id, breathing }]);
      const look = lookOf(part, id, printed);
      const shape = shapes.get(look) ?? shapeScore(part.line, barsOf(part.line, breathMarks(printed?.exercises.get(id))), fonts);
      shapes.set(look, shape);
      return { part, copy, breathing, sheet, spaces, printed, shape, look };
    });
  });
}

type BrokenCopy = ShapedCopy & { readonly breaks: readonly SystemBreak[] };

function layOutCopy(book: Book, { exercise, number }: NumberedExercise, copy: BrokenCopy): Pick<CopyLayout, 'systems' | 'heights'> {
  const { chair, line, plan } = copy.part;
  const match = {
    part: copy.copy.name,
    systems: new Map([[exercise.id, copy.breaks]]),
    openings: [],
    fills: [],
    notes: new Map([[exercise.id, plan.shared.notes]]),
  };
  const content = { book, spec: chairSpec(book, chair), player: chair.player, lines: new Map(), breathing: copy.printed, match };
  const block = musicBlock(content, exercise, line, number, copy.sheet, () => copy.shape);
  const { systems, steps, drawings } = block.block;
  return { systems: { systems, steps, drawings }, heights: blockHeights(block) };
}

/** What looks the same is laid out once. */
function layOutParts(book: Book, one: NumberedExercise, parts: readonly BreathedPart[], copies: readonly BrokenCopy[]): PartLayout[] {
  const known = new Map<string, Pick<CopyLayout, 'systems' | 'heights'>>();
  return parts.map((part): PartLayout => {
    const own = copies.filter((copy) => copy.part === part);
    const laidOut = own.map((copy): CopyLayout => {
      const layout = known.get(copy.look) ?? layOutCopy(book, one, copy);
      known.set(copy.look, layout);
      return { copy: copy.copy.id, ...layout, breathing: copy.breathing };
    });
    return { chair: part.chair.id, plan: part.plan, copies: laidOut };
  });
}

/** One exercise for all. Issues with their place in the book. */
export function layOutExercise(ensembleBook: EnsembleBook, one: NumberedExercise, fonts: Fonts): Result<ExerciseLayout> {
  const { exercise, path } = one;
  const { id, title } = exercise;
  const planned = planExercise(exercise, ensembleBook.ensemble);
  if (!planned.ok) return bad(...under(path, planned.issues));
  const played = playedParts(exercise, planned.value.parts);
  if (!played.ok) return bad(...under(path, played.issues));
  const breathed = breatheParts(exercise, ensembleBook.ensemble, played.value);
  assert(breathed.ok, 'breaths that cannot be planned are warnings');
  const copies = matchedBreaks(shapeCopies(ensembleBook, id, breathed.value, fonts));
  const uneven = unevenIssues(
    title || id,
    copies.map(({ part, breaks }) => ({ name: part.chair.name, breaks })),
  );
  const parts = layOutParts(ensembleBook.book, one, breathed.value, copies);
  return good({ id, parts }, under(path, [...planned.issues, ...played.issues, ...breathed.issues, ...uneven]));
}
