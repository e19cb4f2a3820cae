/**
 * An ensemble as pieces for exchange: the parts as each player's copy shows them, and the score as it is printed, with the systems
 * and pages of the printed ones; and a performance of each exercise with one voice a chair, which breathes as its copy says.
 */

import { assert, bad, good, type Result, under } from '../base/issue.js';
import { ptToMm } from '../base/units.js';
import type { Book } from '../book/book.js';
import { pageSize, staffHeight } from '../book/defaults.js';
import { PAGE_SIZES } from '../book/page-size.js';
import { heardMarks } from '../breath/policy.js';
import type { PartLayout } from '../build/parts.js';
import { type ScorePlan, scoreStaves } from '../build/score.js';
import { barsOf } from '../engrave/bars.js';
import { breatheParts, breathTempo } from '../ensemble/copy-breathing.js';
import type { Chair, Ensemble } from '../ensemble/ensemble.js';
import { type Copy, chairSpec, copiesOf, ensembleExercises, type NumberedExercise } from '../ensemble/ensemble-book.js';
import { type ExercisePlan, planExercise } from '../ensemble/exercise-plan.js';
import { partLine } from '../ensemble/part-lines.js';
import { groupName, innerGroups, scoreOrder, sectionOf, sections } from '../ensemble/score-order.js';
import { tempoIssues, tempoOf } from '../exercise/tempo.js';
import { breathMarks } from '../layout/matter/breathing-pages.js';
import type { Document } from '../layout/page/page.js';
import type { Breaks } from '../output/breaks.js';
import type { MusicXmlInfo, PaperSize } from '../output/musicxml/musicxml.js';
import type { Piece, StaffGroup } from '../output/piece.js';
import { type Performance, type PerformanceOptions, perform } from '../output/sound/performance.js';
import type { Line } from '../player/line.js';

/** By the exercise's id: where systems and pages begin. */
export type ExerciseBreaks = ReadonlyMap<string, Breaks>;

function lineIn(plan: ExercisePlan, { exercise }: NumberedExercise, ensemble: Ensemble, chair: number): Line {
  const { player } = ensemble.chairs[chair] as Chair;
  const line = partLine(exercise, player, plan, plan.parts[chair] as ExercisePlan['parts'][number]);
  assert(line.ok, 'a part that is planned has a line');
  return line.value;
}

/** Pieces of one staff: what stands in this copy, with its player's breath marks. `layouts` are those of the copy. */
export function partPieces(book: Book, ensemble: Ensemble, layouts: readonly PartLayout[], copy: Copy, breaks: ExerciseBreaks): Piece[] {
  const { short } = ensemble.chairs[copy.chair] as Chair;
  return ensembleExercises(book, ensemble).flatMap((one): Piece[] => {
    const layout = layouts.find(({ id }) => id === one.exercise.id);
    if (!layout) return [];
    const line = lineIn(layout.plan, one, ensemble, copy.chair);
    const marks = layout.copy.breathing?.marks;
    const score = barsOf(line, breathMarks(marks && { marks }));
    return [{ title: one.exercise.title, lines: [{ line, score, part: { name: copy.name, short } }], ...breaks.get(one.exercise.id) }];
  });
}

/** Pieces of all staves, in the order and the pitch of the ensemble's score. */
export function scorePieces(book: Book, ensemble: Ensemble, plans: readonly ScorePlan[], breaks: ExerciseBreaks): Piece[] {
  const order = scoreOrder(ensemble.chairs, ensemble.score.order);
  return ensembleExercises(book, ensemble).flatMap((one): Piece[] => {
    const plan = plans.find(({ id }) => id === one.exercise.id);
    if (!plan) return [];
    const lines = scoreStaves(one, book, ensemble, order, plan).map((own, s) => {
      const { name, short } = ensemble.chairs[order[s] as number] as Chair;
      return { ...own, part: { name, short } };
    });
    return [{ title: one.exercise.title, lines, ...breaks.get(one.exercise.id) }];
  });
}

