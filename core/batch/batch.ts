/** Many files at once: each from a job of a pool, with progress, the time left, and failures that stop nothing but their own file. */
import { join } from 'node:path';
import { fileIssue, writeSafely } from '../files.js';
import { error, type Issue } from '../issue.js';
import { JobFailure, type Pool } from './pool.js';
import type { Job } from './work.js';

export type Output = {
  readonly job: Job;
  /** Name of the file, without its folder. */
  readonly file: string;
  /** For progress: `Flute`, `booklet 3`. */
  readonly label: string;
};

export type OutputResult = {
  readonly label: string;
  /** Undefined if it was not written. */
  readonly file: string | undefined;
  readonly pages: number;
  readonly issues: readonly Issue[];
};

export type BatchProgress = {
  readonly done: number;
  readonly total: number;
  /** Outputs being made, with the page painted last; 0 of 0 while they are laid out. */
  readonly running: readonly { readonly label: string; readonly page: number; readonly pages: number }[];
  /** Undefined while nothing can be said. */
  readonly secondsLeft: number | undefined;
};

/** Share of an output's time that passes before its first page is painted. (Measured, rounded.) */
const LAYOUT_SHARE = 0.5;

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
export function progressWords({ done, total, running, secondsLeft: seconds }: BatchProgress): string {
  const now = running
    .slice(0, 3)
    .map(({ label, page, pages }) => (pages === 0 ? `${label}: laying out` : `${label}: page ${page} of ${pages}`));
  return [`${done} of ${total}`, ...now, timeLeftWords(seconds)].filter((part) => part !== '').join(', ');
}

const FAULT = 'was not written because of a fault of Twelvefold; please report it with the book file and this line';

async function writeOutput(
  pool: Pool,
  output: Output,
  folder: string,
  signal: AbortSignal,
  onPage: (page: number, pages: number) => void,
): Promise<OutputResult> {
  const { label } = output;
  const none = { label, file: undefined, pages: 0 };
  try {
    const { bytes, issues, pages } = await pool.run(output.job, onPage);
    if (!bytes) return { ...none, issues };
    try {
      await writeSafely(join(folder, output.file), (sink) => void sink.end(bytes), { signal, inFolder: true });
    } catch (failure) {
      const issue = fileIssue(failure, output.file);
      if (!issue) throw failure;
      return { ...none, issues: [...issues, issue] };
    }
    return { label, file: output.file, pages, issues };
  } catch (failure) {
    if (signal.aborted || !(failure instanceof JobFailure)) throw failure;
    return { ...none, issues: [error('output-failed', [], `${label} ${FAULT}: ${failure.message}`)] };
  }
}

/**
 * Makes all outputs and gives their results in the order of the list. Rejects only when the signal is aborted; then no file
 * is left half-written, and those that were finished stay.
 */
export async function runBatch(
  outputs: readonly Output[],
  pool: Pool,
  folder: string,
  signal: AbortSignal,
  onProgress: (progress: BatchProgress) => void,
): Promise<OutputResult[]> {
  const begun = performance.now();
  const running = new Map<Output, { page: number; pages: number }>();
  let done = 0;
  const tell = (): void => {
    const parts = [...running.values()].map(({ page, pages }) => (pages === 0 ? 0 : LAYOUT_SHARE + (1 - LAYOUT_SHARE) * (page / pages)));
    const share = (done + parts.reduce((a, b) => a + b, 0)) / Math.max(1, outputs.length);
    onProgress({
      done,
      total: outputs.length,
      running: [...running].map(([{ label }, at]) => ({ label, ...at })),
      secondsLeft: secondsLeft((performance.now() - begun) / 1000, share),
    });
  };
  return await Promise.all(
    outputs.map(async (output) => {
      const result = await writeOutput(pool, output, folder, signal, (page, pages) => {
        running.set(output, { page, pages });
        tell();
      });
      running.delete(output);
      done++;
      tell();
      return result;
    }),
  );
}
