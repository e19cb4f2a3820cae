/** Spelling: which of the enharmonic names of a key a player reads, and double accidentals made simple. */

import { assert } from '../base/issue.js';
import { naturalSemitones } from '../theory/interval.js';
import type { ConcertKey } from '../theory/key.js';
import { type Key, keyFifths, keysAtChroma, transposeKey } from '../theory/key.js';
import { midi, type Pitch, sameClass } from '../theory/pitch.js';
import type { Player } from './player.js';

/** Chroma above C of the key that the player reads when this chroma sounds. */
export const writtenChroma = (concert: number, player: Player): number =>
  (((concert - player.instrument.transposition.semitones) % 12) + 12) % 12;

/** Chroma above C that sounds when the player reads this one. */
export const soundingChroma = (written: number, player: Player): number =>
  (((written + player.instrument.transposition.semitones) % 12) + 12) % 12;

/**
 * The key as printed for the player: at most seven signs; a tonic the player prefers; else fewest signs; and with six
 * sharps against six flats the player's side of the tie. Minor keys are judged by their own signature (G♯m, not A♭m).
 * Source: rule of seven and fewest signs, aprlmusic.com 17159; table of written keys, issuhub.com 6011, p. 255.
 */
export function writtenKey(concertKey: ConcertKey, player: Player): Key {
  const names = keysAtChroma(writtenChroma(concertKey.chroma, player), concertKey.mode);
  const preferred = names.find((key) => player.spelling.prefer.some((tonic) => sameClass(tonic, key.tonic)));
  if (preferred) return preferred;
  const [first, second] = names;
  assert(first, 'every chroma has a key of at most seven signs');
  // keysAtChroma puts flats before sharps, so only the other side of a tie needs a look.
  const tie = second && Math.abs(keyFifths(first)) === Math.abs(keyFifths(second));
  return tie && player.spelling.tie === 'sharps' ? second : first;
}

/**
 * The key that sounds, spelled as the exact transposition of the written key. It may pass seven signs (written G♭ on an
 * E♭ saxophone sounds B𝄫) and is meant for reckoning, not for print.
 */
export function soundingKey(concertKey: ConcertKey, player: Player): Key {
  return transposeKey(writtenKey(concertKey, player), player.instrument.transposition);
}

/**
 * The same key number without a double accidental: F𝄪4 is G4, B𝄫4 is A4, E𝄪4 is F♯4. A black key keeps the side of its
 * signs. Simple pitches come back as they are, E♯ and C♭ too.
 */
export function simplified(pitch: Pitch): Pitch {
  if (Math.abs(pitch.alter) < 2) return pitch;
  const key = midi(pitch) - 12;
  const side = Math.sign(pitch.alter);
  for (const alter of [0, side]) {
    for (let letter = 0; letter < 7; letter++) {
      const octave = (key - alter - naturalSemitones(letter)) / 12;
      if (Number.isInteger(octave)) return { letter, alter, octave };
    }
  }
  throw new Error(`assumption broken: every key number has a simple name (${key})`);
}
