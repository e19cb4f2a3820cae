/** Random exercises for random players: the proof of each is without a fault, or the book says in an issue why it cannot be. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { proofReport } from '../../core/proof/report.js';
import { book, proofOf } from './random-book.js';

describe('random books', () => {
  it('have no faults', () => {
    let proved = 0;
    fc.assert(
      fc.property(book, (wish) => {
        const proof = proofOf(wish);
        if (!proof) return;
        proved++;
        expect(proof.faults.length === 0 ? '' : proofReport(proof, 4)).toBe('');
      }),
      { numRuns: 100, seed: 20260301 },
    );
    // Most random books can be built, or the test would prove nothing.
    expect(proved).toBeGreaterThan(50);
  });
});
