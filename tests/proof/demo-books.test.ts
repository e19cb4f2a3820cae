/** The demo books for a few unlike instruments: high and low, transposing and not, every clef of the winds. All of them: all-instruments.mts. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readBook } from '../../core/book/read.js';
import { buildEdition } from '../../core/build/edition.js';
import { proveEdition } from '../../core/proof/proof.js';
import { proofReport } from '../../core/proof/report.js';
import { testFonts } from '../fonts.js';

const CASES = [
  ['small-wheels', 'flute'],
  ['small-wheels', 'clarinet-in-bb'],
  ['small-wheels', 'trombone'],
  ['keywrights-daybook', 'alto-saxophone'],
  ['keywrights-daybook', 'tuba'],
] as const;

describe('demo books', () => {
  it.each(CASES)('%s for %s has no faults', (name, instrument) => {
    const book = readBook(readFileSync(`assets/books/${name}.twelvefold`, 'utf8'));
    if (!book.ok) throw new Error(book.issues.map((i) => i.message).join('\n'));
    const spec = book.value.editions.find((e) => e.instrument === instrument);
    if (!spec) throw new Error(`no edition for ${instrument}`);
    const edition = buildEdition(book.value, spec, testFonts());
    if (!edition.ok) throw new Error(edition.issues.map((i) => i.message).join('\n'));
    const proof = proveEdition(edition.value, book.value, testFonts());
    // Nothing is proved by a rule that was never applied.
    expect(Object.values(proof.checked).every((n) => n > 0)).toBe(true);
    expect(proof.faults.length === 0 ? '' : proofReport(proof, 3)).toBe('');
  });
});
