/** The proof of a finished edition, or of the parts of an ensemble: each rule of the list over all that it is about. */

import { at } from '../base/list.js';
import type { Book } from '../book/book.js';
import type { Fonts } from '../engrave/metrics.js';
import { type Fault, type Finding, faultOf } from './fault.js';
import type { ProvedEdition } from './proved-edition.js';
import type { Checks, Offers, Rule, Scope, SharedChecks, SharedOffers, SharedScope } from './rule.js';
import { RULES } from './rules.js';
import { type Offer, type Walked, walkEdition } from './walk.js';

export type ProofOptions = {
  readonly onPage?: (done: number, total: number) => void;
};

export type Proof = {
  readonly edition: string;
  readonly pages: number;
  readonly faults: readonly Fault[];
  /** By number of the rule, how often it was applied: to systems, exercises, pages or the edition, as it is about them. */
  readonly checked: Readonly<Record<number, number>>;
};

/** Counts what the rules say of one part. */
function openTally() {
  const faults: Fault[] = [];
  const checked: Record<number, number> = {};
  const record = (rule: Rule, findings: readonly Finding[]): void => {
    checked[rule.number] = (checked[rule.number] ?? 0) + 1;
    for (const found of findings) faults.push(faultOf(rule, found));
  };
  return { faults, checked, record };
}

/** A part with all rules applied that need no other part. */
type Examined = { readonly edition: ProvedEdition; readonly tally: ReturnType<typeof openTally>; readonly walked: Walked };

function examine(edition: ProvedEdition, book: Book, fonts: Fonts, { onPage = () => undefined }: ProofOptions): Examined {
  const tally = openTally();
  const offer: Offer = <S extends Scope>(scope: S, offered: Offers[S]) => {
    for (const rule of RULES) {
      const checks: Checks = rule.check;
      const findings = checks[scope]?.(offered);
      if (findings) tally.record(rule, findings);
    }
  };
  return { edition, tally, walked: walkEdition(edition, book, fonts, offer, onPage) };
}

/** What these parts share, offered to the rules that look at all of them. */
function offerShared<S extends SharedScope>(scope: S, parts: readonly Examined[], offered: SharedOffers[S]): void {
  for (const rule of RULES) {
    const checks: SharedChecks = rule.check;
    checks[scope]?.(offered).forEach((findings, i) => {
      if (findings) at(parts, i).tally.record(rule, findings);
    });
  }
}

function judge(parts: readonly Examined[]): Proof[] {
  for (const id of new Set(parts.flatMap(({ walked }) => [...walked.exercises.keys()]))) {
    const having = parts.filter(({ walked }) => walked.exercises.has(id));
    const exercises = having.flatMap(({ walked }) => walked.exercises.get(id) ?? []);
    offerShared('sharedExercise', having, exercises);
  }
  const spreads = parts.map(({ walked }) => walked.spreads);
  offerShared('sharedPages', parts, spreads);
  return parts.map(({ edition: { spec, part = spec.instrument, document }, tally: { faults, checked } }) => {
    const sorted = faults.map((fault): Fault => ({ ...fault, edition: part })).sort((a, b) => a.rule - b.rule);
    return { edition: part, pages: document.pages.length, faults: sorted, checked };
  });
}

export const proveEdition = (edition: ProvedEdition, book: Book, fonts: Fonts, options: ProofOptions = {}): Proof =>
  at(judge([examine(edition, book, fonts, options)]), 0);

/** The proof of the parts of an ensemble, by part: what one part demands of its systems and pages excuses what the others have for it. */
export const proveEnsemble = (parts: readonly ProvedEdition[], book: Book, fonts: Fonts): Proof[] =>
  judge(parts.map((part) => examine(part, book, fonts, {})));
