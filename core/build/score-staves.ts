/** The staves of an exercise in a score: the line of each chair in score order, and its bars as the score shows them. */

import { assert, type Result } from '../base/issue.js';
import { at, first } from '../base/list.js';
import type { Score } from '../engrave/bar.js';
import { barsOf } from '../engrave/bars.js';
import type { Chair, Ensemble } from '../ensemble/ensemble.js';
import type { EnsembleBook, NumberedExercise } from '../ensemble/ensemble-book.js';
import { concertKeys, concertLine, partLine } from '../ensemble/part-lines.js';
import type { PartPlan, PlannedPart } from '../ensemble/part-plan.js';
import { scoreOrder } from '../ensemble/score-order.js';
import type { Exercise } from '../exercise/exercise.js';
import type { Line } from '../player/line.js';
import type { Key } from '../theory/key.js';
import type { ExerciseLayout } from './ensemble-layout.js';

/** What one staff of the score needs of a part. */
export type StaffPlan = {
  /** The chair's id. */
  readonly chair: string;
  readonly plan: PartPlan;
  /** Where all breathe together; in a score by turns nobody's breaths are shown. */
  readonly breaths: Score['breaths'];
};

/** What the score needs of the layout of an exercise. Plain data. */
export type ScorePlan = { readonly id: string; readonly staves: readonly StaffPlan[] };

export const scorePlan = ({ id, parts }: ExerciseLayout, { breathing }: Ensemble): ScorePlan => ({
  id,
  staves: parts.map(({ chair, plan, copies }) => {
    const marks = breathing.plan === 'together' ? (copies[0]?.breathing?.marks ?? []) : [];
    return { chair, plan, breaths: new Map(marks.map((mark) => [mark.afterEvent, { parenthesised: false }])) };
  }),
});

/** The chairs from the top staff down. */
export const chairsInScore = ({ chairs, score }: Ensemble): Chair[] => scoreOrder(chairs, score.order).map((index) => at(chairs, index));

/** A part on its staff of the score. */
type Staff = PlannedPart & Pick<StaffPlan, 'breaths'>;

const stavesOf = (ensemble: Ensemble, { staves }: ScorePlan): Staff[] =>
  chairsInScore(ensemble).map((chair) => {
    const own = staves.find((staff) => staff.chair === chair.id);
    assert(own, 'every chair has a staff');
    return { chair, plan: own.plan, breaths: own.breaths };
  });

/** The exercise as one staff of a score shows it: words of the whole system over the top staff only. */
function forStaff(exercise: Exercise, top: boolean): Exercise {
  const plain = { ...exercise, degreeNumbers: false };
  if (top) return plain;
  const { tempo: _, ...rest } = plain;
  return { ...rest, keyNames: false };
}

const lineMade = (line: Result<Line>): Line => {
  assert(line.ok, 'a part that is laid out has a line');
  return line.value;
};

/** Concert names over the top staff, whatever it is written in. */
function withConcertNames(score: Score, keys: readonly Key[]): Score {
  return {
    ...score,
    bars: score.bars.map((bar) => ({
      ...bar,
      starts: bar.starts.map((start) => ({ ...start, key: keys[start.statement] ?? start.key })),
    })),
  };
}

/** The same for chairs of one instrument that play the same notes. */
function lookOf({ chair: { player }, plan, breaths }: Staff, top: boolean): string {
  const { roots, held, level } = plan;
  return JSON.stringify([player.instrument.id, player.level, player.compass, player.spelling, roots, held, level, top, [...breaths]]);
}

export type ScoreStaff = { readonly chair: Chair; readonly line: Line; readonly score: Score };

/** The staves of one exercise from the top down. Chairs that play the same share line and bars. */
export function scoreStaves({ book, ensemble }: EnsembleBook, { exercise }: NumberedExercise, plan: ScorePlan): ScoreStaff[] {
  const staves = stavesOf(ensemble, plan);
  const keys = concertKeys(exercise, first(staves).plan.shared, book.spelling, first(ensemble.chairs).player);
  const known = new Map<string, Pick<ScoreStaff, 'line' | 'score'>>();
  return staves.map((staff, s): ScoreStaff => {
    const top = s === 0;
    const look = lookOf(staff, top);
    const alike = known.get(look);
    if (alike) return { chair: staff.chair, ...alike };
    const own = forStaff(exercise, top);
    const line = lineMade(ensemble.score.pitch === 'concert' ? concertLine(own, staff, book.spelling) : partLine(own, staff));
    const score = barsOf(line, staff.breaths);
    const made = { line, score: top ? withConcertNames(score, keys) : score };
    known.set(look, made);
    return { chair: staff.chair, ...made };
  });
}

/** For the heading: the line whose keys it names, that of the top staff at concert pitch; and the notes of all parts. */
export function scoreHead(
  { book, ensemble }: EnsembleBook,
  { exercise }: NumberedExercise,
  plan: ScorePlan,
): { readonly line: Line; readonly notes: readonly string[] } {
  const top = first(stavesOf(ensemble, plan));
  return { line: lineMade(concertLine(exercise, top, book.spelling)), notes: top.plan.shared.notes };
}
