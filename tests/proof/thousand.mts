/**
 * Proves random books in number: `npx tsx tests/proof/thousand.mts [count] [seed]`, 1,000 if not said. Part of the bench;
 * the tests prove 100. Prints each kind of fault with the first book that has it, and ends with code 1 if there is one.
 */
import fc from 'fast-check';
import { faultText } from '../../core/proof/report.js';
import { book, proofOf } from './random-book.js';

const [count = 1000, seed = 11] = process.argv.slice(2).map(Number);
const kinds = new Map<string, string>();
let proved = 0;
let faulty = 0;
for (const wish of fc.sample(book, { numRuns: count, seed })) {
  const proof = proofOf(wish);
  if (!proof) continue;
  proved++;
  if (proof.faults.length > 0) faulty++;
  for (const fault of proof.faults) {
    const kind = `rule ${fault.rule}: ${fault.what.replace(/[0-9./]+/g, '#')}`;
    if (!kinds.has(kind)) kinds.set(kind, `${faultText(fault)} in ${JSON.stringify(wish)}`);
  }
}
console.log(`${count} random books: ${proved} proved, ${count - proved} refused with a reason, ${faulty} with faults`);
for (const [kind, first] of kinds) console.log(`  ${kind}\n    ${first}`);
process.exitCode = faulty > 0 ? 1 : 0;
