/** `twelvefold ensemble`: matched parts and a score for the chairs of an ensemble. */
import { resolve } from 'node:path';
import { type Issue, isError } from '../base/issue.js';
import { zip } from '../base/list.js';
import type { OutputResult } from '../batch/batch.js';
import { type LaidOut, layOutEnsemble, partOutputs, partProofs, scoreOutput } from '../batch/make-ensemble.js';
import type { Pool } from '../batch/pool.js';
import type { ExerciseLayout } from '../build/ensemble-layout.js';
import { inFolder } from '../disk/files.js';
import { openedFonts } from '../disk/fonts.js';
import { type EnsembleBook, ensembleBookOf } from '../ensemble/ensemble-book.js';
import { readEnsemble } from '../ensemble/read.js';
import type { Proof } from '../proof/proof.js';
import { type BatchOptions, makeOutputs, progressLine, tellResults, withPool } from './batch.js';
import { tellAndFail } from './booklets.js';
import { openBookAnd } from './companion.js';
import { type ExitCode, type Terminal, tellIssues } from './terminal.js';

/** Every exercise for all chairs, on all threads. */
export async function layOutAll(ensembleBook: EnsembleBook, pool: Pool, terminal: Terminal, quiet: boolean): Promise<LaidOut> {
  const line = progressLine(terminal, quiet);
  try {
    return await layOutEnsemble(pool, ensembleBook, (done, total) => line.show(`laying out exercise ${done} of ${total}`));
  } finally {
    line.clear();
  }
}

export type EnsembleOptions = BatchOptions & {
  /** Whether the parts are proved, which takes about as long again as to make them. */
  readonly prove?: boolean;
};

type Made = { readonly results: readonly OutputResult[]; readonly issues: readonly Issue[] };

/** What is made, by whom, and where it goes. */
type Making = {
  readonly ensembleBook: EnsembleBook;
  readonly pool: Pool;
  readonly folder: string;
  readonly terminal: Terminal;
  readonly options: EnsembleOptions;
};

/** The score, or why there is none, and the parts. */
async function makeFiles(
  { ensembleBook, pool, folder, terminal, options }: Making,
  layouts: readonly ExerciseLayout[],
): Promise<{ readonly score: readonly OutputResult[]; readonly parts: readonly OutputResult[] }> {
  const fonts = openedFonts();
  const parts = partOutputs(ensembleBook, layouts, fonts);
  const line = progressLine(terminal, options.json === true);
  let set = 0;
  const tell = () => line.show(`setting the score, ${++set} exercises`);
  const score = await scoreOutput(pool, ensembleBook, layouts, fonts, tell).finally(line.clear);
  if (!('job' in score)) return { score: [score], parts: await makeOutputs(parts, pool, folder, terminal, options) };
  const [made, ...others] = await makeOutputs([score, ...parts], pool, folder, terminal, options);
  return { score: made ? [made] : [], parts: others };
}

const withProof = (part: OutputResult, proof: Proof): OutputResult => (part.file === undefined ? part : { ...part, proof });

/** The score first, then the parts; meanwhile one thread proves the parts if that is wanted. */
async function makePartsAndScore(making: Making, layouts: readonly ExerciseLayout[]): Promise<Made> {
  const { pool, terminal, options } = making;
  const proving = options.prove ? partProofs(pool, layouts) : undefined;
  const line = progressLine(terminal, options.json === true);
  const files = makeFiles(making, layouts).then((made) => {
    if (proving) line.show('proving the parts');
    return made;
  });
  const [{ score, parts }, proofs] = await Promise.all([files, proving]).finally(line.clear);
  const found = proofs?.ok ? proofs.value : undefined;
  const proved = found ? zip(parts, found).map(([part, proof]) => withProof(part, proof)) : parts;
  return { results: [...score, ...proved], issues: proofs?.issues ?? [] };
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
  const ensembleBook = ensembleBookOf(book, ensemble);
  const out = options.out ?? '.';
  const jobs = Math.max(ensembleBook.exercises.length, ensembleBook.copies.length + 1);
  const made = await inFolder(resolve(terminal.cwd, out), out, (folder) =>
    withPool({ kind: 'ensemble', book, ensemble }, jobs, terminal.signal, async (pool): Promise<Made> => {
      const { layouts, issues } = await layOutAll(ensembleBook, pool, terminal, quiet);
      if (issues.some(isError)) return { issues, results: [] };
      const files = await makePartsAndScore({ ensembleBook, pool, folder, terminal, options }, layouts);
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
