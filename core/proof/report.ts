/** A proof in words, and as data for other programs. */
import { type Fault, RULE_NUMBERS, RULES, type RuleNumber, type Unit } from './fault.js';
import type { Proof } from './proof.js';

const UNITS: Readonly<Record<Unit, string>> = { sp: ' sp', pt: ' pt', mm: ' mm', '%': ' %', s: ' s', count: '', ratio: '' };

/** `page 12, exercise five-up, system 2, bar 7`; systems from 1, as a reader counts. */
export function placeText({ page, exercise, system, bar }: Fault): string {
  const parts = [
    page === undefined ? undefined : `page ${page}`,
    exercise === undefined ? undefined : `exercise ${exercise}`,
    system === undefined ? undefined : `system ${system + 1}`,
    bar === undefined ? undefined : `bar ${bar}`,
  ];
  return parts.filter((part) => part !== undefined).join(', ') || 'the whole edition';
}

/** `(0.38 sp, limit 0.5 sp)`, or nothing for a rule without numbers. */
export function measuredText({ amount, limit, unit }: Fault): string {
  if (amount === undefined || limit === undefined || unit === undefined) return '';
  return ` (${amount}${UNITS[unit]}, limit ${limit}${UNITS[unit]})`;
}

export const faultText = (fault: Fault): string => `${placeText(fault)}: ${fault.what}${measuredText(fault)}`;

const plural = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`;

/** One line: `clarinet-in-bb: 72 pages, 14 faults in 3 rules (1 no-overlap, 2 half-space, 24 breath).` */
export function proofSummary({ edition, pages, faults }: Proof): string {
  if (faults.length === 0) return `${edition}: ${plural(pages, 'page')}, no faults.`;
  const rules = [...new Set(faults.map((f) => f.rule))];
  const names = rules.map((n) => `${n} ${RULES[n].id}`).join(', ');
  return `${edition}: ${plural(pages, 'page')}, ${plural(faults.length, 'fault')} in ${plural(rules.length, 'rule')} (${names}).`;
}

/** The report for people: a summary, then each rule that failed with its faults, at most `most` of each. */
export function proofReport(proof: Proof, most = 20): string {
  const lines = [proofSummary(proof)];
  for (const rule of RULE_NUMBERS) {
    const faults = proof.faults.filter((f) => f.rule === rule);
    if (faults.length === 0) continue;
    lines.push(
      '',
      `Rule ${rule}, ${RULES[rule].title.toLowerCase()}: ${plural(faults.length, 'fault')} in ${plural(proof.checked[rule], 'check')}`,
    );
    for (const fault of faults.slice(0, most)) lines.push(`  ${faultText(fault)}`);
    if (faults.length > most) lines.push(`  … and ${faults.length - most} more`);
  }
  return `${lines.join('\n')}\n`;
}

export type ProofJson = {
  readonly edition: string;
  readonly pages: number;
  readonly rules: readonly {
    readonly rule: RuleNumber;
    readonly id: string;
    readonly title: string;
    readonly checked: number;
    readonly faults: number;
  }[];
  readonly faults: readonly Fault[];
};

/** The report for programs: plain data, ready for JSON. */
export function proofJson({ edition, pages, faults, checked }: Proof): ProofJson {
  const rules = RULE_NUMBERS.map((rule) => ({
    rule,
    ...RULES[rule],
    checked: checked[rule],
    faults: faults.filter((f) => f.rule === rule).length,
  }));
  return { edition, pages, rules, faults };
}
