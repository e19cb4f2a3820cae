/** The proof of one edition, with places that a window can jump to. */
import type { ExercisePosition } from '../fields.js';

export type ProofFault = {
  /** Title of the rule. */
  readonly rule: string;
  readonly what: string;
  /** Page label as printed, and its index. */
  readonly page: string | undefined;
  readonly pageIndex: number | undefined;
  readonly place: ExercisePosition | undefined;
  readonly exercise: string | undefined;
};

export type ProofView = {
  readonly pages: number;
  /** Every rule with the number of times it was applied and the faults it found. */
  readonly rules: readonly { readonly number: number; readonly title: string; readonly checked: number; readonly faults: number }[];
  readonly faults: readonly ProofFault[];
};
