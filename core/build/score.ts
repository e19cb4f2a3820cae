/** The pipeline of a score: the plans of an ensemble's exercises → lines of all chairs in score order → pages. */

import { assert, good, type Result, warning } from '../base/issue.js';
import { first, mustGet } from '../base/list.js';
import { type Pt, ptToMm } from '../base/units.js';
import type { Score } from '../engrave/bar.js';
import type { Fonts } from '../engrave/metrics.js';
import { stackShapes } from '../engrave/score-spacing.js';
import { type ScoreShape, shapeScore } from '../engrave/shape.js';
import type { Chair, Ensemble } from '../ensemble/ensemble.js';
import { type EnsembleBook, type NumberedExercise, ofExercise } from '../ensemble/ensemble-book.js';
import { innerGroups, sections } from '../ensemble/score-order.js';
import { type ScoreStaves, type ScoreSystem, scoreSystems } from '../layout/music/score-block.js';
import { musicWords, orderWords } from '../layout/music/words.js';
import { bodyOf, type Setting } from '../layout/page/geometry.js';
import type { Document } from '../layout/page/page.js';
import { sheetOf } from '../layout/page/sheet.js';
import { type FittedScore, fitScore, type ScoreFit } from '../layout/score-fit.js';
import { type ScoreContent, type ScoreExercise, scoreDocument, scoreHeadings } from '../layout/score-pages.js';
import { intervalWords } from '../theory/interval.js';
import { chairsInScore, type ScorePlan, scoreHead, scoreStaves } from './score-staves.js';

function scoreExercise(ensembleBook: EnsembleBook, one: NumberedExercise, plan: ScorePlan): ScoreExercise {
  const { exercise, chapter } = one;
  const number = `${one.number}`;
  const { line, notes } = scoreHead(ensembleBook, one, plan);
  return {
    id: exercise.id,
    number,
    title: exercise.title,
    aside: `concert: ${orderWords(line)}`,
    instruction: exercise.instruction,
    notes,
    words: `Score. ${musicWords(number, line)}`,
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
function settingOf({ book, ensemble }: EnsembleBook, fonts: Fonts): Setting {
  const { player } = first(chairsInScore(ensemble));
  return sheetOf(book, { page: ensemble.score.page, staff: 7, level: 'professional' }, player, fonts).setting;
}

function stavesOf(ensemble: Ensemble): ScoreStaves {
  const chairs = chairsInScore(ensemble);
  return {
    names: chairs.map(({ name }) => name),
    shorts: chairs.map(({ short }) => short),
    sections: sections(chairs, ensemble.score.order),
    groups: innerGroups(chairs),
  };
}

function contentOf(ensembleBook: EnsembleBook, plans: readonly ScorePlan[]): ScoreContent {
  const { book, ensemble, exercises } = ensembleBook;
  return {
    book,
    ensemble: ensemble.name,
    title: ensemble.score.pitch === 'concert' ? 'Score in Concert Pitch' : 'Transposed Score',
    staves: stavesOf(ensemble),
    instruments: chairsInScore(ensemble).map((chair) => ({ name: chair.name, players: `${chair.players}`, sounds: soundsText(chair) })),
    exercises: exercises.map((one) => scoreExercise(ensembleBook, one, ofExercise(plans, one))),
  };
}

/** One exercise of the score set at so many points per staff space. */
export function setInScore(ensembleBook: EnsembleBook, plan: ScorePlan, scale: Pt, fonts: Fonts): readonly ScoreSystem[] {
  const one = ensembleBook.exercises.find(({ exercise }) => exercise.id === plan.id);
  assert(one, 'the ensemble plays this exercise');
  const { geometry, styles } = settingOf(ensembleBook, fonts);
  const shapes = new Map<Score, ScoreShape>();
  const stack = stackShapes(
    scoreStaves(ensembleBook, one, plan).map(({ line, score }) => {
      const shape = shapes.get(score) ?? shapeScore(line, score, fonts);
      shapes.set(score, shape);
      return shape;
    }),
  );
  return scoreSystems(stack, stavesOf(ensembleBook.ensemble), bodyOf(geometry, styles).width / scale, fonts);
}

/** How the score is fitted to its pages; whoever drives it sets what it asks for, by `setInScore`. */
export function fittingOf(ensembleBook: EnsembleBook, plans: readonly ScorePlan[], fonts: Fonts): ScoreFit {
  const { chairs, score } = ensembleBook.ensemble;
  const setting = settingOf(ensembleBook, fonts);
  return fitScore(scoreHeadings(contentOf(ensembleBook, plans), setting), chairs.length, score.staff, setting);
}

/**
 * The score of an ensemble, of its systems as they were fitted. Every exercise has its plan, which was made without error.
 * Warning `score-staff-too-large` where the staff that was asked for does not fit the page.
 */
export function fittedScore(ensembleBook: EnsembleBook, plans: readonly ScorePlan[], fitted: FittedScore, fonts: Fonts): Result<Document> {
  const { chairs, score } = ensembleBook.ensemble;
  const document = scoreDocument(contentOf(ensembleBook, plans), fitted, settingOf(ensembleBook, fonts));
  const staff = ptToMm(4 * fitted.scale);
  const asked = score.staff ?? staff;
  if (staff > asked - 0.05) return good(document);
  const mm = Math.round(10 * staff) / 10;
  const words = `A staff of ${asked} mm is too large for ${chairs.length} staves on this page, so the score has ${mm} mm; choose a larger page, or a smaller "staff".`;
  return good(document, [warning('score-staff-too-large', ['score', 'staff'], words)]);
}

/** The systems of the score, all set on this thread. */
export function fitHere(ensembleBook: EnsembleBook, plans: readonly ScorePlan[], fonts: Fonts): FittedScore {
  const byId = new Map(plans.map((plan) => [plan.id, plan]));
  const fit = fittingOf(ensembleBook, plans, fonts);
  let next = fit.next();
  while (!next.done) {
    const { exercises, scale } = next.value;
    next = fit.next(new Map(exercises.map((id) => [id, setInScore(ensembleBook, mustGet(byId, id), scale, fonts)])));
  }
  return next.value;
}

/** The score of an ensemble, all on this thread. */
export const buildScore = (ensembleBook: EnsembleBook, plans: readonly ScorePlan[], fonts: Fonts): Result<Document> =>
  fittedScore(ensembleBook, plans, fitHere(ensembleBook, plans, fonts), fonts);
