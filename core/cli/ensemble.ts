/** `twelvefold ensemble`: matched parts and a score for the chairs of an ensemble. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { type Output, type OutputResult, outputFailed } from '../batch/batch.js';
import { fitScoreOn } from '../batch/fit-score.js';
import { JobFailure, type Pool } from '../batch/pool.js';
import type { Book } from '../book/book.js';
import { type ExerciseLayout, fillSet, layoutOfCopy } from '../build-ensemble.js';
import { scorePlan } from '../build-score.js';
import { type Fonts, openFonts } from '../engrave/metrics.js';
import type { Ensemble } from '../ensemble/ensemble.js';
import { readEnsemble } from '../ensemble/read.js';
import { copiesOf, setExercises, setStems } from '../ensemble/set.js';
import { readyFolder } from '../files.js';
import { fontFiles } from '../fonts-on-disk.js';
import { error, type Issue, isError } from '../issue.js';
import { type BatchOptions, makeOutputs, type ProgressLine, progressLine, tellResults, withPool } from './batch.js';
import { tellAndFail } from './booklets.js';
import { openBookAnd } from './companion.js';
import { type ExitCode, type Terminal, tellIssues } from './terminal.js';

type LaidOut = { readonly layouts: readonly ExerciseLayout[]; readonly issues: readonly Issue[] };

/** Every exercise for all chairs, on all threads. */
export async function layOutAll(book: Book, ensemble: Ensemble, pool: Pool, terminal: Terminal, quiet: boolean): Promise<LaidOut> {
  const exercises = setExercises(book, ensemble);
  const line = progressLine(terminal, quiet);
  let done = 0;
  try {
    const all = await Promise.all(
      exercises.map(async ({ path }, index) => {
        try {
          return await pool.run({ kind: 'exercise', index });
        } catch (failure) {
          if (!(failure instanceof JobFailure)) throw failure;
          const words = `This exercise could not be laid out because of a fault of Twelvefold; please report it with the book file and this line: ${failure.message}`;
          return { layout: undefined, issues: [error('output-failed', path, words)] };
        } finally {
          line.show(`laying out exercise ${++done} of ${exercises.length}`);
        }
      }),
    );
    return { layouts: all.flatMap(({ layout }) => layout ?? []), issues: all.flatMap(({ issues }) => issues) };
  } finally {
    line.clear();
  }
}

const partOutputs = (book: Book, ensemble: Ensemble, layouts: readonly ExerciseLayout[], fonts: Fonts): Output[] => {
  const pages = fillSet(book, ensemble, layouts, fonts);
  const stems = setStems(book.title, ensemble);
  return copiesOf(ensemble).map(
    ({ name }, copy): Output => ({
      job: { kind: 'part', copy, layouts: layoutOfCopy(layouts, copy), pages },
      file: `${stems.parts[copy]}.pdf`,
      label: name,
    }),
  );
};

/** The systems of the score on all threads, then the score as an output; a score that failed is a result already. */
async function scoreOutput(
  book: Book,
  ensemble: Ensemble,
  layouts: readonly ExerciseLayout[],
  fonts: Fonts,
  pool: Pool,
  line: ProgressLine,
): Promise<Output | OutputResult> {
  const chairs = copiesOf(ensemble).map(({ chair }) => chair);
  const plans = layouts.map((layout) => scorePlan(layout, ensemble, chairs));
  let set = 0;
  try {
    const fitted = await fitScoreOn(pool, book, ensemble, plans, fonts, () => line.show(`setting the score, ${++set} exercises`));
    return { job: { kind: 'score', plans, fitted }, file: `${setStems(book.title, ensemble).score}.pdf`, label: 'Score' };
  } catch (failure) {
    if (!(failure instanceof JobFailure)) throw failure;
    return { label: 'Score', file: undefined, pages: 0, issues: [outputFailed('Score', failure)] };
  } finally {
    line.clear();
  }
}

/** The score first, then the parts. */
async function makeSet(
  book: Book,
  ensemble: Ensemble,
  layouts: readonly ExerciseLayout[],
  pool: Pool,
  folder: string,
  terminal: Terminal,
  options: BatchOptions,
): Promise<OutputResult[]> {
  const fonts = openFonts(fontFiles((path) => readFileSync(path)));
  const parts = partOutputs(book, ensemble, layouts, fonts);
  const score = await scoreOutput(book, ensemble, layouts, fonts, pool, progressLine(terminal, options.json === true));
  if ('job' in score) return makeOutputs([score, ...parts], pool, folder, terminal, options);
  return [score, ...(await makeOutputs(parts, pool, folder, terminal, options))];
}

export async function ensembleCommand(
  bookName: string,
  ensembleName: string,
  options: BatchOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const quiet = options.json === true;
  const opened = await openBookAnd(bookName, ensembleName, 'an ensemble file', readEnsemble, terminal, quiet);
  if (!opened.ok) return tellAndFail(opened.issues, options, terminal);
  const { book, other: ensemble } = opened.value;
  const out = options.out ?? '.';
  const folder = await readyFolder(resolve(terminal.cwd, out), out);
  if (!folder.ok) return tellAndFail(folder.issues, options, terminal);
  const jobs = Math.max(setExercises(book, ensemble).length, copiesOf(ensemble).length + 1);
  const made = await withPool(
    { kind: 'ensemble', book, ensemble },
    jobs,
    terminal.signal,
    async (pool): Promise<{ issues: readonly Issue[]; results: OutputResult[] }> => {
      const { layouts, issues } = await layOutAll(book, ensemble, pool, terminal, quiet);
      if (issues.some(isError)) return { issues, results: [] };
      return { issues, results: await makeSet(book, ensemble, layouts, pool, folder.value, terminal, options) };
    },
  );
  const issues = [...opened.issues, ...made.issues];
  if (issues.some(isError)) return tellAndFail(issues, options, terminal);
  if (!quiet) tellIssues(terminal, issues);
  return tellResults(made.results, issues, 'file', terminal, { ...options, files: true });
}
