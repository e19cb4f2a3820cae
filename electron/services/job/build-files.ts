/** Writing what was chosen to a folder: editions of the book, students' booklets, parts and score. The pages are those of the screen. */
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { editionStems } from '../../../core/base/file-name.js';
import { bad, good, type Issue, isError, type Result } from '../../../core/base/issue.js';
import { type Output, type OutputResult, progressWords, runBatch } from '../../../core/batch/batch.js';
import { threadsFor } from '../../../core/batch/pool.js';
import { openPoolHere, openPoolWithHelp } from '../../../core/batch/pool-here.js';
import type { Context, Job } from '../../../core/batch/work.js';
import type { Book } from '../../../core/book/book.js';
import { resolveBook } from '../../../core/book/resolve.js';
import { checkShape } from '../../../core/book/schema.js';
import { readyFolder } from '../../../core/disk/files.js';
import type { Fonts } from '../../../core/engrave/metrics.js';
import { ensembleBookOf } from '../../../core/ensemble/ensemble-book.js';
import { instrumentById } from '../../../core/player/catalogue.js';
import type { Built } from '../contract/answers/written.js';
import type { Ask } from '../contract/questions.js';
import { bookletOutputs, ensembleFileCount, ensembleLoad, ensembleOutputs, ensembleSteps, exercisesIn } from './build-people.js';
import { ensembleOf, rosterOf } from './companion-check.js';
import { stopped, type Tell } from './progress.js';

/** What is to be written of a book. */
export type BuildAsk = Omit<Ask<'build'>, 'ticket'>;

/** How the files of each kind are made, and what is behind the stem of their name. */
const KINDS: Readonly<
  Record<BuildAsk['kinds'][number], { readonly end: string; readonly job: (spec: Book['editions'][number]) => Job; readonly words: string }>
> = {
  pdf: { end: '.pdf', job: (spec) => ({ kind: 'edition', spec, proof: false }), words: '' },
  midi: { end: '-midi', job: (spec) => ({ kind: 'edition-files', spec, of: 'midi' }), words: ' (MIDI)' },
  svg: { end: '-pages', job: (spec) => ({ kind: 'edition-files', spec, of: 'svg' }), words: ' (pictures)' },
};
const KIND_ORDER = ['pdf', 'midi', 'svg'] as const;

function editionOutputs(book: Book, { editions, kinds }: BuildAsk): Output[] {
  const stems = editionStems(
    book.title,
    book.editions.map((edition) => edition.instrument),
  );
  return editions.flatMap((index) => {
    const spec = book.editions[index];
    if (!spec) return [];
    const instrument = instrumentById(spec.instrument);
    const name = instrument.ok ? instrument.value.name : spec.instrument;
    return KIND_ORDER.filter((kind) => kinds.includes(kind)).map((kind): Output => {
      const { end, job, words } = KINDS[kind];
      return { job: job(spec), file: `${stems[index]}${end}`, label: `${name}${words}` };
    });
  });
}

/**
 * Exercises, over all outputs, that this thread sets sooner than others: they have to start, to load the program and to compile
 * it, each for itself, which takes seconds. (Measured on two cores with Node 20, rounded.)
 */
export const LIGHT = 200;

/** On a machine with room one core is left to whoever goes on writing the book. */
const spared = (threads: number): number => Math.min(threads, Math.max(2, availableParallelism() - 1));

/** The same remark on several files of one edition is made once. */
const once = (issues: readonly Issue[]): Issue[] => [...new Map(issues.map((issue) => [JSON.stringify(issue), issue])).values()];

/** What came of it: not even one file is a failure. */
function built(folder: string, results: readonly OutputResult[], issues: readonly Issue[]): Result<Built> {
  const all = once([...issues, ...results.flatMap((one) => one.issues)]);
  const files = results.flatMap(({ file, pages }) => (file === undefined ? [] : [{ path: join(folder, file), name: file, pages }]));
  const missing = results.flatMap(({ label, file, issues: own }) => (file === undefined ? [{ label, issues: own }] : []));
  return files.length > 0 ? good({ files, missing }, all) : bad(...all);
}

/**
 * Makes the files on all cores where there is enough to do. What cannot be made or written is told, and the rest goes on.
 * Issue `stopped` when the signal was aborted; files already finished stay, and none is half-written. `light`: exercises up to
 * which no threads are started.
 */
export async function buildFiles(
  ask: BuildAsk,
  fonts: Fonts,
  signal: AbortSignal,
  tell: Tell,
  light: number = LIGHT,
): Promise<Result<Built>> {
  const shape = checkShape(ask.source);
  const resolved = shape.ok ? resolveBook(shape.value) : shape;
  if (!resolved.ok) return bad(...resolved.issues);
  const book = resolved.value;
  const roster = ask.booklets && rosterOf(ask.booklets.roster, book);
  const ensemble = ask.set && ensembleOf(ask.set.ensemble, book);
  // Before anything is written: half of what was asked for is no help.
  const wrong = [...(roster?.ok === false ? roster.issues : []), ...(ensemble?.ok === false ? ensemble.issues : [])].filter(isError);
  if (wrong.length > 0) return bad(...wrong);
  const folder = await readyFolder(ask.folder);
  if (!folder.ok) return folder;

  const people = roster?.ok ? roster.value : undefined;
  const band = ask.set && ensemble?.ok ? { ask: ask.set, ensembleBook: ensembleBookOf(book, ensemble.value) } : undefined;
  const single = [...editionOutputs(book, ask), ...(ask.booklets && people ? bookletOutputs(book, people, ask.booklets) : [])];
  const steps = band ? ensembleSteps(band.ensembleBook, band.ask) : 0;
  const files = single.length + (band ? ensembleFileCount(band.ensembleBook.ensemble, band.ask) : 0);

  const context: Context = { kind: 'mixed', book, roster: people, date: ask.booklets?.date ?? '', ensemble: band?.ensembleBook.ensemble };
  const load = single.reduce((sum, { job }) => sum + exercisesIn(job, book, people), 0) + (band ? ensembleLoad(band.ensembleBook) : 0);
  const pool =
    load <= light
      ? openPoolHere(context, fonts, signal)
      : openPoolWithHelp(context, spared(threadsFor(Math.max(files, steps))), fonts, signal);
  const total = 100 * Math.max(1, files + steps);
  try {
    const tellEnsemble = (done: number, words: string) => tell(100 * done, total, words);
    const ofBand = band
      ? await ensembleOutputs(pool, band.ensembleBook, band.ask, fonts, tellEnsemble)
      : { outputs: [], failed: [], issues: [] };
    const outputs = [...ofBand.outputs, ...single].map((one) => ({ ...one, shown: join(ask.folder, one.file) }));
    const results = await runBatch(outputs, pool, ask.folder, signal, {
      onProgress: (progress) => tell(100 * steps + Math.round(100 * files * progress.share), total, progressWords(progress)),
    });
    return built(ask.folder, [...ofBand.failed, ...results], ofBand.issues);
  } catch (failure) {
    if (signal.aborted) return bad(stopped());
    throw failure;
  } finally {
    await pool.close();
  }
}
