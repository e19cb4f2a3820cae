/** `twelvefold build`: one PDF for each edition of a book. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Book, EditionSpec } from '../book/book.js';
import { buildEdition } from '../build.js';
import { type Fonts, openFonts } from '../engrave/metrics.js';
import { editionStems } from '../file-name.js';
import { fileIssue, readyFolder, writeSafely } from '../files.js';
import { fontFiles } from '../fonts-on-disk.js';
import { bad, error, good, type Issue, isError, type Result } from '../issue.js';
import type { Document } from '../layout/page.js';
import { didYouMean } from '../nearest.js';
import { type PdfOptions, writePdf } from '../output/pdf.js';
import { instrumentById } from '../player/catalogue.js';
import { type Proof, proveEdition } from '../proof/proof.js';
import { proofJson, proofReport } from '../proof/report.js';
import { openFile } from './open.js';
import { count, EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from './terminal.js';

export type BuildOptions = {
  readonly edition?: readonly string[];
  readonly out?: string;
  /** PDF/A-1b files. */
  readonly archive?: boolean;
  readonly json?: boolean;
};

type Job = { readonly edition: EditionSpec; readonly file: string };
type Built = {
  readonly instrument: string;
  readonly level: string;
  readonly file: string | null;
  readonly pages: number;
  readonly issues: readonly Issue[];
  /** Undefined where nothing was written. */
  readonly proof?: Proof;
};

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

/** A line on the error stream that is written over and over, for a person who watches. */
function progress(terminal: Terminal, quiet: boolean): { show: (text: string) => void; clear: () => void } {
  if (quiet || !terminal.watched) return { show: () => {}, clear: () => {} };
  return { show: (text) => terminal.err(`\r\u001b[K${text}`), clear: () => terminal.err('\r\u001b[K') };
}

async function writeDocument(document: Document, fonts: Fonts, path: string, options: PdfOptions & { readonly signal: AbortSignal }) {
  await writeSafely(
    path,
    (sink) => {
      const write = (chunk: Uint8Array) =>
        new Promise<void>((done, fail) => sink.write(chunk, (problem) => (problem ? fail(problem) : done())));
      return writePdf(document, fonts, write, options);
    },
    { signal: options.signal, inFolder: true },
  );
}

/** Faults told in full for each edition; the rest are counted. */
const REPORTED = 5;

const provedText = (proof: Proof | undefined): string => (proof?.faults.length ? count(proof.faults.length, 'proof fault') : 'proved');

export async function buildCommand(name: string, options: BuildOptions, terminal: Terminal): Promise<ExitCode> {
  const { book, file } = await openFile(name, terminal);
  const issues: Issue[] = [...book.issues];
  const built: Built[] = [];
  const line = progress(terminal, options.json === true);
  let failure: unknown;

  async function buildOne(book: Book, { edition, file: fileName }: Job, folder: string, fonts: Fonts): Promise<Built> {
    const shown = join(options.out ?? '.', fileName);
    line.show(`${edition.instrument}: laying out …`);
    // A turn of the event loop, so that the line is seen and a wish to stop is heard before the long work.
    await new Promise((turn) => setImmediate(turn));
    terminal.signal.throwIfAborted();
    const result = buildEdition(book, edition, fonts);
    const about = { instrument: edition.instrument, level: edition.level };
    if (!result.ok) return { ...about, file: null, pages: 0, issues: result.issues };
    const { document } = result.value;
    try {
      const onPage = (done: number, total: number) => line.show(`${edition.instrument}: page ${done} of ${total}`);
      await writeDocument(document, fonts, join(folder, fileName), { onPage, archive: options.archive, signal: terminal.signal });
    } catch (problem) {
      const issue = fileIssue(problem, shown);
      if (!issue) throw problem;
      return { ...about, file: null, pages: 0, issues: [...result.issues, issue] };
    }
    line.show(`${edition.instrument}: proving …`);
    const proof = proveEdition(result.value, book, fonts);
    return { ...about, file: shown, pages: document.pages.length, issues: result.issues, proof };
  }

  async function buildAll(book: Book): Promise<void> {
    const jobs = chooseJobs(book, options.edition);
    if (!jobs.ok) return void issues.push(...jobs.issues);
    const out = options.out ?? '.';
    const folder = await readyFolder(resolve(terminal.cwd, out), out);
    if (!folder.ok) return void issues.push(...folder.issues);
    const fonts = openFonts(fontFiles((path) => readFileSync(path)));
    for (const job of jobs.value) {
      try {
        const one = await buildOne(book, job, folder.value, fonts);
        built.push(one);
        line.clear();
        if (options.json) continue;
        tellIssues(terminal, one.issues, file);
        if (one.file === null) terminal.err(`error: the edition for ${one.instrument} was not written.\n`);
        else terminal.out(`Wrote ${one.file} (${one.pages} pages, ${provedText(one.proof)})\n`);
        if (one.proof && one.proof.faults.length > 0) terminal.err(proofReport(one.proof, REPORTED));
      } catch (problem) {
        line.clear();
        if (terminal.signal.aborted) throw problem;
        // One edition's trouble does not keep the others from being built; it is told when they are done.
        failure ??= problem;
      }
    }
  }

  if (!options.json) tellIssues(terminal, issues, file);
  const before = issues.length;
  if (book.ok) await buildAll(book.value);
  if (failure !== undefined) throw failure;
  const ok = !issues.some(isError) && built.every((one) => one.file !== null);
  const faulty = built.some((one) => (one.proof?.faults.length ?? 0) > 0);
  const editions = built.map(({ proof, ...one }) => ({ ...one, proof: proof && proofJson(proof) }));
  if (options.json) tellJson(terminal, { ok, issues, editions });
  else tellIssues(terminal, issues.slice(before), file);
  if (!ok) return EXIT.mistakes;
  return faulty ? EXIT.proofFaults : EXIT.ok;
}
