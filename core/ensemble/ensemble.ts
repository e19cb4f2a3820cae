/** An ensemble: chairs that play the same exercises at the same time, each from its own part. */

import type { Mm } from '../base/units.js';
import type { PageSize } from '../book/book.js';
import type { Breather } from '../breath/lung-time.js';
import type { Player } from '../player/player.js';
import type { PitchClass } from '../theory/pitch.js';

export type Chair = {
  /** Kebab-case, different from chair to chair: `trumpet-2`. */
  readonly id: string;
  /** As on its title page: `Trumpet 2 in B♭`. */
  readonly name: string;
  /** As before a staff of the score: `Tpt. 2`. */
  readonly short: string;
  readonly player: Player;
  /** How many people play from this part. */
  readonly players: number;
  /** Chairs of one group breathe by turns and share an inner bracket in the score; the instrument's id when not said. */
  readonly group: string;
  readonly staff: Mm | undefined;
  readonly page: PageSize | undefined;
  readonly breather: Breather;
};

/** What the ensemble does in a key that some chair cannot play; `as-written` follows the exercise's own remedy. */
export type Remedy = 'as-written' | 'leave-out' | 'turn' | 'hold-root';

/** Chairs that keep the same sounding pitch as the first of them, or stay a whole number of octaves from it. */
export type Bond = { readonly chairs: readonly string[]; readonly distance: 'unison' | 'octave' };

export type ScoreOrderName = 'band' | 'orchestra' | 'high-to-low';

export type ScoreSpec = {
  readonly order: ScoreOrderName;
  readonly pitch: 'concert' | 'transposed';
  readonly page: PageSize | undefined;
  /** Height of each staff; as large as fits the page well when undefined. */
  readonly staff: Mm | undefined;
};

export type EnsembleBreathing = {
  readonly plan: 'none' | 'together' | 'staggered';
  /** Beats a minute for all exercises; each exercise's slowest tempo when undefined. */
  readonly tempo: number | undefined;
};

export type Ensemble = {
  readonly name: string;
  readonly chairs: readonly Chair[];
  readonly remedy: Remedy;
  /** Concert key in which exercises begin that name no concert key themselves; that of the first chair when undefined. */
  readonly start: PitchClass | undefined;
  readonly bonds: readonly Bond[];
  readonly breathing: EnsembleBreathing;
  readonly score: ScoreSpec;
  /** Ids of the exercises to print; all when undefined. */
  readonly exercises: readonly string[] | undefined;
};
