/** `twelvefold check`: reads a book and tries every exercise with every player, and writes nothing. */
import { readFileSync } from 'node:fs';
import type { Book, EditionSpec } from '../book/book.js';
import { buildEdition, realiseBook } from '../build.js';
import { openFonts } from '../engrave/metrics.js';
import { fontFiles } from '../fonts-on-disk.js';
import { type Issue, isError, type Result, under } from '../issue.js';
import { playerOf } from '../player/compass.js';
import type { Player } from '../player/player.js';
import { type Proof, proveEdition } from '../proof/proof.js';
import { proofJson, proofReport } from '../proof/report.js';
import { openFile } from './open.js';
import { count, countText, EXIT, type ExitCode, type Terminal, tellIssues, tellJson } from './terminal.js';

/** The player that an edition is printed for. */
export function editionPlayer(edition: EditionSpec): Result<Player> {
  return playerOf({ instrument: edition.instrument, level: edition.level, compass: edition.compass, spelling: edition.spelling });
}

/** What goes wrong when the book is carried through the keys for each of its players, with paths into the book. */
export function checkLines(book: Book): Issue[] {
  return book.editions.flatMap((edition, i) => {
    const player = editionPlayer(edition);
    const before = under(['editions', i], player.issues);
    return player.ok ? [...before, ...realiseBook(book, player.value).issues] : before;
  });
}

/** Faults told in full for each edition; the rest are counted. */
const REPORTED = 5;

/** Sets every edition and holds its pages against the rules; nothing is written. */
function proveBook(book: Book): Proof[] {
  const fonts = openFonts(fontFiles((path) => readFileSync(path)));
  return book.editions.flatMap((spec) => {
    const edition = buildEdition(book, spec, fonts);
    return edition.ok ? [proveEdition(edition.value, book, fonts)] : [];
  });
}

export async function checkCommand(name: string, options: { readonly json?: boolean }, terminal: Terminal): Promise<ExitCode> {
  const { book, file } = await openFile(name, terminal);
  const issues = [...book.issues, ...(book.ok ? checkLines(book.value) : [])];
  const ok = !issues.some(isError);
  const proofs = book.ok && ok ? proveBook(book.value) : [];
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
  if (!ok) return EXIT.mistakes;
  return proofs.some((proof) => proof.faults.length > 0) ? EXIT.proofFaults : EXIT.ok;
}
