/** A small language for tests of sets: a band in one line. */
import { readFileSync } from 'node:fs';
import type { Book } from '../../core/book/book.js';
import { readBook } from '../../core/book/read.js';
import type { Ensemble } from '../../core/ensemble/ensemble.js';
import { readEnsemble } from '../../core/ensemble/read.js';
import { value } from '../player/fixture.js';

export const demoBook = (name: string): Book => value(readBook(readFileSync(`assets/books/${name}.twelvefold`, 'utf8')));

/** The fields of an ensemble file; chairs as `flute:beginner*3 tuba`, with players behind the star. */
export function bandFile(chairs: string, more: object = {}): Record<string, unknown> {
  const list = chairs
    .trim()
    .split(/\s+/)
    .filter((word) => word !== '')
    .map((word) => {
      const [, instrument, level, players] = /^([a-z-]+)(?::([a-z]+))?(?:\*(\d+))?$/.exec(word) as RegExpExecArray;
      return { instrument, ...(level ? { level } : {}), ...(players ? { players: Number(players) } : {}) };
    });
  return { format: 'twelvefold-ensemble', version: 1, name: 'Test band', chairs: list, ...more };
}

export const band = (book: Book, chairs: string, more: object = {}): Ensemble =>
  value(readEnsemble(JSON.stringify(bandFile(chairs, more)), book));

/**
 * Semitones added to a written pitch to sound it: `chromatic` + 12 × `octave-change` of MusicXML's `transpose` as the
 * instruments' makers publish them (W3C MusicXML 4.0 gives horn -7 and guitar -12; the others are common knowledge).
 */
export const SOUNDS: Readonly<Record<string, number>> = {
  piccolo: 12,
  flute: 0,
  oboe: 0,
  'english-horn': -7,
  bassoon: 0,
  'clarinet-in-eb': 3,
  'clarinet-in-bb': -2,
  'clarinet-in-a': -3,
  'bass-clarinet': -14,
  'soprano-saxophone': -2,
  'alto-saxophone': -9,
  'tenor-saxophone': -14,
  'baritone-saxophone': -21,
  'horn-in-f': -7,
  'trumpet-in-bb': -2,
  'cornet-in-bb': -2,
  trombone: 0,
  'euphonium-bass-clef': 0,
  'euphonium-treble-clef': -14,
  tuba: 0,
  'double-bass': -12,
  glockenspiel: 24,
};

export const FULL_BAND =
  'piccolo flute oboe bassoon clarinet-in-eb clarinet-in-bb clarinet-in-bb bass-clarinet alto-saxophone tenor-saxophone baritone-saxophone trumpet-in-bb cornet-in-bb horn-in-f trombone euphonium-treble-clef tuba double-bass glockenspiel';
