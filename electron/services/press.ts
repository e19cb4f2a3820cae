/** Writing finished files into a folder: whole or not at all, with how far the work has come. */
import { join } from 'node:path';
import type { Fonts } from '../../core/engrave/metrics.js';
import { fileIssue, writeSafely } from '../../core/files.js';
import { bad, error, type Issue, type Result } from '../../core/issue.js';
import type { Document } from '../../core/layout/page.js';
import { writePdf } from '../../core/output/pdf.js';
import type { BuiltFile } from './contract.js';

/** Lets the event loop turn, so that a wish to stop is heard. */
export const turn = () => new Promise<void>((resolve) => setImmediate(resolve));

export const stopped = (): Issue => error('stopped', [], 'Stopped, as you wished; finished files stay, and nothing half-written is left.');

export type Tell = (done: number, total: number, words: string) => void;

export type Press = {
  readonly folder: string;
  readonly fonts: Fonts;
  readonly signal: AbortSignal;
  /** Path of the file that is being written, for what the disk refuses. */
  at: string;
  readonly files: BuiltFile[];
  readonly issues: Issue[];
  /** Tells of a piece of work that begins and lets a wish to stop be heard. Rejects when it was. */
  readonly begin: (words: string) => Promise<void>;
  /** Share of the present piece, 0 to 1. */
  readonly share: (part: number) => void;
};

/** `pieces`: how many times `begin` will be called. */
export function openPress(folder: string, fonts: Fonts, signal: AbortSignal, pieces: number, tell: Tell): Press {
  const total = Math.max(1, pieces) * 100;
  let piece = -1;
  let said = '';
  return {
    folder,
    fonts,
    signal,
    at: folder,
    files: [],
    issues: [],
    async begin(words) {
      piece++;
      said = words;
      tell(Math.min(total, piece * 100), total, words);
      await turn();
      signal.throwIfAborted();
    },
    share: (part) => tell(Math.min(total, Math.max(0, piece) * 100 + Math.round(100 * part)), total, said),
  };
}

export const sinkWriter =
  (sink: NodeJS.WritableStream) =>
  (chunk: Uint8Array | string): Promise<void> =>
    new Promise((done, fail) => void sink.write(chunk, (problem) => (problem ? fail(problem) : done())));

export async function pressPdf(press: Press, document: Document, name: string, from = 0.4): Promise<void> {
  const { fonts, signal } = press;
  press.at = join(press.folder, name);
  const pages = document.pages.length;
  await writeSafely(
    press.at,
    (sink) => writePdf(document, fonts, sinkWriter(sink), { onPage: (page) => press.share(from + ((1 - from) * page) / pages), signal }),
    { signal, inFolder: true },
  );
  press.files.push({ path: press.at, name, pages });
}

/** What went wrong while files were written; rethrown where it is a fault of the program. */
export function pressFailure(failure: unknown, { signal, at, issues }: Press): Result<never> {
  if (signal.aborted) return bad(stopped());
  const issue = fileIssue(failure, at);
  if (!issue) throw failure;
  return bad(...issues, issue);
}
