/** What a proof finds wrong: where, by how much, and against which rule. */

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

export type Measured = { readonly amount: number; readonly limit: number; readonly unit: Unit };

/** What the check of a rule finds. */
export type Finding = Spot &
  // Measured, and what it should not pass, where the rule has a number.
  Partial<Measured> & {
    /** One sentence. */
    readonly what: string;
  };

/** A finding with the rule that found it. */
export type Fault = Finding & {
  /** Number of the rule. */
  readonly rule: number;
  /** Name of the rule for programs: `no-overlap`. */
  readonly id: string;
};

export const finding = (spot: Spot, what: string, measured?: Measured): Finding => ({ ...spot, what, ...measured });

export const faultOf = (rule: { readonly number: number; readonly id: string }, found: Finding): Fault => ({
  rule: rule.number,
  id: rule.id,
  ...found,
});
