/** Bars: the line cut at barlines into written values, before any distance is known. */
import type { Fraction } from '../theory/fraction.js';
import type { Key } from '../theory/key.js';
import type { Pitch } from '../theory/pitch.js';

/** A printed accidental: 0 is a natural. A courtesy reminds, it does not change. */
export type Sign = { readonly alter: number; readonly courtesy: boolean };

type Written = {
  /** Index into `line.events`. */
  readonly event: number;
  /** From the start of the bar. */
  readonly onset: Fraction;
  readonly duration: Fraction;
  readonly base: Fraction;
  readonly dots: number;
  /** Number of the tuplet in this bar, counted from 0. */
  readonly tuplet: number | undefined;
};

export type BarNote = Written & {
  readonly kind: 'note';
  readonly pitch: Pitch;
  readonly tieIn: boolean;
  readonly tieOut: boolean;
  readonly sign: Sign | undefined;
};

export type BarRest = Written & {
  readonly kind: 'rest';
  /** A rest that fills the bar: printed as a whole rest in its middle. */
  readonly full: boolean;
};

export type BarEvent = BarNote | BarRest;

export type BarTuplet = { readonly actual: number; readonly normal: number; readonly events: readonly number[] };

export type Barline = 'single' | 'double' | 'final';

/** The start of a statement inside a bar. */
export type StatementStart = { readonly statement: number; readonly event: number; readonly key: Key };

export type Bar = {
  /** From 0. The printed number is one more. */
  readonly index: number;
  readonly length: Fraction;
  readonly events: readonly BarEvent[];
  /** Signature in force. */
  readonly fifths: number;
  /** Signature of the bar before, where it differs; undefined where nothing changes. */
  readonly fifthsBefore?: number;
  readonly tuplets: readonly BarTuplet[];
  /** Groups under one beam, as indices into `events`. */
  readonly beams: readonly (readonly number[])[];
  readonly barline: Barline;
  readonly starts: readonly StatementStart[];
  /** The bar's end falls inside a statement: a system had better not end here. */
  readonly cutsStatement: boolean;
  /** The bar's end is the turnaround. */
  readonly turnaround: boolean;
};

/** A slur over events of the line, first and last included. */
export type SlurSpan = { readonly from: number; readonly to: number };

/** Everything the engraving of one exercise needs for one player. */
export type Score = {
  readonly bars: readonly Bar[];
  readonly slurs: readonly SlurSpan[];
  /** Articulation mark by event index. */
  readonly marks: ReadonlyMap<number, 'staccato' | 'accent' | 'tenuto'>;
  /** Breath marks by the event they follow; one in parentheses falls away at a faster tempo. */
  readonly breaths: ReadonlyMap<number, { readonly parenthesised: boolean }>;
};
