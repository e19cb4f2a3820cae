/** What a proof finds wrong: which rule, where, by how much. */

/** The rules of a proof, by number. */
export const RULES = {
  1: { id: 'no-overlap', title: 'No two marks overlap' },
  2: { id: 'half-space', title: 'Neighbouring columns keep half a space apart' },
  3: { id: 'accidental-fit', title: 'Accidentals stand close before their heads' },
  4: { id: 'header-gaps', title: 'Clef, key, time and first note stand in order and well spaced' },
  5: { id: 'key-signature', title: 'Key signatures are those of the written keys' },
  6: { id: 'replay', title: 'What is printed, read back, is what is to be played' },
  7: { id: 'courtesies', title: 'Every needed reminder is printed and no other' },
  8: { id: 'stem-length', title: 'Stems have their length' },
  9: { id: 'middle-line', title: 'Stems of far heads reach the middle line' },
  10: { id: 'stem-direction', title: 'Stems point the right way' },
  11: { id: 'stem-anchor', title: 'Stems touch the edge of their heads' },
  12: { id: 'beam-ink', title: 'Beams have their thickness and distance' },
  13: { id: 'beam-rise', title: 'Beams rise no more than their notes ask' },
  14: { id: 'beam-clearance', title: 'Beams keep clear of heads and ledger lines' },
  15: { id: 'metre', title: 'Bars are full and beams show the beat' },
  16: { id: 'ledger-lines', title: 'Ledger lines are those needed, at their places' },
  17: { id: 'spacing', title: 'Equal durations get equal space' },
  18: { id: 'system-width', title: 'Systems fill the width' },
  19: { id: 'evenness', title: 'Systems are evenly filled' },
  20: { id: 'vertical-air', title: 'Systems keep apart' },
  21: { id: 'inside-page', title: 'All ink stands inside the margins' },
  22: { id: 'page-turns', title: 'No exercise is cut by a page turn' },
  23: { id: 'numbering', title: 'Pages, bars, exercises and keys are in order' },
  24: { id: 'breath', title: 'Breaths stand clear, and every note is within reach' },
  25: { id: 'hygiene', title: 'The document is fit to be printed' },
} as const;

export type RuleNumber = keyof typeof RULES;
export type RuleId = (typeof RULES)[RuleNumber]['id'];

export const RULE_NUMBERS = Object.keys(RULES).map(Number) as readonly RuleNumber[];

export type Unit = 'sp' | 'pt' | 'mm' | '%' | 's' | 'count' | 'ratio';

/** Where: as much of it as is known. */
export type Spot = {
  /** Instrument id of the edition. */
  readonly edition?: string;
  /** Page label as printed. */
  readonly page?: string;
  readonly exercise?: string;
  /** System of the exercise, from 0. */
  readonly system?: number;
  /** Bar of the exercise as printed, from 1. */
  readonly bar?: number;
};

export type Fault = Spot & {
  readonly rule: RuleNumber;
  readonly id: RuleId;
  /** One sentence. */
  readonly what: string;
  /** Measured, and what it should not pass, where the rule has a number. */
  readonly amount?: number;
  readonly limit?: number;
  readonly unit?: Unit;
};

export type Measured = { readonly amount: number; readonly limit: number; readonly unit: Unit };

export function fault(rule: RuleNumber, spot: Spot, what: string, measured?: Measured): Fault {
  return { rule, id: RULES[rule].id, ...spot, what, ...measured };
}
