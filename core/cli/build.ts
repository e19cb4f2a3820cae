/** `twelvefold build`: one PDF for each edition of a book. */
import { join, resolve } from 'node:path';
import { editionStems } from '../base/file-name.js';
import { bad, error, good, type Issue, isError, type Result } from '../base/issue.js';
import { didYouMean } from '../base/nearest.js';
import { FAILED, type Output, type OutputResult } from '../batch/batch.js';
import type { Book, EditionSpec } from '../book/book.js';
import type { JsonObject } from '../book/json.js';
import { inFolder } from '../disk/files.js';
import { instrumentById } from '../player/catalogue.js';
import { proofJson } from '../proof/report.js';
import { makeOutputs, provedText, summaryLine, tellFaults, withPool } from './batch.js';
import { openFile } from './open.js';
import { EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from './terminal.js';

export type BuildOptions = {
  readonly edition?: readonly string[];
  readonly out?: string;
  /** PDF/A-1b files. */
  readonly archive?: boolean;
  readonly json?: boolean;
};

type Job = { readonly edition: EditionSpec; readonly file: string };

/** The editions asked for (all when none is named), each with its file name, which does not depend on what was asked for. */
export function chooseJobs(book: Book, wanted: readonly string[] = []): Result<readonly Job[]> {
  const instruments = book.editions.map((edition) => edition.instrument);
  const stems = editionStems(book.title, instruments);
  const jobs = book.editions.map((edition, i) => ({ edition, file: `${stems[i]}.pdf` }));
  const issues: Issue[] = [];
  const ids = wanted.map((name) => {
    const found = instrumentById(name);
    const id = found.ok ? found.value.id : name;
    if (!instruments.includes(id)) {
      const remedy = didYouMean(id, instruments) || `; choose one of ${instruments.join(', ')}.`;
      issues.push(error('unknown-edition', [], `The book has no edition "${name}"${remedy}`));
    }
    return id;
  });
  if (issues.length > 0) return bad(...issues);
  return good(wanted.length === 0 ? jobs : jobs.filter((job) => ids.includes(job.edition.instrument)));
}

/** What one edition came to, in words. */
function tellOne(result: OutputResult, { edition, file }: Job, out: string, source: JsonObject | undefined, terminal: Terminal): void {
  const { issues, pages, proof } = result;
  tellIssues(terminal, issues, source);
  if (result.file === undefined) terminal.err(`error: the edition for ${edition.instrument} was not written.\n`);
  else terminal.out(`Wrote ${join(out, file)} (${pages} pages, ${proof ? provedText(proof) : 'proved'})\n`);
  tellFaults(proof, terminal);
}

/** All editions, each on a thread; what they come to is told in the order of the book. */
async function buildAll(
  book: Book,
  jobs: readonly Job[],
  folder: string,
  options: BuildOptions,
  source: JsonObject | undefined,
  terminal: Terminal,
): Promise<OutputResult[]> {
  const out = options.out ?? '.';
  const outputs = jobs.map(
    ({ edition, file }): Output => ({ job: { kind: 'edition', spec: edition }, file, shown: join(out, file), label: edition.instrument }),
  );
  const tell = (result: OutputResult, index: number): void => {
    if (!options.json) tellOne(result, jobs[index] as Job, out, source, terminal);
  };
  const context = { kind: 'editions', book, archive: options.archive } as const;
  return withPool(context, outputs.length, terminal.signal, (pool) => makeOutputs(outputs, pool, folder, terminal, options, tell));
}

type All = { readonly jobs: readonly Job[]; readonly results: readonly OutputResult[]; readonly issues: readonly Issue[] };

async function build(book: Book, options: BuildOptions, source: JsonObject | undefined, terminal: Terminal): Promise<All> {
  const none = { jobs: [], results: [] };
  const jobs = chooseJobs(book, options.edition);
  if (!jobs.ok) return { ...none, issues: jobs.issues };
  const out = options.out ?? '.';
  const results = await inFolder(resolve(terminal.cwd, out), out, (folder) =>
    buildAll(book, jobs.value, folder, options, source, terminal),
  );
  return results.ok ? { jobs: jobs.value, results: results.value, issues: [] } : { ...none, issues: results.issues };
}

export async function buildCommand(name: string, options: BuildOptions, terminal: Terminal): Promise<ExitCode> {
  const { book, file } = await openFile(name, terminal);
  const out = options.out ?? '.';
  if (!options.json) tellIssues(terminal, book.issues, file);
  const { jobs, results, issues }: All = book.ok ? await build(book.value, options, file, terminal) : { jobs: [], results: [], issues: [] };
  const all = [...book.issues, ...issues];
  const ok = !all.some(isError) && results.every((one) => one.file !== undefined);
  if (options.json) {
    const editions = results.map(({ file, pages, issues, proof }, i) => {
      const { instrument, level } = (jobs[i] as Job).edition;
      return { instrument, level, file: file === undefined ? null : join(out, file), pages, issues, proof: proof && proofJson(proof) };
    });
    tellJson(terminal, { ok, issues: all, editions });
  } else {
    tellIssues(terminal, issues, file);
    if (results.length > 1) terminal.out(summaryLine(results, 'edition', out));
  }
  if (results.some((one) => one.issues.some(({ code }) => code === FAILED))) return EXIT.bug;
  if (!ok) return EXIT.mistakes;
  return results.some(({ proof }) => proof && proof.faults.length > 0) ? EXIT.proofFaults : EXIT.ok;
}
