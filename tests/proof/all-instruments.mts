/**
 * Proves the demo books for every instrument of the catalogue: `npx tsx tests/proof/all-instruments.mts [book] [--full]`.
 * Prints a summary for each edition, the whole report with --full, and ends with code 1 if there are faults.
 */
import { readFileSync } from 'node:fs';
import { readBook } from '../../core/book/read.js';
import { buildEdition } from '../../core/build/edition.js';
import { openFonts } from '../../core/engrave/metrics.js';
import { installedFonts } from '../../core/disk/fonts.js';
import { INSTRUMENTS } from '../../core/player/catalogue.js';
import { proveEdition } from '../../core/proof/proof.js';
import { proofReport, proofSummary } from '../../core/proof/report.js';

const full = process.argv.includes('--full');
const wanted = process.argv.slice(2).filter((word) => !word.startsWith('--'));
const fonts = openFonts(installedFonts());
let faults = 0;

for (const name of wanted.length > 0 ? wanted : ['small-wheels', 'keywrights-daybook']) {
  const book = readBook(readFileSync(new URL(`../../assets/books/${name}.twelvefold`, import.meta.url), 'utf8'));
  if (!book.ok) throw new Error(book.issues.map((issue) => issue.message).join('\n'));
  console.log(`${book.value.title}:`);
  const [first] = book.value.editions;
  if (!first) throw new Error('the book has no edition');
  for (const { id } of INSTRUMENTS) {
    const spec = book.value.editions.find((edition) => edition.instrument === id) ?? { ...first, instrument: id, compass: undefined };
    const edition = buildEdition(book.value, spec, fonts);
    if (!edition.ok) {
      console.log(`${id}: cannot be built. ${edition.issues[0]?.message ?? ''}`);
      continue;
    }
    const proof = proveEdition(edition.value, book.value, fonts);
    faults += proof.faults.length;
    console.log(full ? proofReport(proof) : proofSummary(proof));
  }
}
process.exitCode = faults > 0 ? 1 : 0;