/** What a file of the score tells beside its notes: brackets, and how the parts of a concert score are transposed. */
export function scoreInfo(ensemble: Ensemble): Pick<MusicXmlInfo, 'groups' | 'concert'> {
  const { order, pitch } = ensemble.score;
  const chairs = scoreOrder(ensemble.chairs, order).map((c) => ensemble.chairs[c] as Chair);
  const groups: StaffGroup[] = [
    ...sections(chairs, order).map((span): StaffGroup => {
      const { player } = chairs[span.from] as Chair;
      return { ...span, name: groupName(sectionOf(player.instrument, order)), kind: 'section' };
    }),
    ...innerGroups(chairs).map((span): StaffGroup => {
      const { group, player } = chairs[span.from] as Chair;
      // A group that nobody named is that of an instrument.
      const name = group === player.instrument.id ? player.instrument.name : groupName(group);
      return { ...span, name, kind: 'group' };
    }),
  ];
  return { groups, ...(pitch === 'concert' ? { concert: chairs.map(({ player }) => player.instrument) } : {}) };
}

/** Paper and staff of a chair's part. */
export function partPaper(book: Book, chair: Chair): PaperSize {
  const spec = chairSpec(book, chair);
  return { ...PAGE_SIZES[pageSize(book, spec)], margins: book.house.margins, staff: staffHeight(book, spec) };
}

/** Paper of a finished score, and the staff that it was given. */
export function scorePaper(book: Book, ensemble: Ensemble, { pages }: Pick<Document, 'pages'>): PaperSize {
  const scale = pages.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'drawing' ? [item.scale] : [])))[0];
  assert(scale !== undefined, 'a score has music');
  const page = ensemble.score.page ?? book.house.page;
  return { ...PAGE_SIZES[page], margins: book.house.margins, staff: Math.round(100 * ptToMm(4 * scale)) / 100 };
}

export type EnsembleSound = Pick<PerformanceOptions, 'countIn' | 'click'> & {
  /** Beats a minute; those at which the copies' breaths are printed when not said, 80 where nothing names a tempo. */
  readonly bpm?: number | undefined;
};

/**
 * One exercise as these chairs sound together, in their order, each with the breaths that its copy shows at this tempo. A
 * chair whose players breathe by turns sounds through: while one of them breathes, the others play. Issues with their place
 * in the book; what cannot be breathed is a warning and sounds without breaths.
 */
export function ensemblePerformances(
  ensemble: Ensemble,
  one: NumberedExercise,
  chairs: readonly number[],
  options: EnsembleSound = {},
): Result<readonly Performance[]> {
  const { exercise, path } = one;
  const { bpm, ...rest } = options;
  const asked: Ensemble = {
    ...ensemble,
    breathing: { ...ensemble.breathing, tempo: bpm ?? ensemble.breathing.tempo ?? tempoOf(exercise).bpm },
  };
  const tempo = breathTempo(exercise, asked);
  assert(tempo, 'a tempo is named');
  const wrong = tempoIssues(tempo);
  if (wrong.length > 0) return bad(...wrong);
  const plan = planExercise(exercise, ensemble.chairs, ensemble);
  if (!plan.ok) return bad(...under(path, plan.issues));
  const lines: Line[] = [];
  for (const [chair, { player }] of ensemble.chairs.entries()) {
    const line = partLine(exercise, player, plan.value, plan.value.parts[chair] as ExercisePlan['parts'][number]);
    if (!line.ok) return bad(...under(path, line.issues));
    lines.push(line.value);
  }
  const copies = copiesOf(ensemble);
  const breathed = breatheParts(exercise, asked, plan.value, lines, copies);
  assert(breathed.ok, 'breaths that cannot be planned are warnings');
  const runs: Performance[] = [];
  for (const chair of chairs) {
    const line = lines[chair] as Line;
    const own = copies.flatMap((copy, i) => (copy.chair === chair ? [breathed.value[i]] : []));
    const breathing = own.length === 1 ? own[0] : undefined;
    const run = perform(line, { ...rest, tempo, ...(breathing ? { breaths: heardMarks(line, breathing) } : {}) });
    if (!run.ok) return run;
    runs.push(run.value);
  }
  return good(runs, under(path, [...plan.issues, ...breathed.issues]));
}
