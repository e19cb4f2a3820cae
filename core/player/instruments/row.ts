/** What an instrument must say of itself. The tables of this folder hold one row for each; core/player/catalogue.ts expands them. */

import type { Level } from '../../exercise/exercise.js';
import type { Kind } from '../kinds.js';
import type { Clef, Flow } from '../player.js';

type Octave = 0 | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

/** `Bb3`; middle C is C4. */
export type NoteName = `${'A' | 'B' | 'C' | 'D' | 'E' | 'F' | 'G'}${'' | 'b' | '#'}${Octave}`;

/** F: read in a source, named by its codes of sources.ts. M: from memory. "M, between": our choice between the two neighbours. */
export type RangeSource = `F:${string}` | `M${string}`;

export type InstrumentRow = {
  /** Kebab-case and for ever: book files name it. */
  readonly id: string;
  /** As on a title page. */
  readonly name: string;
  /** As before a staff of a score. */
  readonly short: string;
  /** Its family, its place in a score and the bracket it stands in follow from it. */
  readonly kind: Kind;
  readonly clef: Clef;
  /** What a written C5 sounds: `Bb4` for a trumpet in B♭, `C5` at concert pitch. */
  readonly soundOfC5: NoteName;
  /**
   * Mean air flow while playing. Little of it was ever measured in public, so each row says how far to trust it.
   *
   * Found in print: the whole span of 15 instruments is under 0.05 to over 1.6 L/s (Bouhuys, J Appl Physiol 1964;19:967);
   * trumpet 0.18 to 0.63 L/s (Fréour, Caussé, Cossette, CFA 2010, hal-00541405); trumpet 0.17 high to 0.5 low and tuba 0.12
   * to 2 L/s (tests reported by A. Jacobs); flute from mouth pressures of 6 to 11 cmH2O (Cossette et al., Respir Physiol
   * 2000;121:33). The rest is ordered by the size of reed or mouthpiece.
   */
  readonly flow: Flow | 'none';
  /** General MIDI program, 1 to 128. */
  readonly midiProgram: number;
  /** Id in the W3C list of sounds (MusicXML 4.0). */
  readonly soundId: string;
  /**
   * Lowest and highest written note and where they come from. Beginner: end of the first year (band grades 1 to 1½).
   * Intermediate: school grades 6 to 8. Advanced: grades 9 to 12. Professional: the compass of the orchestration handbooks,
   * without pedals, altissimo or harmonics.
   */
  readonly compass: Readonly<Record<Level, readonly [low: NoteName, high: NoteName, source: RangeSource]>>;
};
