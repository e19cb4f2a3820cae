/** The pipeline of a score: the plans of a set → lines of all chairs in score order → pages. */
import type { Book } from './book/book.js';
import type { ExerciseLayout } from './build-ensemble.js';
import type { Score } from './engrave/bar.js';
import { barsOf } from './engrave/bars.js';
import type { Fonts } from './engrave/metrics.js';
import { type StackShape, stackShapes } from './engrave/score-spacing.js';
import { shapeScore } from './engrave/shape.js';
import type { Chair, Ensemble } from './ensemble/ensemble.js';
import { innerGroups, scoreOrder, sections } from './ensemble/score-order.js';
import { type SetExercise, setExercises } from './ensemble/set.js';
import { concertKeys, concertLine, partLine } from './ensemble/set-lines.js';
import type { SetPlan } from './ensemble/set-plan.js';
import type { Exercise } from './exercise/exercise.js';
import { assert, good, type Result, warning } from './issue.js';
import type { Document } from './layout/page.js';
import { type ScoreContent, type ScoreExercise, scoreDocument } from './layout/score-pages.js';
import { sheetOf } from './layout/sheet.js';
import { musicWords, orderWords } from './layout/words.js';
import type { Line } from './player/line.js';

/** What the score needs of the layout of an exercise: its plan, and the marks where all breathe together. */
export type ScorePlan = Pick<ExerciseLayout, 'id' | 'plan'> & {
  readonly together: readonly (ReadonlyMap<number, { parenthesised: boolean }> | undefined)[];
};

/** `together`: by chair, the marks of its first copy, if all breathe at the same places. */
export const scorePlan = ({ id, plan, copies }: ExerciseLayout, ensemble: Ensemble, chairOfCopy: readonly number[]): ScorePlan => ({
  id,
  plan,
  together: ensemble.chairs.map((_, c) => {
    const breathing = ensemble.breathing.plan === 'together' ? copies[chairOfCopy.indexOf(c)]?.breathing : undefined;
    return breathing && new Map(breathing.marks.map((mark) => [mark.afterEvent, { parenthesised: false }]));
  }),
});

/** The exercise as one staff of a score shows it: words of the whole system over the top staff only. */
function forStaff(exercise: Exercise, top: boolean): Exercise {
  const plain = { ...exercise, degreeNumbers: false };
  if (top) return plain;
  const { tempo: _, ...rest } = plain;
  return { ...rest, keyNames: false };
}

function lineOf(exercise: Exercise, book: Book, ensemble: Ensemble, plan: SetPlan, chair: number): Line {
  const { player } = ensemble.chairs[chair] as Chair;
  const part = plan.parts[chair] as SetPlan['parts'][number];
  const line =
    ensemble.score.pitch === 'concert' ? concertLine(exercise, player, plan, part, book.spelling) : partLine(exercise, player, plan, part);
  assert(line.ok, 'a part that is laid out has a line');
  return line.value;
}

/** Concert names over the top staff, whatever it is written in. */
function withConcertNames(score: Score, names: readonly { readonly key: Line['statements'][number]['writtenKey'] }[]): Score {
  return {
    ...score,
    bars: score.bars.map((bar) => ({
      ...bar,
      starts: bar.starts.map((start) => ({ ...start, key: names[start.statement]?.key ?? start.key })),
    })),
  };
}

/** The staves of one exercise in score order: the line of each chair, and its bars as the score shows them. */
export function scoreStaves(
  one: SetExercise,
  book: Book,
  ensemble: Ensemble,
  order: readonly number[],
  { plan, together }: ScorePlan,
): { readonly line: Line; readonly score: Score }[] {
  const keys = concertKeys(one.exercise, plan, book.spelling, (ensemble.chairs[0] as Chair).player).map((key) => ({ key }));
  return order.map((chair, s) => {
    const line = lineOf(forStaff(one.exercise, s === 0), book, ensemble, plan, chair);
    const score = barsOf(line, together[chair] ?? new Map());
    return { line, score: s === 0 ? withConcertNames(score, keys) : score };
  });
}

function shapeOf(one: SetExercise, book: Book, ensemble: Ensemble, order: readonly number[], plan: ScorePlan, fonts: Fonts): StackShape {
  return stackShapes(scoreStaves(one, book, ensemble, order, plan).map(({ line, score }) => shapeScore(line, score, fonts)));
}

function scoreExercise(
  one: SetExercise,
  book: Book,
  ensemble: Ensemble,
  order: readonly number[],
  plan: ScorePlan,
  fonts: Fonts,
): ScoreExercise {
  const { exercise, number, chapter } = one;
  const first = order[0] as number;
  const concert = concertLine(
    exercise,
    (ensemble.chairs[first] as Chair).player,
    plan.plan,
    plan.plan.parts[first] as SetPlan['parts'][number],
    book.spelling,
  );
  assert(concert.ok, 'a part that is laid out has a line');
  return {
    id: exercise.id,
    number: `${number}`,
    title: exercise.title,
    aside: `concert: ${orderWords(concert.value)}`,
    instruction: exercise.instruction,
    notes: plan.plan.notes,
    words: `Score. ${musicWords(`${number}`, concert.value)}`,
    chapter,
    shape: () => shapeOf(one, book, ensemble, order, plan, fonts),
  };
}

/** What a written C sounds: `B♭`; `C, an octave lower`. */
function soundsText({ player: { instrument } }: Chair): string {
  const { semitones } = instrument.transposition;
  if (instrument.pitchedIn) return instrument.pitchedIn;
  return semitones === 0 ? 'C' : semitones > 0 ? `C, ${semitones / 12 > 1 ? 'two octaves' : 'an octave'} higher` : 'C, an octave lower';
}

/**
 * The score of a set. Every plan belongs to an exercise of the set and was made without error. Warning
 * `score-staff-too-large` where the staff that was asked for does not fit the page.
 */
export function buildScore(book: Book, ensemble: Ensemble, plans: readonly ScorePlan[], fonts: Fonts): Result<Document> {
  const order = scoreOrder(ensemble.chairs, ensemble.score.order);
  const chairs = order.map((c) => ensemble.chairs[c] as Chair);
  const exercises = setExercises(book, ensemble).map((one) => {
    const plan = plans.find(({ id }) => id === one.exercise.id);
    assert(plan, 'every exercise of the set is planned');
    return scoreExercise(one, book, ensemble, order, plan, fonts);
  });
  const { score } = ensemble;
  const content: ScoreContent = {
    book,
    ensemble: ensemble.name,
    title: score.pitch === 'concert' ? 'Score in Concert Pitch' : 'Transposed Score',
    staves: {
      names: chairs.map(({ name }) => name),
      shorts: chairs.map(({ short }) => short),
      sections: sections(chairs, score.order),
      groups: innerGroups(chairs),
    },
    instruments: chairs.map((chair) => ({ name: chair.name, players: `${chair.players}`, sounds: soundsText(chair) })),
    exercises,
    staff: score.staff,
  };
  // Type for a reader at a stand, whatever the size of the staves.
  const { setting } = sheetOf(book, { page: score.page, staff: 7, level: 'professional' }, (chairs[0] as Chair).player, fonts);
  const { document, staff } = scoreDocument(content, setting);
  const asked = score.staff ?? staff;
  if (staff > asked - 0.05) return good(document);
  const mm = Math.round(10 * staff) / 10;
  const words = `A staff of ${asked} mm is too large for ${chairs.length} staves on this page, so the score has ${mm} mm; choose a larger page, or a smaller "staff".`;
  return good(document, [warning('score-staff-too-large', ['score', 'staff'], words)]);
}
