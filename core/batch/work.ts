/** The work of one thread: what it is told at its start, the jobs it can do, and what comes back. All of it is plain data. */

import { assert, good, type Issue, type Result } from '../base/issue.js';
import { at } from '../base/list.js';
import type { Pt } from '../base/units.js';
import type { Book, EditionSpec } from '../book/book.js';
import { buildBooklet, buildSummary } from '../build/booklets.js';
import { checkEdition } from '../build/check.js';
import { type BuiltEdition, buildEdition } from '../build/edition.js';
import { type CopyExercise, type ExerciseLayout, layOutExercise } from '../build/ensemble-layout.js';
import { buildPart, buildParts } from '../build/part.js';
import { fittedScore, setInScore } from '../build/score.js';
import type { ScorePlan } from '../build/score-staves.js';
import type { SharedPages } from '../build/shared-pages.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Ensemble } from '../ensemble/ensemble.js';
import { type EnsembleBook, ensembleBookOf } from '../ensemble/ensemble-book.js';
import { type EditionFiles, editionFiles, type NamedFile } from '../export/edition-files.js';
import type { ScoreSystem } from '../layout/music/score-block.js';
import type { Document } from '../layout/page/page.js';
import type { FittedScore } from '../layout/score-fit.js';
import { writePdf } from '../output/pdf/pdf.js';
import type { Roster } from '../people/roster.js';
import { type Proof, proveEdition, proveEnsemble } from '../proof/proof.js';

/** What all jobs of a batch share. */
export type Context =
  | { readonly kind: 'editions'; readonly book: Book; readonly archive?: boolean | undefined }
  | { readonly kind: 'booklets'; readonly book: Book; readonly roster: Roster; readonly date: string }
  | { readonly kind: 'ensemble'; readonly book: Book; readonly ensemble: Ensemble }
  /** Whatever is made of a book at a time; `date` stands on booklets. */
  | {
      readonly kind: 'mixed';
      readonly book: Book;
      readonly roster: Roster | undefined;
      readonly date: string;
      readonly ensemble: Ensemble | undefined;
    };

export type Job =
  /** A file, and its proof unless that is not wanted. */
  | { readonly kind: 'edition'; readonly spec: EditionSpec; readonly proof?: false }
  /** Many files, handed over one by one. */
  | { readonly kind: 'edition-files'; readonly spec: EditionSpec; readonly of: EditionFiles }
  /** The lines of an edition: only issues come back. */
  | { readonly kind: 'lines'; readonly index: number }
  /** An edition set and proved, without a file. */
  | { readonly kind: 'proof'; readonly spec: EditionSpec }
  | { readonly kind: 'booklet'; readonly student: number; readonly prove?: boolean | undefined }
  | { readonly kind: 'summary' }
  /** One exercise for the whole ensemble: its layout comes back, no file. */
  | { readonly kind: 'exercise'; readonly index: number }
  /** All parts of the ensemble, proved together; no file. */
  | { readonly kind: 'parts-proof'; readonly layouts: readonly ExerciseLayout[] }
  /** A copy, by its id. */
  | { readonly kind: 'part'; readonly copy: string; readonly exercises: readonly CopyExercise[]; readonly pages: SharedPages }
  /** One exercise of the score at a size of staff: its systems come back, no file. */
  | { readonly kind: 'systems'; readonly plan: ScorePlan; readonly scale: Pt }
  | { readonly kind: 'score'; readonly plans: readonly ScorePlan[]; readonly fitted: FittedScore };

export type Done = {
  readonly ok: boolean;
  readonly issues: readonly Issue[];
  readonly pages: number;
  /** The whole file; undefined where none was made. */
  readonly bytes: Uint8Array | undefined;
  readonly layout?: ExerciseLayout | undefined;
  readonly systems?: readonly ScoreSystem[];
  /** Of an edition. */
  readonly proof?: Proof | undefined;
  /** Of the parts of an ensemble, by copy. */
  readonly proofs?: readonly Proof[];
};

/** What the work asks of whoever drives it. */
export type Hooks = {
  /** Hears of every page that is painted or proved. */
  readonly onStep: (step: Step) => void;
  /** Takes a file of a job that makes many; the work waits for it, and ends when it rejects. */
  readonly onFile?: ((file: NamedFile) => Promise<void>) | undefined;
  /** Called between two pieces of painting; the work ends when it rejects. */
  readonly pause?: (() => Promise<void>) | undefined;
};

/** What a job is at: the page painted or proved last. */
export type Step = { readonly step: 'painting' | 'proving'; readonly page: number; readonly pages: number };

function peopleOf(context: Context): { readonly roster: Roster; readonly date: string } {
  const people = context.kind === 'booklets' || context.kind === 'mixed' ? context : undefined;
  assert(people?.roster, `a batch of ${context.kind} has a roster for this job`);
  return { roster: people.roster, date: people.date };
}

function ensembleOf(context: Context): EnsembleBook {
  const ensemble = context.kind === 'ensemble' || context.kind === 'mixed' ? context.ensemble : undefined;
  assert(ensemble, `a batch of ${context.kind} has an ensemble for this job`);
  return ensembleBookOf(context.book, ensemble);
}

function documentOf(
  context: Context,
  job: Exclude<Job, { kind: 'edition' | 'edition-files' | 'lines' | 'proof' | 'booklet' | 'exercise' | 'systems' | 'parts-proof' }>,
  fonts: Fonts,
): Result<Document> {
  if (job.kind === 'summary') {
    const { roster, date } = peopleOf(context);
    return buildSummary(context.book, roster, date, fonts);
  }
  const ensembleBook = ensembleOf(context);
  if (job.kind === 'score') return fittedScore(ensembleBook, job.plans, job.fitted, fonts);
  const copy = ensembleBook.copies.find(({ id }) => id === job.copy);
  assert(copy, 'a part has its copy');
  const part = buildPart(ensembleBook, { copy, exercises: job.exercises }, job.pages, fonts);
  return part.ok ? good(part.value.document, part.issues) : part;
}

