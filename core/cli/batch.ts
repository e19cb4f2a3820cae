/** Running a batch for a command: a line of progress for a person who watches, and one summary. */
import { join } from 'node:path';
import { type Issue, isError } from '../base/issue.js';
import { type Output, type OutputResult, progressWords, runBatch } from '../batch/batch.js';
import { openPool, type Pool, threadsFor } from '../batch/pool.js';
import type { Context } from '../batch/work.js';
import type { Proof } from '../proof/proof.js';
import { proofJson, proofReport } from '../proof/report.js';
import { growFaster } from './gentle-heap.js';
import { count, EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from './terminal.js';

export type BatchOptions = { readonly out?: string; readonly json?: boolean };

export type ProgressLine = { readonly show: (text: string) => void; readonly clear: () => void };

/** A line on the error stream that is written over and over. */
export function progressLine(terminal: Terminal, quiet: boolean): ProgressLine {
  if (quiet || !terminal.watched) return { show: () => {}, clear: () => {} };
  return { show: (text) => terminal.err(`\r\u001b[K${text}`), clear: () => terminal.err('\r\u001b[K') };
}

/** Opens a pool, does the work, and closes the pool whatever happens. */
export async function withPool<T>(context: Context, jobs: number, signal: AbortSignal, work: (pool: Pool) => Promise<T>): Promise<T> {
  if (context.kind !== 'editions') growFaster();
  const pool = openPool(context, threadsFor(jobs), signal);
  try {
    return await work(pool);
  } finally {
    await pool.close();
  }
}

export async function makeOutputs(
  outputs: readonly Output[],
  pool: Pool,
  folder: string,
  terminal: Terminal,
  options: BatchOptions,
  tell?: (result: OutputResult, index: number) => void,
): Promise<OutputResult[]> {
  const line = progressLine(terminal, options.json === true);
  try {
    return await runBatch(outputs, pool, folder, terminal.signal, {
      onProgress: (progress) => line.show(progressWords(progress)),
      onResult: (result, index) => {
        line.clear();
        tell?.(result, index);
      },
    });
  } finally {
    line.clear();
  }
}

/** Faults told in full for each file; the rest are counted. */
const REPORTED = 5;

export const provedText = ({ faults }: Proof): string => (faults.length > 0 ? count(faults.length, 'proof fault') : 'proved');

export function tellFaults(proof: Proof | undefined, terminal: Terminal): void {
  if (proof && proof.faults.length > 0) terminal.err(proofReport(proof, REPORTED));
}

/** `12 editions in out, 864 pages; 1 not written.` */
export function summaryLine(results: readonly Pick<OutputResult, 'file' | 'pages'>[], noun: string, out: string): string {
  const written = results.filter(({ file }) => file !== undefined);
  const missing = results.length - written.length;
  const pages = written.reduce((sum, result) => sum + result.pages, 0);
  return `${count(written.length, noun)} in ${out}, ${count(pages, 'page')}${missing > 0 ? `; ${missing} not written` : ''}.\n`;
}

/** `files`: whether the names of the files are told in plain text; they may be made of students' names. */
export function tellResults(
  results: readonly OutputResult[],
  issues: readonly Issue[],
  noun: string,
  terminal: Terminal,
  options: BatchOptions & { readonly files: boolean },
): ExitCode {
  const out = options.out ?? '.';
  const written = results.filter((result) => result.file !== undefined);
  const ok = !issues.some(isError) && written.length === results.length;
  if (options.json) {
    const outputs = results.map(({ label, file, pages, issues, proof }) => ({
      label,
      file: file === undefined ? null : join(out, file),
      pages,
      issues,
      ...(proof && { proof: proofJson(proof) }),
    }));
    tellJson(terminal, { ok, issues, outputs });
  } else {
    for (const { label, file, pages, issues: own, proof } of results) {
      tellIssues(terminal, own);
      if (file === undefined) terminal.err(`error: ${label} was not written.\n`);
      else
        terminal.out(
          `Wrote ${options.files ? join(out, file) : label} (${count(pages, 'page')}${proof ? `, ${provedText(proof)}` : ''})\n`,
        );
      tellFaults(proof, terminal);
    }
    if (results.length > 0) terminal.out(summaryLine(results, noun, out));
  }
  if (!ok) return EXIT.mistakes;
  return results.some(({ proof }) => proof && proof.faults.length > 0) ? EXIT.proofFaults : EXIT.ok;
}
