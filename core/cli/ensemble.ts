/** `twelvefold ensemble`: matched parts and a score for the chairs of an ensemble. */
import { resolve } from 'node:path';
import { type Issue, isError } from '../base/issue.js';
import type { OutputResult } from '../batch/batch.js';
import { type LaidOut, layOutEnsemble, partOutputs, partProofs, scoreOutput } from '../batch/make-ensemble.js';
import type { Pool } from '../batch/pool.js';
import type { Book } from '../book/book.js';
import type { ExerciseLayout } from '../build/parts.js';
import { inFolder } from '../disk/files.js';
import { openedFonts } from '../disk/fonts.js';
import type { Ensemble } from '../ensemble/ensemble.js';
import { copiesOf, ensembleExercises } from '../ensemble/ensemble-book.js';
import { readEnsemble } from '../ensemble/read.js';
import { type BatchOptions, makeOutputs, progressLine, tellResults, withPool } from './batch.js';
import { tellAndFail } from './booklets.js';
import { openBookAnd } from './companion.js';
import { type ExitCode, type Terminal, tellIssues } from './terminal.js';

/** Every exercise for all chairs, on all threads. */
export async function layOutAll(book: Book, ensemble: Ensemble, pool: Pool, terminal: Terminal, quiet: boolean): Promise<LaidOut> {
  const line = progressLine(terminal, quiet);
  try {
    return await layOutEnsemble(pool, book, ensemble, (done, total) => line.show(`laying out exercise ${done} of ${total}`));
  } finally {
    line.clear();
  }
}

export type EnsembleOptions = BatchOptions & {
  /** Whether the parts are proved, which takes about as long again as to make them. */
  readonly prove?: boolean;
};

type Made = { readonly results: readonly OutputResult[]; readonly issues: readonly Issue[] };

type LaidOutEnsemble = { readonly book: Book; readonly ensemble: Ensemble; readonly layouts: readonly ExerciseLayout[] };

/** The score, or why there is none, and the parts. */
async function makeFiles(
  { book, ensemble, layouts }: LaidOutEnsemble,
  pool: Pool,
  folder: string,
  terminal: Terminal,
  options: BatchOptions,
): Promise<{ readonly score: readonly OutputResult[]; readonly parts: readonly OutputResult[] }> {
  const fonts = openedFonts();
  const parts = partOutputs(book, ensemble, layouts, fonts);
  const line = progressLine(terminal, options.json === true);
  let set = 0;
  const score = await scoreOutput(pool, book, ensemble, layouts, fonts, () => line.show(`setting the score, ${++set} exercises`)).finally(
    line.clear,
  );
  if (!('job' in score)) return { score: [score], parts: await makeOutputs(parts, pool, folder, terminal, options) };
  const [first, ...others] = await makeOutputs([score, ...parts], pool, folder, terminal, options);
  return { score: first ? [first] : [], parts: others };
}

/** The score first, then the parts; meanwhile one thread proves the parts if that is wanted. */
async function makePartsAndScore(
  laidOut: LaidOutEnsemble,
  pool: Pool,
  folder: string,
  terminal: Terminal,
  options: EnsembleOptions,
): Promise<Made> {
  const proving = options.prove ? partProofs(pool, laidOut.layouts) : undefined;
  const line = progressLine(terminal, options.json === true);
  const files = makeFiles(laidOut, pool, folder, terminal, options).then((made) => {
    if (proving) line.show('proving the parts');
    return made;
  });
  const [made, proofs] = await Promise.all([files, proving]).finally(line.clear);
  const found = proofs?.ok ? proofs.value : undefined;
  const parts = made.parts.map((part, copy): OutputResult => {
    const proof = found?.[copy];
    return proof && part.file !== undefined ? { ...part, proof } : part;
  });
  return { results: [...made.score, ...parts], issues: proofs?.issues ?? [] };
}

export async function ensembleCommand(
  bookName: string,
  ensembleName: string,
  options: EnsembleOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const quiet = options.json === true;
  const opened = await openBookAnd(bookName, ensembleName, 'an ensemble file', readEnsemble, terminal, quiet);
  if (!opened.ok) return tellAndFail(opened.issues, options, terminal);
  const { book, other: ensemble } = opened.value;
  const out = options.out ?? '.';
  const jobs = Math.max(ensembleExercises(book, ensemble).length, copiesOf(ensemble).length + 1);
  const made = await inFolder(resolve(terminal.cwd, out), out, (folder) =>
    withPool({ kind: 'ensemble', book, ensemble }, jobs, terminal.signal, async (pool): Promise<Made> => {
      const { layouts, issues } = await layOutAll(book, ensemble, pool, terminal, quiet);
      if (issues.some(isError)) return { issues, results: [] };
      const files = await makePartsAndScore({ book, ensemble, layouts }, pool, folder, terminal, options);
      return { ...files, issues: [...issues, ...files.issues] };
    }),
  );
  if (!made.ok) return tellAndFail(made.issues, options, terminal);
  const { results } = made.value;
  const issues = [...opened.issues, ...made.value.issues];
  // Without an output, an error is of the book or the ensemble.
  if (results.length === 0) return tellAndFail(issues, options, terminal);
  if (!quiet) tellIssues(terminal, issues);
  return tellResults(results, issues, 'file', terminal, { ...options, files: true });
}
