/**
 * An ensemble's parts and score as pieces for exchange: the parts as each player's copy shows them, the score as it is
 * printed, with the systems and pages of the printed ones.
 */

import { assert } from '../base/issue.js';
import { at } from '../base/list.js';
import { ptToMm } from '../base/units.js';
import type { Book } from '../book/book.js';
import { pageSize, staffHeight } from '../book/defaults.js';
import { PAGE_SIZES } from '../book/page-size.js';
import type { CopyContent } from '../build/part.js';
import { chairsInScore, type ScorePlan, scoreStaves } from '../build/score-staves.js';
import { barsOf } from '../engrave/bars.js';
import type { Chair, Ensemble } from '../ensemble/ensemble.js';
import { chairSpec, type EnsembleBook } from '../ensemble/ensemble-book.js';
import { partLine } from '../ensemble/part-lines.js';
import { groupName, innerGroups, sectionOf, sections } from '../ensemble/score-order.js';
import { breathMarks } from '../layout/matter/breathing-pages.js';
import type { Document } from '../layout/page/page.js';
import type { Breaks } from '../output/breaks.js';
import type { MusicXmlInfo, PaperSize } from '../output/musicxml/musicxml.js';
import type { NotatedExercise, StaffGroup } from '../output/notated-exercise.js';

/** By the exercise's id: where systems and pages begin. */
export type ExerciseBreaks = ReadonlyMap<string, Breaks>;

/** Pieces of one staff: what stands in this copy, with its player's breath marks. */
export function partPieces(ensembleBook: EnsembleBook, { copy, exercises }: CopyContent, breaks: ExerciseBreaks): NotatedExercise[] {
  const { chair, name } = copy;
  return ensembleBook.exercises.flatMap(({ exercise }): NotatedExercise[] => {
    const own = exercises.find(({ id }) => id === exercise.id);
    if (!own) return [];
    const line = partLine(exercise, { chair, plan: own.plan });
    assert(line.ok, 'a part that is planned has a line');
    const marks = own.breathing?.marks;
    const score = barsOf(line.value, breathMarks(marks && { marks }));
    const part = { name, short: chair.short };
    return [{ title: exercise.title, lines: [{ line: line.value, score, part }], ...breaks.get(exercise.id) }];
  });
}

/** Pieces of all staves, in the order and the pitch of the ensemble's score. */
export function scorePieces(ensembleBook: EnsembleBook, plans: readonly ScorePlan[], breaks: ExerciseBreaks): NotatedExercise[] {
  return ensembleBook.exercises.flatMap((one): NotatedExercise[] => {
    const { id, title } = one.exercise;
    const plan = plans.find((own) => own.id === id);
    if (!plan) return [];
    const lines = scoreStaves(ensembleBook, one, plan).map(({ line, score, chair: { name, short } }) => ({
      line,
      score,
      part: { name, short },
    }));
    return [{ title, lines, ...breaks.get(id) }];
  });
}

/** What a file of the score tells beside its notes: brackets, and how the parts of a concert score are transposed. */
export function scoreInfo(ensemble: Ensemble): Pick<MusicXmlInfo, 'groups' | 'concert'> {
  const { order, pitch } = ensemble.score;
  const chairs = chairsInScore(ensemble);
  const groups: StaffGroup[] = [
    ...sections(chairs, order).map((span): StaffGroup => {
      const { player } = at(chairs, span.from);
      return { ...span, name: groupName(sectionOf(player.instrument, order)), kind: 'section' };
    }),
    ...innerGroups(chairs).map((span): StaffGroup => {
      const { group, player } = at(chairs, span.from);
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
export function scorePaper({ book, ensemble }: EnsembleBook, { pages }: Pick<Document, 'pages'>): PaperSize {
  const scale = pages.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'drawing' ? [item.scale] : [])))[0];
  assert(scale !== undefined, 'a score has music');
  const page = ensemble.score.page ?? book.house.page;
  return { ...PAGE_SIZES[page], margins: book.house.margins, staff: Math.round(100 * ptToMm(4 * scale)) / 100 };
}
