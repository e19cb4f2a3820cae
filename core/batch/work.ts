/** The work of one thread: what it is told at its start, the jobs it can do, and what comes back. All of it is plain data. */
import type { Book, EditionSpec } from '../book/book.js';
import { type BuiltEdition, buildEdition } from '../build.js';
import { buildBooklet, buildSummary } from '../build-booklets.js';
import { buildPart, type ExerciseLayout, layOutExercise, type PartLayout, type SetPages } from '../build-ensemble.js';
import { buildScore, type ScorePlan } from '../build-score.js';
import { checkEdition } from '../check-lines.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Ensemble } from '../ensemble/ensemble.js';
import { copiesOf, setExercises } from '../ensemble/set.js';
import { assert, type Issue, type Result } from '../issue.js';
import type { Document } from '../layout/page.js';
import { writePdf } from '../output/pdf.js';
import type { Roster } from '../people/roster.js';
import { type Proof, proveEdition } from '../proof/proof.js';

/** What all jobs of a batch share. */
export type Context =
  | { readonly kind: 'editions'; readonly book: Book; readonly archive?: boolean | undefined }
  | { readonly kind: 'booklets'; readonly book: Book; readonly roster: Roster; readonly date: string }
  | { readonly kind: 'ensemble'; readonly book: Book; readonly ensemble: Ensemble };

export type Job =
  /** A file, proved. */
  | { readonly kind: 'edition'; readonly spec: EditionSpec }
  /** The lines of an edition: only issues come back. */
  | { readonly kind: 'lines'; readonly index: number }
  /** An edition set and proved, without a file. */
  | { readonly kind: 'proof'; readonly spec: EditionSpec }
  | { readonly kind: 'booklet'; readonly student: number }
  | { readonly kind: 'summary' }
  /** One exercise for the whole set: its layout comes back, no file. */
  | { readonly kind: 'exercise'; readonly index: number }
  | { readonly kind: 'part'; readonly copy: number; readonly layouts: readonly PartLayout[]; readonly pages: SetPages }
  | { readonly kind: 'score'; readonly plans: readonly ScorePlan[] };

export type Done = {
  readonly ok: boolean;
  readonly issues: readonly Issue[];
  readonly pages: number;
  /** The whole file; undefined where none was made. */
  readonly bytes: Uint8Array | undefined;
  readonly layout?: ExerciseLayout | undefined;
  /** Of an edition. */
  readonly proof?: Proof;
};

/** What a job is at: the page painted or proved last. */
export type Step = { readonly step: 'painting' | 'proving'; readonly page: number; readonly pages: number };

function documentOf(
  context: Context,
  job: Exclude<Job, { kind: 'edition' | 'lines' | 'proof' | 'exercise' }>,
  fonts: Fonts,
): Result<Document> {
  const { book } = context;
  if (context.kind === 'booklets' && job.kind === 'booklet') return buildBooklet(book, context.roster, job.student, context.date, fonts);
  if (context.kind === 'booklets' && job.kind === 'summary') return buildSummary(book, context.roster, context.date, fonts);
  assert(context.kind === 'ensemble', `a batch of ${context.kind} has no job ${job.kind}`);
  if (job.kind === 'score') return buildScore(book, context.ensemble, job.plans, fonts);
  assert(job.kind === 'part', `an ensemble has no job ${job.kind}`);
  const copy = copiesOf(context.ensemble)[job.copy];
  assert(copy, 'a part has its copy');
  return buildPart(book, context.ensemble, job.layouts, job.pages, copy, fonts);
}

function layoutOf(context: Context, index: number, fonts: Fonts): Done {
  assert(context.kind === 'ensemble', 'only ensembles lay out exercises by themselves');
  const one = setExercises(context.book, context.ensemble)[index];
  assert(one, 'the set has this exercise');
  const found = layOutExercise(context.book, context.ensemble, one, fonts);
  return { ok: found.ok, issues: found.issues, pages: 0, bytes: undefined, layout: found.ok ? found.value : undefined };
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

async function painted(document: Document, fonts: Fonts, onStep: (step: Step) => void, archive?: boolean): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  const onPage = (page: number, pages: number): void => onStep({ step: 'painting', page, pages });
  await writePdf(document, fonts, (chunk) => void chunks.push(chunk), { onPage, archive });
  return joined(chunks);
}

const proved = (edition: BuiltEdition, book: Book, fonts: Fonts, onStep: (step: Step) => void): Proof =>
  proveEdition(edition, book, fonts, { onPage: (page, pages) => onStep({ step: 'proving', page, pages }) });

/** Does one job. `onStep` hears of every page that is painted or proved. */
export async function doJob(context: Context, job: Job, fonts: Fonts, onStep: (step: Step) => void): Promise<Done> {
  if (job.kind === 'exercise') return layoutOf(context, job.index, fonts);
  if (job.kind === 'lines') return none(checkEdition(context.book, job.index), true);
  if (job.kind === 'edition' || job.kind === 'proof') {
    assert(context.kind === 'editions', `a batch of ${context.kind} has no job ${job.kind}`);
    const { book, archive } = context;
    const edition = buildEdition(book, job.spec, fonts);
    if (!edition.ok) return none(edition.issues);
    const { document } = edition.value;
    const bytes = job.kind === 'edition' ? await painted(document, fonts, onStep, archive) : undefined;
    const proof = proved(edition.value, book, fonts, onStep);
    return { ok: true, issues: edition.issues, pages: document.pages.length, bytes, proof };
  }
  const document = documentOf(context, job, fonts);
  if (!document.ok) return none(document.issues);
  const bytes = await painted(document.value, fonts, onStep);
  return { ok: true, issues: document.issues, pages: document.value.pages.length, bytes };
}
