/** Random books in great number: every invariant, and for some of them the pages, the proof and the same bytes twice. */
import fc from 'fast-check';
import { proofReport } from '../../core/proof/report.js';
import { book, bookText, proofOf } from '../proof/random-book.js';
import { holds, pagesOf, pdfDigest } from '../safety/invariants.js';
import { type Figures, progress } from './table.js';

/** Of so many books one is laid out, painted twice and proved. */
const SAMPLE = 20;

export async function soakBooks(count: number, seed: number, { tell, fault }: Figures): Promise<void> {
  const show = progress('random books', count);
  const wishes = fc.sample(fc.tuple(book, fc.constantFrom('in time', 'added beat')), { numRuns: count, seed });
  let [played, lines, plans, painted, pages] = [0, 0, 0, 0, 0];
  for (const [n, [wish, manner]] of wishes.entries()) {
    show(n);
    try {
      const verdict = holds(bookText(wish, { breath: { manner } }));
      if (!verdict) continue;
      played++;
      lines += verdict.lines;
      plans += verdict.plans;
      if (n % SAMPLE > 0) continue;
      const [first, second] = [pagesOf(verdict), pagesOf(verdict)];
      if (!first || !second) continue;
      painted++;
      pages += first.document.pages.length;
      if ((await pdfDigest(first)) !== (await pdfDigest(second))) fault(`book ${n}: other bytes the second time`);
      const proof = proofOf(wish);
      if (proof && proof.faults.length > 0)
        fault(`book ${n}, proof: ${proofReport(proof, 1).replace(/\s*\n\s*/g, ' ')} ${JSON.stringify(wish)}`);
    } catch (failure) {
      fault(`book ${n}: ${failure instanceof Error ? failure.message.slice(0, 300) : String(failure)} in ${JSON.stringify(wish)}`);
    }
  }
  tell('random books', `${count}: ${played} played, ${count - played} refused with a reason`);
  tell('lines with every invariant, breath plans', `${lines}, ${plans}`);
  tell('of them painted twice and proved', `${painted} books, ${pages} pages`);
}
