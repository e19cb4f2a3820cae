/** The pipeline of a score: the plans of an ensemble → lines of all chairs in score order → pages. */

import { assert, good, type Result, warning } from '../base/issue.js';
import { type Pt, ptToMm } from '../base/units.js';
import type { Book } from '../book/book.js';
import type { Score } from '../engrave/bar.js';
import { barsOf } from '../engrave/bars.js';
import type { Fonts } from '../engrave/metrics.js';
import { stackShapes } from '../engrave/score-spacing.js';
import { type ScoreShape, shapeScore } from '../engrave/shape.js';
import type { Chair, Ensemble } from '../ensemble/ensemble.js';
import { ensembleExercises, type NumberedExercise } from '../ensemble/ensemble-book.js';
import type { ExercisePlan } from '../ensemble/exercise-plan.js';
import { concertKeys, concertLine, partLine } from '../ensemble/part-lines.js';
import { innerGroups, scoreOrder, sections } from '../ensemble/score-order.js';
import type { Exercise } from '../exercise/exercise.js';
import { type ScoreStaves, type ScoreSystem, scoreSystems } from '../layout/music/score-block.js';
import { musicWords, orderWords } from '../layout/music/words.js';
import { bodyOf, type Setting } from '../layout/page/geometry.js';
import type { Document } from '../layout/page/page.js';
import { sheetOf } from '../layout/page/sheet.js';
import { type FittedScore, fitScore, type ScoreFit } from '../layout/score-fit.js';
import { type ScoreContent, type ScoreExercise, scoreDocument, scoreHeadings } from '../layout/score-pages.js';
import type { Line } from '../player/line.js';
import { intervalWords } from '../theory/interval.js';
import type { ExerciseLayout } from './parts.js';

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

