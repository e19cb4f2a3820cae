/** A figure on a staff, and one that was read from a phrase. */

/** The figure in C on a staff, with its degrees under the notes, and its sound: MIDI key numbers, undefined for rests. */
export type FigureView = { readonly svg: string; readonly keys: readonly (number | undefined)[]; readonly words: string };

export type ImportView = {
  readonly figure: string;
  readonly rhythm: string;
  /** `B♭ major`, and as it is typed: `Bb`. */
  readonly key: string;
  readonly keyTyped: string;
  readonly keyFrom: 'given' | 'signature' | 'guessed';
  /** Of the key, 0 to 1. */
  readonly confidence: number;
  readonly others: readonly { readonly key: string; readonly keyTyped: string; readonly confidence: number }[];
  readonly metre: string | undefined;
  readonly title: string | undefined;
  /** The phrase in C, engraved with its degrees. */
  readonly svg: string;
};
