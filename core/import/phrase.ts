/** A phrase as it comes in: one note or rest after another, before its key and its degrees are known. */

import { error, type Issue } from '../base/issue.js';
import { MAX_TONES } from '../exercise/figure.js';
import type { Fraction } from '../theory/fraction.js';
import type { Mode } from '../theory/key.js';
import type { Metre } from '../theory/metre.js';
import type { Pitch } from '../theory/pitch.js';

export type TupletRatio = {
  readonly actual: number;
  readonly normal: number;
  /** The first note of a group, where the file says so. */
  readonly opens?: boolean;
};

export type PhraseEvent = {
  readonly kind: 'note' | 'rest';
  /** MIDI key number; 0 for a rest. */
  readonly key: number;
  /** As spelled, where the file spells. */
  readonly pitch?: Pitch;
  /** Whole notes. */
  readonly duration: Fraction;
  readonly tuplet?: TupletRatio;
  /** Of a tied note: what it was before the first tie. */
  readonly began?: { readonly duration: Fraction; readonly tuplet?: TupletRatio };
  /** Tied from inside a tuplet to outside, or the other way: no single value can be its length. */
  readonly mixed?: boolean;
  /** From 1. */
  readonly bar: number;
};

export type Phrase = {
  readonly events: readonly PhraseEvent[];
  /** Signature at the start, where the file has one; mode where it says so. */
  readonly signature?: { readonly fifths: number; readonly mode?: Mode };
  readonly metre?: Metre;
  readonly title?: string;
};

export const tooLong = (): Issue =>
  error(
    'phrase-too-long',
    [],
    `The file holds more than the ${MAX_TONES} notes and rests of a figure; save the phrase alone, without its repetitions in other keys.`,
  );

export const noNotes = (): Issue => error('no-notes', [], 'The file holds no note; choose another file.');

/** Rests after the last note only fill up the bar; those before the first are kept if they are counted within a bar. */
export function trimmed(events: readonly PhraseEvent[]): readonly PhraseEvent[] {
  const last = events.findLastIndex((event) => event.kind === 'note');
  return events.slice(0, last + 1);
}
