/** `twelvefold ensemble`: matched parts and a score for the chairs of an ensemble. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { OutputResult } from '../batch/batch.js';
import { type LaidOut, layOutSet, partOutputs, scoreOutput } from '../batch/make-set.js';
import type { Pool } from '../batch/pool.js';
import type { Book } from '../book/book.js';
import type { ExerciseLayout } from '../build-ensemble.js';
import { openFonts } from '../engrave/metrics.js';
import type { Ensemble } from '../ensemble/ensemble.js';
import { readEnsemble } from '../ensemble/read.js';
import { copiesOf, setExercises } from '../ensemble/set.js';
import { readyFolder } from '../files.js';
import { fontFiles } from '../fonts-on-disk.js';
import { type Issue, isError } from '../issue.js';
import { type BatchOptions, makeOutputs, progressLine, tellResults, withPool } from './batch.js';
import { tellAndFail } from './booklets.js';
import { openBookAnd } from './companion.js';
import { type ExitCode, type Terminal, tellIssues } from './terminal.js';

/** Every exercise for all chairs, on all threads. */
export async function layOutAll(book: Book, ensemble: Ensemble, pool: Pool, terminal: Terminal, quiet: boolean): Promise<LaidOut> {
  const line = progressLine(terminal, quiet);
  try {
    return await layOutSet(pool, book, ensemble, (done, total) => line.show(`laying out exercise ${done} of ${total}`));
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
  const line = progressLine(terminal, options.json === true);
  let set = 0;
  const score = await scoreOutput(pool, book, ensemble, layouts, fonts, () => line.show(`setting the score, ${++set} exercises`)).finally(
    line.clear,
  );
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
