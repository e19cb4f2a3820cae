/** The report of a proof, for people and for programs. */
import { describe, expect, it } from 'vitest';
import { finding } from '../../core/proof/fault.js';
import { faultText, proofJson, proofReport, proofSummary } from '../../core/proof/report.js';
import { RULES } from '../../core/proof/rules.js';
import { built, damaged, nth, prove } from './edition.js';

const edition = built({ figure: '1 2 3 5', order: ['C', 'F'], rhythm: 'quarters', start: { written: 'C' } });
const broken = damaged(
  edition,
  nth('ledger', 0, () => undefined),
);

describe('report', () => {
  it.each([
    [
      finding({ page: '4', exercise: 'a', system: 0, bar: 3 }, 'Too near.', { amount: 0.4, limit: 0.5, unit: 'sp' }),
      'page 4, exercise a, system 1, bar 3: Too near. (0.4 sp, limit 0.5 sp)',
    ],
    [finding({ page: 'iv' }, 'No number.'), 'page iv: No number.'],
    [finding({}, 'No title.'), 'the whole edition: No title.'],
  ])('%#', (one, text) => {
    expect(faultText(one)).toBe(text);
  });

  it('says that there is nothing to say', () => {
    expect(proofSummary(prove(edition))).toMatch(/^flute: \d+ pages, no faults\.$/);
  });

  it('says what is wrong and where', () => {
    const report = proofReport(prove(broken));
    expect(report).toMatch(/^flute: \d+ pages, 1 fault in 1 rule \(16 ledger-lines\)\.\n/);
    expect(report).toMatch(/\n {2}page 1, exercise 1\.1, system 1, bar \d: A head .* \(0, limit 1\)\n/);
  });

  it('cuts a long list', () => {
    const proof = prove(broken);
    const [one] = proof.faults;
    const many = { ...proof, faults: Array.from({ length: 30 }, () => one!) };
    expect(proofReport(many, 20).split('\n').at(-2)).toBe('  … and 10 more');
  });

  it('is plain data for programs', () => {
    const json = proofJson(prove(broken));
    expect(JSON.parse(JSON.stringify(json))).toEqual(json);
    expect(json.rules.map((r) => r.rule)).toEqual(RULES.map(({ number }) => number));
    expect(json.rules.filter((r) => r.faults > 0).map((r) => r.id)).toEqual(['ledger-lines']);
  });
});
