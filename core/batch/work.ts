/** The work of one thread: what it is told at its start, the jobs it can do, and what comes back. All of it is plain data. */
import type { Book, EditionSpec } from '../book/book.js';
import { buildEdition } from '../build.js';
import { buildBooklet, buildSummary } from '../build-booklets.js';
import { buildPart, type ExerciseLayout, layOutExercise, type PartLayout, type SetPages } from '../build-ensemble.js';
import { buildScore, type ScorePlan } from '../build-score.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Ensemble } from '../ensemble/ensemble.js';
import { copiesOf, setExercises } from '../ensemble/set.js';
import { assert, good, type Issue, type Result } from '../issue.js';
import type { Document } from '../layout/page.js';
import { writePdf } from '../output/pdf.js';
import type { Roster } from '../people/roster.js';

/** What all jobs of a batch share. */
export type Context =
  | { readonly kind: 'editions'; readonly book: Book }
  | { readonly kind: 'booklets'; readonly book: Book; readonly roster: Roster; readonly date: string }
  | { readonly kind: 'ensemble'; readonly book: Book; readonly ensemble: Ensemble };

export type Job =
  | { readonly kind: 'edition'; readonly spec: EditionSpec }
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
  readonly layout: ExerciseLayout | undefined;
};

function documentOf(context: Context, job: Job, fonts: Fonts): Result<Document> {
  const { book } = context;
  if (context.kind === 'editions' && job.kind === 'edition') {
    const built = buildEdition(book, job.spec, fonts);
    return built.ok ? good(built.value.document, built.issues) : built;
  }
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

/** Does one job. `onPage` hears of every page that is painted. */
export async function doJob(context: Context, job: Job, fonts: Fonts, onPage: (done: number, total: number) => void): Promise<Done> {
  if (job.kind === 'exercise') return layoutOf(context, job.index, fonts);
  const document = documentOf(context, job, fonts);
  if (!document.ok) return { ok: false, issues: document.issues, pages: 0, bytes: undefined, layout: undefined };
  const chunks: Uint8Array[] = [];
  await writePdf(document.value, fonts, (chunk) => void chunks.push(chunk), { onPage });
  return { ok: true, issues: document.issues, pages: document.value.pages.length, bytes: joined(chunks), layout: undefined };
}