/** An exercise for the whole ensemble, or in the score. */
function setOne(context: Context, job: Extract<Job, { kind: 'exercise' | 'systems' }>, fonts: Fonts): Done {
  const ensembleBook = ensembleOf(context);
  if (job.kind === 'systems') return { ...none([], true), systems: setInScore(ensembleBook, job.plan, job.scale, fonts) };
  const found = layOutExercise(ensembleBook, at(ensembleBook.exercises, job.index), fonts);
  return { ...none(found.issues, found.ok), layout: found.ok ? found.value : undefined };
}

/** Every part is set once more, since the rules look at all of them at a time. */
function partsProved(context: Context, layouts: readonly ExerciseLayout[], fonts: Fonts): Done {
  const parts = buildParts(ensembleOf(context), layouts, fonts);
  return parts.ok ? { ...none([], true), proofs: proveEnsemble(parts.value, context.book, fonts) } : none([]);
}

function joined(chunks: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(chunks.reduce((length, chunk) => length + chunk.length, 0));
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return whole;
}

const none = (issues: readonly Issue[], ok = false): Done => ({ ok, issues, pages: 0, bytes: undefined });

async function painted(document: Document, fonts: Fonts, { onStep, pause }: Hooks, archive?: boolean): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  const onPage = (page: number, pages: number): void => onStep({ step: 'painting', page, pages });
  const take = async (chunk: Uint8Array): Promise<void> => {
    chunks.push(chunk);
    await pause?.();
  };
  await writePdf(document, fonts, take, { onPage, archive });
  return joined(chunks);
}

const proved = (edition: BuiltEdition, book: Book, fonts: Fonts, { onStep }: Hooks): Proof =>
  proveEdition(edition, book, fonts, { onPage: (page, pages) => onStep({ step: 'proving', page, pages }) });

type EditionJob = Extract<Job, { kind: 'edition' | 'edition-files' | 'proof' }>;

async function editionDone(context: Context, job: EditionJob, fonts: Fonts, hooks: Hooks): Promise<Done> {
  assert(context.kind === 'editions' || context.kind === 'mixed', `a batch of ${context.kind} has no job ${job.kind}`);
  const { book } = context;
  const edition = buildEdition(book, job.spec, fonts);
  if (!edition.ok) return none(edition.issues);
  const { document } = edition.value;
  const pages = document.pages.length;
  if (job.kind === 'edition-files') {
    const { onFile, onStep } = hooks;
    assert(onFile, 'someone takes the files');
    const files = editionFiles(edition.value, job.of, fonts);
    for (const [i, make] of files.entries()) {
      const file = make();
      if (!file.ok) return none([...edition.issues, ...file.issues]);
      await onFile(file.value);
      onStep({ step: 'painting', page: i + 1, pages: files.length });
    }
    return { ...none(edition.issues, true), pages: job.of === 'svg' ? pages : 0 };
  }
  const archive = context.kind === 'editions' ? context.archive : undefined;
  const bytes = job.kind === 'edition' ? await painted(document, fonts, hooks, archive) : undefined;
  const proof = job.kind === 'edition' && job.proof === false ? undefined : proved(edition.value, book, fonts, hooks);
  return { ok: true, issues: edition.issues, pages, bytes, proof };
}

async function bookletDone(context: Context, job: Extract<Job, { kind: 'booklet' }>, fonts: Fonts, hooks: Hooks): Promise<Done> {
  const { roster, date } = peopleOf(context);
  const booklet = buildBooklet(context.book, roster, job.student, date, fonts);
  if (!booklet.ok) return none(booklet.issues);
  const { document } = booklet.value;
  const bytes = await painted(document, fonts, hooks);
  const proof = job.prove ? proveEdition(booklet.value, context.book, fonts) : undefined;
  return { ok: true, issues: booklet.issues, pages: document.pages.length, bytes, proof };
}

/** Does one job. Rejects with what a hook rejected with. */
export async function doJob(
  context: Context,
  job: Job,
  fonts: Fonts,
  onStep: Hooks['onStep'],
  more: Omit<Hooks, 'onStep'> = {},
): Promise<Done> {
  const hooks = { onStep, ...more };
  if (job.kind === 'exercise' || job.kind === 'systems') return setOne(context, job, fonts);
  if (job.kind === 'booklet') return bookletDone(context, job, fonts, hooks);
  if (job.kind === 'parts-proof') return partsProved(context, job.layouts, fonts);
  if (job.kind === 'lines') return none(checkEdition(context.book, job.index), true);
  if (job.kind === 'edition' || job.kind === 'edition-files' || job.kind === 'proof') return editionDone(context, job, fonts, hooks);
  const document = documentOf(context, job, fonts);
  if (!document.ok) return none(document.issues);
  const bytes = await painted(document.value, fonts, hooks);
  return { ok: true, issues: document.issues, pages: document.value.pages.length, bytes };
}

/** Where in the program it failed, and how: the words of a failure may repeat what stands in a roster, so they are not told. */
export function failurePlace(failure: unknown): string {
  if (!(failure instanceof Error)) return 'failure';
  const where = failure.stack?.split('\n').find((line) => line.includes('    at ')) ?? '';
  return `${failure.name} ${where.trim()}`.trim();
}
