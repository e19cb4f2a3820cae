/** Keys: a tonic and a mode, their place on the circle of fifths, and their signature. */
import { at } from '../base/list.js';
import type { Interval } from './interval.js';
import { chroma, classText, letterName, type PitchClass, transposeClass } from './pitch.js';

export type Mode = 'major' | 'minor';
export type Key = { readonly tonic: PitchClass; readonly mode: Mode };

/** Fifths from C of the natural letters C D E F G A B. */
const FIFTHS_OF_LETTER = [0, 2, 4, -1, 1, 3, 5] as const;

/** Place of a tone on the line of fifths: C 0, G 1, F -1, F# 6, Bb -2. */
export const fifthsOfClass = (p: PitchClass): number => at(FIFTHS_OF_LETTER, p.letter) + 7 * p.alter;

/** The tone at this place on the line of fifths. */
export function classAtFifths(fifths: number): PitchClass {
  const index = (((fifths + 1) % 7) + 7) % 7;
  const letter = at([3, 0, 4, 1, 5, 2, 6], index);
  return { letter, alter: Math.floor((fifths + 1) / 7) };
}

/** Sharps (positive) or flats (negative) in the signature; beyond 7 there is no such signature. */
export const keyFifths = (key: Key): number => fifthsOfClass(key.tonic) - (key.mode === 'minor' ? 3 : 0);

export const keyAtFifths = (fifths: number, mode: Mode): Key => ({ tonic: classAtFifths(fifths + (mode === 'minor' ? 3 : 0)), mode });

/** Letters of a signature in the order they are written: F C G D A E B, or B E A D G C F. */
export function signatureLetters(fifths: number): readonly number[] {
  const sharps = [3, 0, 4, 1, 5, 2, 6];
  return fifths >= 0 ? sharps.slice(0, fifths) : sharps.reverse().slice(0, -fifths);
}

/** Alteration that a signature gives to a letter. */
export function signatureAlter(fifths: number, letter: number): number {
  return signatureLetters(fifths).includes(letter) ? Math.sign(fifths) : 0;
}

/** Every spelling of a tonic at this chroma whose signature has at most seven signs, fewest signs first, flats before sharps. */
export function keysAtChroma(at: number, mode: Mode): readonly Key[] {
  const found: Key[] = [];
  for (let fifths = -7; fifths <= 7; fifths++) {
    const key = keyAtFifths(fifths, mode);
    if (chroma(key.tonic) === at) found.push(key);
  }
  return found.sort((a, b) => Math.abs(keyFifths(a)) - Math.abs(keyFifths(b)) || keyFifths(a) - keyFifths(b));
}

export const transposeKey = (key: Key, by: Interval): Key => ({ tonic: transposeClass(key.tonic, by), mode: key.mode });

/** As printed over a statement: `B♭`, and `B♭m` for a minor key. */
export const keyText = (key: Key): string => classText(key.tonic) + (key.mode === 'minor' ? 'm' : '');

/** As read aloud: `B flat major`. */
export function keyWords(key: Key): string {
  const sign = key.tonic.alter < 0 ? ' flat'.repeat(-key.tonic.alter) : ' sharp'.repeat(key.tonic.alter);
  return `${letterName(key.tonic.letter)}${sign} ${key.mode}`;
}

/** A key of the route before any player is known: chroma above concert C, and mode. */
export type ConcertKey = { readonly chroma: number; readonly mode: Mode };
