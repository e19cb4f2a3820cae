/** The compass: the lowest and the highest written note a player is asked for; and the player as a whole. */

import { bad, error, good, type Issue, type Result, under, warning } from '../base/issue.js';
import type { Level } from '../exercise/exercise.js';
import { midi, type Pitch, parsePitch, pitchName } from '../theory/pitch.js';
import { instrumentById } from './catalogue.js';
import type { Compass, Instrument, Player, SpellingPreference } from './player.js';

export const DEFAULT_SPELLING: SpellingPreference = { tie: 'flats', prefer: [] };

/** True if the pitch lies in the compass, both ends included: by key number, so that B♯3 counts as C4. */
export function inCompass(pitch: Pitch, compass: Compass): boolean {
  const key = midi(pitch);
  return midi(compass.low) <= key && key <= midi(compass.high);
}

/** `B♭3 to F6`, in plain text: `Bb3 to F6`. */
export const compassText = (compass: Compass): string => `${pitchName(compass.low)} to ${pitchName(compass.high)}`;

function upsideDown(compass: Compass): Issue | undefined {
  if (midi(compass.low) < midi(compass.high)) return undefined;
  const { low, high } = compass;
  return error(
    'compass-upside-down',
    [],
    `The lowest note ${pitchName(low)} is not below the highest note ${pitchName(high)}. Change one of them, or exchange them.`,
  );
}

/**
 * Reads the two ends of a compass, such as `Bb3` and `F6` (written pitch, middle C is C4).
 * Issues `not-a-note` at path ['low'] or ['high'], `compass-upside-down` at [].
 */
export function parseCompass(lowest: string, highest: string): Result<Compass> {
  const low = parsePitch(lowest);
  const high = parsePitch(highest);
  const wrong = (end: string, source: string): Issue =>
    error('not-a-note', [end], `"${source}" is not a note with its octave. Write it as Bb3 or F#5; middle C is C4.`);
  if (!low || !high) {
    return bad(...(low ? [] : [wrong('low', lowest)]), ...(high ? [] : [wrong('high', highest)]));
  }
  const issue = upsideDown({ low, high });
  return issue ? bad(issue) : good({ low, high });
}

/** A compass more than an octave beyond the handbooks is more likely a slip of the octave number. */
function farBeyond(compass: Compass, instrument: Instrument): Issue[] {
  const full = instrument.compass.professional;
  if (midi(compass.low) >= midi(full.low) - 12 && midi(compass.high) <= midi(full.high) + 12) return [];
  return [
    warning(
      'compass-beyond-instrument',
      ['compass'],
      `${compassText(compass)} is more than an octave beyond what ${instrument.name} is written for (${compassText(full)}). Check the octave numbers.`,
    ),
  ];
}

/**
 * The player of an instrument (id or printed name) at a level; a compass of its own replaces that of the level.
 * Issues at paths ['instrument'] and ['compass'].
 */
export function playerOf(spec: {
  readonly instrument: string;
  readonly level: Level;
  readonly compass?: Compass | undefined;
  readonly spelling?: SpellingPreference | undefined;
}): Result<Player> {
  const instrument = instrumentById(spec.instrument);
  if (!instrument.ok) return bad(...under(['instrument'], instrument.issues));
  const compass = spec.compass ?? instrument.value.compass[spec.level];
  const issue = upsideDown(compass);
  if (issue) return bad(...under(['compass'], [issue]));
  const issues = spec.compass ? farBeyond(compass, instrument.value) : [];
  return good({ instrument: instrument.value, level: spec.level, compass, spelling: spec.spelling ?? DEFAULT_SPELLING }, issues);
}
