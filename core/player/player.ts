/** A player: who reads the page. */
import type { Level } from '../exercise/exercise.js';
import type { Interval } from '../theory/interval.js';
import type { Pitch, PitchClass } from '../theory/pitch.js';
import type { Family, Kind } from './kinds.js';

export type Clef = 'treble' | 'alto' | 'tenor' | 'bass';

export type Compass = { readonly low: Pitch; readonly high: Pitch };

/** A: bracketed by measurements found. B: partly derived from them. C: an ordering from memory, little better than a guess. */
export type Confidence = 'A' | 'B' | 'C';

/** Mean air flow while playing, litres a second: `mean` at mf in the middle register, `low` to `high` the plausible span from p to f. */
export type Flow = { readonly mean: number; readonly low: number; readonly high: number; readonly confidence: Confidence };

export type Instrument = {
  /** Kebab-case, stable: `alto-saxophone`. */
  readonly id: string;
  /** `Alto saxophone`, as on a title page. */
  readonly name: string;
  /** `A. Sax.`, as before a staff of a score. */
  readonly short: string;
  readonly kind: Kind;
  /** That of its kind. */
  readonly family: Family;
  readonly clef: Clef;
  /** Added to a written pitch it gives the sounding pitch. */
  readonly transposition: Interval;
  /** `B♭`, `E♭`, `F` … for transposing instruments: the pitch that a written C sounds; undefined at concert pitch. */
  readonly pitchedIn: string | undefined;
  /** Written compass by level. */
  readonly compass: Readonly<Record<Level, Compass>>;
  /** Whether it is blown. */
  readonly breath: boolean;
  /** Undefined where it is played without breath. */
  readonly flow: Flow | undefined;
  /** Id in the W3C MusicXML 4.0 list of sounds. */
  readonly soundId: string;
  /** General MIDI program, 1 to 128. */
  readonly midiProgram: number;
  /** Where each range comes from: F read in a source, M from memory. */
  readonly sources: Readonly<Record<Level, string>>;
};

/** Spelling preferences: for a written chroma, the tonic the player prefers; and the side of a 6/6 tie. */
export type SpellingPreference = {
  readonly tie: 'flats' | 'sharps';
  /** Written tonics preferred over their enharmonic neighbours: `[C#]` gives C# major for D flat. */
  readonly prefer: readonly PitchClass[];
};

export type Player = {
  readonly instrument: Instrument;
  readonly level: Level;
  /** Written compass, after overrides. */
  readonly compass: Compass;
  readonly spelling: SpellingPreference;
};
