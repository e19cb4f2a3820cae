/** What is made for people: booklets for the students of a roster, parts and score of an ensemble. */

import { slug } from '../../../core/base/file-name.js';
import type { Issue } from '../../../core/base/issue.js';
import type { Output, OutputResult } from '../../../core/batch/batch.js';
import { layOutEnsemble, partOutputs, scoreOutput } from '../../../core/batch/make-ensemble.js';
import type { Pool } from '../../../core/batch/pool.js';
import type { Job } from '../../../core/batch/work.js';
import type { Book } from '../../../core/book/book.js';
import type { Fonts } from '../../../core/engrave/metrics.js';
import type { Ensemble } from '../../../core/ensemble/ensemble.js';
import { type Copy, copiesOf, type EnsembleBook } from '../../../core/ensemble/ensemble-book.js';
import { assignedTo } from '../../../core/people/assignment.js';
import { bookletStems } from '../../../core/people/booklet-names.js';
import type { Roster } from '../../../core/people/roster.js';
import type { Ask } from '../contract/questions.js';

type Booklets = NonNullable<Ask<'build'>['booklets']>;
type SetAsk = NonNullable<Ask<'build'>['set']>;

/** No names in the labels, which are told while the work goes on. */
export function bookletOutputs(book: Book, roster: Roster, { students, summary }: Booklets): Output[] {
  const stems = bookletStems(book, roster);
  const booklets = students.flatMap((student): Output[] => {
    const stem = stems[student];
    return stem === undefined ? [] : [{ job: { kind: 'booklet', student }, file: `${stem}.pdf`, label: `booklet ${student + 1}` }];
  });
  if (!summary) return booklets;
  const plain = `${slug(book.title)}-summary`;
  // Files in one folder get different names, whatever the students are called.
  const stem = stems.includes(plain) ? `${plain}-of-all` : plain;
  return [...booklets, { job: { kind: 'summary' }, file: `${stem}.pdf`, label: 'summary' }];
}

/** `failed`: all of it where an exercise could not be laid out, or the score where it could not be fitted. */
export type EnsembleOutputs = {
  readonly outputs: readonly Output[];
  readonly failed: readonly OutputResult[];
  readonly issues: readonly Issue[];
};

/** Whether a copy belongs to one of these chairs, which the window names by their places. */
const isOf = ({ chairs }: Ensemble, places: readonly number[]): ((copy: Copy) => boolean) => {
  const wanted = new Set(chairs.filter((_, place) => places.includes(place)));
  return ({ chair }) => wanted.has(chair);
};

export const ensembleFileCount = (ensemble: Ensemble, { chairs, score }: SetAsk): number =>
  copiesOf(ensemble).filter(isOf(ensemble, chairs)).length + (score ? 1 : 0);

/** Exercises in an edition of the book, or in a booklet or on a summary. */
export function exercisesIn(job: Job, book: Book, roster: Roster | undefined): number {
  if (roster && job.kind === 'booklet') return assignedTo(book, roster, job.student).assigned.length;
  if (job.kind === 'summary') return 1;
  return book.chapters.reduce((sum, chapter) => sum + chapter.exercises.length, 0);
}

/** Exercises to be set, copy by copy: once to be laid out and once on pages. */
export const ensembleLoad = ({ exercises, copies }: EnsembleBook): number => 2 * exercises.length * copies.length;

/** How many times `ensembleOutputs` tells of its progress. */
export const ensembleSteps = ({ exercises }: EnsembleBook, { score }: SetAsk): number => exercises.length * (score ? 2 : 1);

/** Lays the exercises out and fits the score; what is left to do are the files. */
export async function ensembleOutputs(
  pool: Pool,
  ensembleBook: EnsembleBook,
  { chairs, score: wantsScore }: SetAsk,
  fonts: Fonts,
  tell: (done: number, words: string) => void,
): Promise<EnsembleOutputs> {
  const exercises = ensembleBook.exercises.length;
  const laidOut = (done: number) => tell(done, `laying out exercise ${done} of ${exercises}`);
  const { layouts, issues } = await layOutEnsemble(pool, ensembleBook, laidOut);
  // Parts from which an exercise is missing are of no use.
  if (layouts.length < exercises)
    return { outputs: [], failed: [{ label: 'parts and score', file: undefined, pages: 0, issues }], issues: [] };
  const parts = partOutputs(ensembleBook, layouts, fonts, isOf(ensembleBook.ensemble, chairs));
  if (!wantsScore) return { outputs: parts, failed: [], issues };
  let set = 0;
  const score = await scoreOutput(pool, ensembleBook, layouts, fonts, () => {
    set++;
    // How often an exercise is set shows only while the size of the staves is sought.
    tell(exercises + Math.min(set, exercises), `setting the score, ${set} exercises`);
  });
  // The score takes longest, so it begins first.
  return 'job' in score ? { outputs: [score, ...parts], failed: [], issues } : { outputs: parts, failed: [score], issues };
}
