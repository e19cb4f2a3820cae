/** Many files at once: each from a job of a pool, with progress, the time left, and failures that stop nothing but their own file. */
import { join } from 'node:path';
import { error, type Issue } from '../base/issue.js';
import { fileIssue, readyFolder, writeSafely } from '../disk/files.js';
import type { Proof } from '../proof/proof.js';
import { JobFailure } from './job-failure.js';
import type { Pool } from './pool.js';
import type { Job, Step } from './work.js';

export type Output = {
  readonly job: Job;
  /** Name of the file, without its folder; of a folder where the job makes many files. */
  readonly file: string;
  /** The file as a message names it, if not by `file`. */
  readonly shown?: string;
  /** For progress: `Flute`, `booklet 3`. */
  readonly label: string;
};

export type OutputResult = {
  readonly label: string;
  /** Undefined if it was not written. */
  readonly file: string | undefined;
  readonly pages: number;
  readonly issues: readonly Issue[];
  /** Of an edition that was written. */
  readonly proof?: Proof;
};

/** The code of an output's issue where the program failed. */
export const FAILED = 'output-failed';

export type BatchProgress = {
  readonly done: number;
  readonly total: number;
  /** Of the whole work, 0 to 1. */
  readonly share: number;
  /** Outputs being made; without a step until they are laid out. */
  readonly running: readonly { readonly label: string; readonly step?: Step }[];
  /** Undefined while nothing can be said. */
  readonly secondsLeft: number | undefined;
};

/**
 * Shares of an output's time that have passed when it is laid out, and when it is painted: of an edition, which is proved
 * behind that, and of the others. (Measured, rounded.)
 */
const SHARES = { edition: { laidOut: 0.2, painted: 0.35 }, other: { laidOut: 0.5, painted: 1 } } as const;

/** How much of an output is made. */
function shareMade(job: Job, at: Step | undefined): number {
  if (!at) return 0;
  const { laidOut, painted } = job.kind === 'edition' && job.proof !== false ? SHARES.edition : SHARES.other;
  const [from, to] = at.step === 'painting' ? [laidOut, painted] : [painted, 1];
  return from + (to - from) * (at.page / at.pages);
}

/** Seconds left when this share of the work took so long; undefined for too small a share to tell. */
export function secondsLeft(elapsed: number, share: number): number | undefined {
  return share < 0.02 ? undefined : (elapsed * (1 - Math.min(1, share))) / share;
}

/** `about 2 min left`; nothing while nothing can be said. */
export function timeLeftWords(seconds: number | undefined): string {
  if (seconds === undefined) return '';
  if (seconds < 60) return `about ${Math.max(1, Math.round(seconds))} s left`;
  return `about ${Math.round(seconds / 60)} min left`;
}

/** `12 of 60, Flute: page 3 of 14, about 40 s left`. */
export function progressWords({ done, total, running, secondsLeft: seconds }: Omit<BatchProgress, 'share'>): string {
  const now = running
    .slice(0, 3)
    .map(({ label, step }) =>
      step ? `${label}: ${step.step === 'proving' ? 'proving page' : 'page'} ${step.page} of ${step.pages}` : `${label}: laying out`,
    );
  return [`${done} of ${total}`, ...now, timeLeftWords(seconds)].filter((part) => part !== '').join(', ');
}

const FAULT = 'was not written because of a fault of Twelvefold; please report it with the book file and this line';

export const outputFailed = (label: string, failure: JobFailure): Issue => error(FAILED, [], `${label} ${FAULT}: ${failure.message}`);

async function writeOutput(
  pool: Pool,
  output: Output,
  folder: string,
  signal: AbortSignal,
  onStep: (step: Step | undefined) => void,
): Promise<OutputResult> {
  const { label, job } = output;
  const target = join(folder, output.file);
  const shown = output.shown ?? output.file;
  const none = { label, file: undefined, pages: 0 };
  const write = (path: string, bytes: Uint8Array) => writeSafely(path, (sink) => void sink.end(bytes), { signal, inFolder: true });
  let writing = Promise.resolve();
  let told: readonly Issue[] = [];
  try {
    if (job.kind === 'edition-files') {
      const ready = await readyFolder(target, shown);
      if (!ready.ok) return { ...none, issues: ready.issues };
    }
    const { ok, bytes, issues, pages, proof } = await pool.run(job, onStep, ({ name, bytes: own }) => {
      writing = write(join(target, name), own);
      return writing;
    });
    told = issues;
    if (!ok) return { ...none, issues };
    if (bytes) await write(target, bytes);
    return { label, file: output.file, pages, issues, ...(proof && { proof }) };
  } catch (failure) {
    // A thread that is ended does not wait for the file that it handed over.
    await writing.catch(() => undefined);
    if (signal.aborted) throw failure;
    const issue = failure instanceof JobFailure ? outputFailed(label, failure) : fileIssue(failure, shown);
    if (!issue) throw failure;
    return { ...none, issues: [...told, issue] };
  }
}

export type Listener = {
  readonly onProgress: (progress: BatchProgress) => void;
  /** Hears each result as soon as it and all before it in the list are there. */
  readonly onResult?: (result: OutputResult, index: number) => void;
};

/**
 * Makes all outputs and gives their results in the order of the list. Rejects only when the signal is aborted; then no file
 * is left half-written, and those that were finished stay.
 */
export async function runBatch(
  outputs: readonly Output[],
  pool: Pool,
  folder: string,
  signal: AbortSignal,
  { onProgress, onResult }: Listener,
): Promise<OutputResult[]> {
  const begun = performance.now();
  const running = new Map<Output, Step | undefined>();
  const results: (OutputResult | undefined)[] = outputs.map(() => undefined);
  let done = 0;
  let told = 0;
  const tell = (): void => {
    const share = [...running].reduce((sum, [{ job }, at]) => sum + shareMade(job, at), done) / Math.max(1, outputs.length);
    onProgress({
      done,
      total: outputs.length,
      share,
      running: [...running].map(([{ label }, step]) => ({ label, ...(step && { step }) })),
      secondsLeft: secondsLeft((performance.now() - begun) / 1000, share),
    });
  };
  const settled = await Promise.allSettled(
    outputs.map(async (output, index) => {
      const result = await writeOutput(pool, output, folder, signal, (step) => {
        running.set(output, step);
        tell();
      });
      running.delete(output);
      done++;
      tell();
      results[index] = result;
      for (let next = results[told]; next; next = results[++told]) onResult?.(next, told);
      return result;
    }),
  );
  // Only when all have ended, so that nothing half-written is left at that moment.
  return settled.map((one) => {
    if (one.status === 'rejected') throw one.reason;
    return one.value;
  });
}
