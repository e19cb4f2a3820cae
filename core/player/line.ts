/** A route realised for one player: every note with its pitch and its exact time. */
import type { Exercise } from '../exercise/exercise.js';
import type { RhythmValue } from '../exercise/rhythm.js';
import type { Statement } from '../exercise/route.js';
import type { Fraction } from '../theory/fraction.js';
import type { Key } from '../theory/key.js';
import type { Pitch } from '../theory/pitch.js';
import type { Player } from './player.js';

export type LineNote = {
  readonly kind: 'note';
  readonly index: number;
  /** Index of its statement; the closing note belongs to statement `statements.length`. */
  readonly statement: number;
  /** Which tone of the statement as played, from 0. */
  readonly tone: number;
  /** Degree as written in the figure, signs and all: `b3`. */
  readonly degree: string;
  readonly written: Pitch;
  readonly sounding: Pitch;
  readonly onset: Fraction;
  readonly duration: Fraction;
  /** The value it was given by the rhythm; its duration may be longer where a statement is padded. */
  readonly value: RhythmValue;
};

export type LineRest = {
  readonly kind: 'rest';
  readonly index: number;
  readonly statement: number;
  readonly onset: Fraction;
  readonly duration: Fraction;
  readonly value: RhythmValue;
};

export type LineEvent = LineNote | LineRest;

export type PlacedStatement = Statement & {
  readonly writtenKey: Key;
  readonly soundingKey: Key;
  /** Written pitch of degree 1. */
  readonly root: Pitch;
  readonly onset: Fraction;
  /** Time up to the next statement, padding included. */
  readonly duration: Fraction;
  /** The figure was turned at the limit of the compass in this key. */
  readonly turned: boolean;
  /** The root is held through the statement instead of the figure (a member of a set, in a key that does not fit it). */
  readonly held?: boolean;
};

export type Line = {
  readonly exercise: Exercise;
  readonly player: Player;
  readonly statements: readonly PlacedStatement[];
  readonly events: readonly LineEvent[];
  readonly turnaround: number | undefined;
  /** Whole bars: a multiple of the bar length. */
  readonly duration: Fraction;
  /** Written keys that were left out because the figure does not fit the compass. */
  readonly leftOut: readonly Key[];
};
