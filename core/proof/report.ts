/** A proof in words, and as data for other programs. */
import type { Fault, Finding, Spot, Unit } from './fault.js';
import type { Proof } from './proof.js';
import { RULES } from './rules.js';

const UNITS: Readonly<Record<Unit, string>> = { sp: ' sp', pt: ' pt', mm: ' mm', '%': ' %', s: ' s', count: '', ratio: '' };

/** `page 12, exercise five-up, system 2, bar 7`; systems from 1, as a reader counts. */
export function placeText({ page, exercise, system, bar }: Spot): string {
  const parts = [
    page === undefined ? undefined : `page ${page}`,
    exercise === undefined ? undefined : `exercise ${exercise}`,
    system === undefined ? undefined : `system ${system + 1}`,
    bar === undefined ? undefined : `bar ${bar}`,
  ];
  return parts.filter((part) => part !== undefined).join(', ') || 'the whole edition';
}

/** `(0.38 sp, limit 0.5 sp)`, or nothing for a rule without numbers. */
export function measuredText({ amount, limit, unit }: Finding): string {
  if (amount === undefined || limit === undefined || unit === undefined) return '';
  return ` (${amount}${UNITS[unit]}, limit ${limit}${UNITS[unit]})`;
}

export const faultText = (fault: Finding): string => `${placeText(fault)}: ${fault.what}${measuredText(fault)}`;

const plural = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`;

/** One line: `clarinet-in-bb: 72 pages, 14 faults in 3 rules (1 no-overlap, 2 half-space, 24 breath).` */
export function proofSummary({ edition, pages, faults }: Proof): string {
  if (faults.length === 0) return `${edition}: ${plural(pages, 'page')}, no faults.`;
  const rules = new Set(faults.map(({ rule, id }) => `${rule} ${id}`));
  return `${edition}: ${plural(pages, 'page')}, ${plural(faults.length, 'fault')} in ${plural(rules.size, 'rule')} (${[...rules].join(', ')}).`;
}

/** A rule with what came of it. */
export type RuleResult = {
  readonly rule: number;
  readonly id: string;
  readonly title: string;
  /** How often it was applied. */
  readonly checked: number;
  readonly faults: readonly Fault[];
};

/** Every rule, in the order of the list. */
export const ruleResults = ({ checked, faults }: Pick<Proof, 'checked' | 'faults'>): RuleResult[] =>
  RULES.map(({ number, id, title }) => ({
    rule: number,
    id,
    title,
    checked: checked[number] ?? 0,
    faults: faults.filter((fault) => fault.rule === number),
  }));

/** The report for people: a summary, then each rule that failed with its faults, at most `most` of each. */
export function proofReport(proof: Proof, most = 20): string {
  const lines = [proofSummary(proof)];
  for (const { rule, title, checked, faults } of ruleResults(proof)) {
    if (faults.length === 0) continue;
    lines.push('', `Rule ${rule}, ${title.toLowerCase()}: ${plural(faults.length, 'fault')} in ${plural(checked, 'check')}`);
    for (const fault of faults.slice(0, most)) lines.push(`  ${faultText(fault)}`);
    if (faults.length > most) lines.push(`  … and ${faults.length - most} more`);
  }
  return `${lines.join('\n')}\n`;
}

export type ProofJson = {
  readonly edition: string;
  readonly pages: number;
  /** As a rule's result, but with the number of its faults. */
  readonly rules: readonly (Omit<RuleResult, 'faults'> & { readonly faults: number })[];
  readonly faults: readonly Fault[];
};

/** The report for programs: plain data, ready for JSON. */
export function proofJson(proof: Proof): ProofJson {
  const rules = ruleResults(proof).map((result) => ({ ...result, faults: result.faults.length }));
  return { edition: proof.edition, pages: proof.pages, rules, faults: proof.faults };
}