function lineOf(exercise: Exercise, book: Book, ensemble: Ensemble, plan: ExercisePlan, chair: number): Line {
  const { player } = ensemble.chairs[chair] as Chair;
  const part = plan.parts[chair] as ExercisePlan['parts'][number];
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

/** The same for chairs of one instrument that play the same notes. */
const staffKey = ({ player }: Chair, part: ExercisePlan['parts'][number] | undefined, top: boolean, breaths: Score['breaths']): string =>
  JSON.stringify([player.instrument.id, player.level, player.compass, player.spelling, part, top, [...breaths]]);

/**
 * The staves of one exercise in score order: the line of each chair, and its bars as the score shows them. Chairs that play
 * the same share both.
 */
export function scoreStaves(
  one: NumberedExercise,
  book: Book,
  ensemble: Ensemble,
  order: readonly number[],
  { plan, together }: ScorePlan,
): { readonly line: Line; readonly score: Score }[] {
  const keys = concertKeys(one.exercise, plan, book.spelling, (ensemble.chairs[0] as Chair).player).map((key) => ({ key }));
  const known = new Map<string, { readonly line: Line; readonly score: Score }>();
  return order.map((chair, s) => {
    const breaths: Score['breaths'] = together[chair] ?? new Map();
    const key = staffKey(ensemble.chairs[chair] as Chair, plan.parts[chair], s === 0, breaths);
    const alike = known.get(key);
    if (alike) return alike;
    const line = lineOf(forStaff(one.exercise, s === 0), book, ensemble, plan, chair);
    const score = barsOf(line, breaths);
    const staff = { line, score: s === 0 ? withConcertNames(score, keys) : score };
    known.set(key, staff);
    return staff;
  });
}

function scoreExercise(one: NumberedExercise, book: Book, ensemble: Ensemble, order: readonly number[], plan: ScorePlan): ScoreExercise {
  const { exercise, number, chapter } = one;
  const first = order[0] as number;
  const concert = concertLine(
    exercise,
    (ensemble.chairs[first] as Chair).player,
    plan.plan,
    plan.plan.parts[first] as ExercisePlan['parts'][number],
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
  };
}

/** What a written C sounds: `B♭, an octave and a major second lower`. */
function soundsText({ player: { instrument } }: Chair): string {
  const { transposition, pitchedIn = 'C' } = instrument;
  if (transposition.semitones === 0) return pitchedIn;
  return `${pitchedIn}, ${intervalWords(transposition)} ${transposition.semitones < 0 ? 'lower' : 'higher'}`;
}

/** Type for a reader at a stand, whatever the size of the staves. */
function settingOf(book: Book, ensemble: Ensemble, order: readonly number[], fonts: Fonts): Setting {
  const { player } = ensemble.chairs[order[0] as number] as Chair;
  return sheetOf(book, { page: ensemble.score.page, staff: 7, level: 'professional' }, player, fonts).setting;
}

function stavesOf(ensemble: Ensemble, order: readonly number[]): ScoreStaves {
  const chairs = order.map((c) => ensemble.chairs[c] as Chair);
  return {
    names: chairs.map(({ name }) => name),
    shorts: chairs.map(({ short }) => short),
    sections: sections(chairs, ensemble.score.order),
    groups: innerGroups(chairs),
  };
}

const planOf = (plans: readonly ScorePlan[], one: NumberedExercise): ScorePlan => {
  const plan = plans.find(({ id }) => id === one.exercise.id);
  assert(plan, 'every exercise of the ensemble is planned');
  return plan;
};

function contentOf(book: Book, ensemble: Ensemble, plans: readonly ScorePlan[], order: readonly number[]): ScoreContent {
  return {
    book,
    ensemble: ensemble.name,
    title: ensemble.score.pitch === 'concert' ? 'Score in Concert Pitch' : 'Transposed Score',
    staves: stavesOf(ensemble, order),
    instruments: order.map((c) => {
      const chair = ensemble.chairs[c] as Chair;
      return { name: chair.name, players: `${chair.players}`, sounds: soundsText(chair) };
    }),
    exercises: ensembleExercises(book, ensemble).map((one) => scoreExercise(one, book, ensemble, order, planOf(plans, one))),
  };
}

/** One exercise of the score set at so many points per staff space. */
export function setInScore(
  book: Book,
  ensemble: Ensemble,
  one: NumberedExercise,
  plan: ScorePlan,
  scale: Pt,
  fonts: Fonts,
): readonly ScoreSystem[] {
  const order = scoreOrder(ensemble.chairs, ensemble.score.order);
  const { geometry, styles } = settingOf(book, ensemble, order, fonts);
  const shapes = new Map<Score, ScoreShape>();
  const staves = scoreStaves(one, book, ensemble, order, plan);
  for (const { line, score } of staves) {
    if (!shapes.has(score)) shapes.set(score, shapeScore(line, score, fonts));
  }
  const stack = stackShapes(staves.map(({ score }) => shapes.get(score) as ScoreShape));
  return scoreSystems(stack, stavesOf(ensemble, order), bodyOf(geometry, styles).width / scale, fonts);
}

/** How the score is fitted to its pages; whoever drives it sets what it asks for, by `setInScore`. */
export function fittingOf(book: Book, ensemble: Ensemble, plans: readonly ScorePlan[], fonts: Fonts): ScoreFit {
  const order = scoreOrder(ensemble.chairs, ensemble.score.order);
  const setting = settingOf(book, ensemble, order, fonts);
  const content = contentOf(book, ensemble, plans, order);
  return fitScore(scoreHeadings(content, setting), order.length, ensemble.score.staff, setting);
}

/**
 * The score of an ensemble, of its systems as they were fitted. Every plan belongs to an exercise of the ensemble and was made without
 * error. Warning `score-staff-too-large` where the staff that was asked for does not fit the page.
 */
export function fittedScore(
  book: Book,
  ensemble: Ensemble,
  plans: readonly ScorePlan[],
  fitted: FittedScore,
  fonts: Fonts,
): Result<Document> {
  const order = scoreOrder(ensemble.chairs, ensemble.score.order);
  const document = scoreDocument(contentOf(book, ensemble, plans, order), fitted, settingOf(book, ensemble, order, fonts));
  const staff = ptToMm(4 * fitted.scale);
  const asked = ensemble.score.staff ?? staff;
  if (staff > asked - 0.05) return good(document);
  const mm = Math.round(10 * staff) / 10;
  const words = `A staff of ${asked} mm is too large for ${order.length} staves on this page, so the score has ${mm} mm; choose a larger page, or a smaller "staff".`;
  return good(document, [warning('score-staff-too-large', ['score', 'staff'], words)]);
}

/** The systems of the score, all set on this thread. */
export function fitHere(book: Book, ensemble: Ensemble, plans: readonly ScorePlan[], fonts: Fonts): FittedScore {
  const exercises = ensembleExercises(book, ensemble);
  const fit = fittingOf(book, ensemble, plans, fonts);
  let next = fit.next();
  while (!next.done) {
    const { exercises: asked, scale } = next.value;
    const systems = asked.map((index) => {
      const one = exercises[index] as NumberedExercise;
      return setInScore(book, ensemble, one, planOf(plans, one), scale, fonts);
    });
    next = fit.next(systems);
  }
  return next.value;
}

/** The score of an ensemble, all on this thread. */
export const buildScore = (book: Book, ensemble: Ensemble, plans: readonly ScorePlan[], fonts: Fonts): Result<Document> =>
  fittedScore(book, ensemble, plans, fitHere(book, ensemble, plans, fonts), fonts);
