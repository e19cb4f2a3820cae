/** `twelvefold check`: reads a book and tries every exercise with every player, and writes nothing. */

import { error, type Issue, isError, type Result } from '../base/issue.js';
import { FAILED } from '../batch/batch.js';
import { JobFailure } from '../batch/job-failure.js';
import type { Pool } from '../batch/pool.js';
import type { Book, EditionSpec } from '../book/book.js';
import { playerOf } from '../player/compass.js';
import type { Player } from '../player/player.js';
import type { Proof } from '../proof/proof.js';
import { proofJson, proofReport } from '../proof/report.js';
import { progressLine, withPool } from './batch.js';
import { openFile } from './open.js';
import { count, countText, EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from './terminal.js';

/** The player that an edition is printed for. */
export function editionPlayer(edition: EditionSpec): Result<Player> {
  return playerOf({ instrument: edition.instrument, level: edition.level, compass: edition.compass, spelling: edition.spelling });
}

/** Faults told in full for each edition; the rest are counted. */
const REPORTED = 5;

/** The issue of an edition whose thread failed. */
function failed(failure: unknown, index: number): Issue {
  if (!(failure instanceof JobFailure)) throw failure;
  const words = `This edition could not be checked because of a fault of Twelvefold; please report it with the book file and this line: ${failure.message}`;
  return error(FAILED, ['editions', index], words);
}

type Checked = { readonly issues: readonly Issue[]; readonly proofs: readonly Proof[] };

/** Tries the lines of every edition; if all are good, sets every edition and holds its pages against the rules. Writes nothing. */
async function checkBook(book: Book, pool: Pool, line: { readonly show: (text: string) => void }): Promise<Checked> {
  const { editions } = book;
  const lines = await Promise.all(
    editions.map(async (_, index) => {
      try {
        return (await pool.run({ kind: 'lines', index })).issues;
      } catch (failure) {
        return [failed(failure, index)];
      }
    }),
  );
  const issues = lines.flat();
  if (issues.some(isError)) return { issues, proofs: [] };
  let done = 0;
  const proved = await Promise.all(
    editions.map(async (spec, index): Promise<{ issues: Issue[]; proof?: Proof }> => {
      try {
        const { proof } = await pool.run({ kind: 'proof', spec }, (step) => {
          if (step) line.show(`${done} of ${editions.length}, ${spec.instrument}: proving page ${step.page} of ${step.pages}`);
        });
        return { issues: [], ...(proof && { proof }) };
      } catch (failure) {
        return { issues: [failed(failure, index)] };
      } finally {
        done++;
      }
    }),
  );
  return { issues: [...issues, ...proved.flatMap((one) => one.issues)], proofs: proved.flatMap(({ proof }) => proof ?? []) };
}

async function checkOnThreads(book: Book, terminal: Terminal, quiet: boolean): Promise<Checked> {
  const line = progressLine(terminal, quiet);
  try {
    return await withPool({ kind: 'editions', book }, book.editions.length, terminal.signal, (pool) => checkBook(book, pool, line));
  } finally {
    line.clear();
  }
}

export async function checkCommand(name: string, options: { readonly json?: boolean }, terminal: Terminal): Promise<ExitCode> {
  const { book, file } = await openFile(name, terminal);
  const checked: Checked = book.ok ? await checkOnThreads(book.value, terminal, options.json === true) : { issues: [], proofs: [] };
  const { proofs } = checked;
  const issues = [...book.issues, ...checked.issues];
  const ok = !issues.some(isError);
  if (options.json) {
    tellJson(terminal, { ok, issues, proofs: proofs.map(proofJson) });
  } else {
    tellIssues(terminal, issues, file);
    const counted = countText(issues);
    const found = counted === '' ? 'no faults' : counted;
    if (book.ok) {
      const exercises = book.value.chapters.reduce((sum, chapter) => sum + chapter.exercises.length, 0);
      terminal.out(
        `"${book.value.title}": ${count(exercises, 'exercise')} for ${count(book.value.editions.length, 'edition')}, ${found}.\n`,
      );
    } else {
      terminal.out(`${name}: ${found}.\n`);
    }
    for (const proof of proofs) terminal.out(proofReport(proof, REPORTED));
  }
  if (issues.some(({ code }) => code === FAILED)) return EXIT.bug;
  if (!ok) return EXIT.mistakes;
  return proofs.some((proof) => proof.faults.length > 0) ? EXIT.proofFaults : EXIT.ok;
}
