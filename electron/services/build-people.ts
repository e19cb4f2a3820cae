/** Booklets for the students of a roster, and the parts and the score of an ensemble, as PDF files. */
import type { Book } from '../../core/book/book.js';
import { bookletStems, buildBooklet, buildSummary } from '../../core/build-booklets.js';
import { buildPart, type ExerciseLayout, fillSet, layOutExercise, layoutOfCopy } from '../../core/build-ensemble.js';
import { buildScore, scorePlan } from '../../core/build-score.js';
import type { Ensemble } from '../../core/ensemble/ensemble.js';
import { copiesOf, setExercises, setStems } from '../../core/ensemble/set.js';
import { slug } from '../../core/file-name.js';
import type { Roster } from '../../core/people/roster.js';
import type { BuildAsk } from './contract.js';
import { type Press, pressPdf } from './press.js';

type Booklets = NonNullable<BuildAsk['booklets']>;
type SetAsk = NonNullable<BuildAsk['set']>;

export const bookletPieces = ({ students, summary }: Booklets): number => students.length + (summary ? 1 : 0);

/** Files in one folder get different names, whatever the students are called. */
const summaryStem = (book: Book, taken: readonly string[]): string => {
  const plain = `${slug(book.title)}-summary`;
  return taken.includes(plain) ? `${plain}-of-all` : plain;
};

export async function pressBooklets(press: Press, book: Book, roster: Roster, ask: Booklets): Promise<void> {
  const stems = bookletStems(book, roster);
  for (const index of ask.students) {
    const student = roster.students[index];
    if (!student) continue;
    // No names in what is told while the work goes on.
    await press.begin(`booklet ${index + 1}`);
    const made = buildBooklet(book, roster, index, ask.date, press.fonts);
    press.issues.push(...made.issues);
    if (made.ok) await pressPdf(press, made.value, `${stems[index]}.pdf`);
  }
  if (!ask.summary) return;
  await press.begin('summary');
  const made = buildSummary(book, roster, ask.date, press.fonts);
  press.issues.push(...made.issues);
  if (made.ok) await pressPdf(press, made.value, `${summaryStem(book, stems)}.pdf`);
}

const chosenCopies = (ensemble: Ensemble, { chairs }: SetAsk) =>
  copiesOf(ensemble).flatMap((copy, index) => (chairs.includes(copy.chair) ? [{ copy, index }] : []));

export const setPieces = (book: Book, ensemble: Ensemble, ask: SetAsk): number =>
  setExercises(book, ensemble).length + chosenCopies(ensemble, ask).length + (ask.score ? 1 : 0);

/** All chairs are laid out, whichever are printed: their systems and pages are the same. */
export async function pressSet(press: Press, book: Book, ensemble: Ensemble, ask: SetAsk): Promise<void> {
  const { fonts, issues } = press;
  const layouts: ExerciseLayout[] = [];
  const exercises = setExercises(book, ensemble);
  for (const one of exercises) {
    await press.begin(one.exercise.title || one.exercise.id);
    const layout = layOutExercise(book, ensemble, one, fonts);
    issues.push(...layout.issues);
    if (layout.ok) layouts.push(layout.value);
  }
  // A set in which an exercise is missing is no set.
  if (layouts.length < exercises.length) return;
  const stems = setStems(book.title, ensemble);
  if (ask.score) {
    await press.begin('score');
    const chairs = copiesOf(ensemble).map(({ chair }) => chair);
    const score = buildScore(
      book,
      ensemble,
      layouts.map((layout) => scorePlan(layout, ensemble, chairs)),
      fonts,
    );
    issues.push(...score.issues);
    if (score.ok) await pressPdf(press, score.value, `${stems.score}.pdf`);
  }
  const pages = fillSet(book, ensemble, layouts, fonts);
  for (const { copy, index } of chosenCopies(ensemble, ask)) {
    await press.begin(copy.name);
    const part = buildPart(book, ensemble, layoutOfCopy(layouts, index), pages, copy, fonts);
    issues.push(...part.issues);
    if (part.ok) await pressPdf(press, part.value, `${stems.parts[index]}.pdf`);
  }
}
