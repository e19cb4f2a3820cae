import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { INSTRUMENTS } from '../../core/player/catalogue.js';
import type { SpellingPreference } from '../../core/player/player.js';
import { simplified, soundingKey, writtenKey } from '../../core/player/spelling.js';
import { keyFifths, keyText, type Mode } from '../../core/theory/key.js';
import { chroma, className, midi, parsePitch, pitchName, transposeClass } from '../../core/theory/pitch.js';
import { player, tonic } from './fixture.js';

const FLATS: SpellingPreference = { tie: 'flats', prefer: [] };
const SHARPS: SpellingPreference = { tie: 'sharps', prefer: [] };

const written = (concert: string, instrument: string, spelling = FLATS, mode: Mode = 'major'): string =>
  className(writtenKey({ chroma: chroma(tonic(concert)), mode }, player(instrument, 'professional', spelling)).tonic);

// Written major keys of transposing instruments; `Gb/F#` where six flats meet six sharps. Source: the textbook table of
// transpositions, issuhub.com 6011, p. 255 (computed again by the rule of fewest signs).
const TABLE = `
C   D      A      G      Eb     F
F   G      D      C      Ab     Bb
Bb  C      G      F      Db     Eb
Eb  F      C      Bb     Gb/F#  Ab
Ab  Bb     F      Eb     B      Db
Db  Eb     Bb     Ab     E      Gb/F#
Gb  Ab     Eb     Db     A      B
B   Db     Ab     Gb/F#  D      E
E   Gb/F#  Db     B      G      A
A   B      Gb/F#  E      C      D
D   E      B      A      F      G
G   A      E      D      Bb     C`
  .trim()
  .split('\n')
  .map((line) => line.split(/\s+/));
const COLUMNS = ['clarinet-in-bb', 'alto-saxophone', 'horn-in-f', 'clarinet-in-a', 'alto-flute'];

describe('written major keys', () => {
  const cells = TABLE.flatMap(([concert, ...row]) => row.map((cell, i) => [concert as string, COLUMNS[i] as string, cell] as const));
  test.each(cells)('concert %s for %s is %s', (concert, instrument, cell) => {
    const [flats, sharps = flats] = cell.split('/');
    expect(written(concert, instrument, FLATS)).toBe(flats);
    expect(written(concert, instrument, SHARPS)).toBe(sharps);
  });
  it('has 60 cells', () => expect(cells).toHaveLength(60));
});

describe('minor keys go by their own signature (common practice)', () => {
  test.each([
    ['Ab', FLATS, 'G#'],
    ['A#', FLATS, 'Bb'],
    ['Db', FLATS, 'C#'],
    ['D#', FLATS, 'Eb'],
    ['D#', SHARPS, 'D#'],
    ['G', FLATS, 'G'],
  ])('%s minor, %o: %s', (concert, spelling, expected) => expect(written(concert, 'flute', spelling, 'minor')).toBe(expected));
});

describe('preferred tonics', () => {
  const prefer = (...names: string[]): SpellingPreference => ({ tie: 'flats', prefer: names.map(tonic) });
  test.each([
    ['Db', prefer('C#'), 'C#'],
    ['B', prefer('Cb'), 'Cb'],
    ['Gb', prefer('F#'), 'F#'],
    ['D', prefer('C#'), 'D'],
    // G sharp major would need eight sharps: the wish cannot be granted.
    ['Ab', prefer('G#'), 'Ab'],
  ])('%s with %o: %s', (concert, spelling, expected) => expect(written(concert, 'flute', spelling)).toBe(expected));
  it('leaves minor keys beyond seven signs alone', () => expect(written('Db', 'flute', prefer('Db'), 'minor')).toBe('C#'));
});

test('every instrument reads at most seven signs, and what sounds is the exact transposition', () => {
  for (const instrument of INSTRUMENTS) {
    for (const spelling of [FLATS, SHARPS]) {
      const who = player(instrument.id, 'professional', spelling);
      for (let at = 0; at < 12; at++) {
        for (const mode of ['major', 'minor'] as const) {
          const key = writtenKey({ chroma: at, mode }, who);
          const sounds = soundingKey({ chroma: at, mode }, who);
          expect(Math.abs(keyFifths(key))).toBeLessThanOrEqual(6);
          expect(sounds.tonic).toEqual(transposeClass(key.tonic, instrument.transposition));
          expect(chroma(sounds.tonic)).toBe(at);
        }
      }
    }
  }
});

test('a sounding key may pass seven signs', () => {
  expect(keyText(soundingKey({ chroma: 9, mode: 'major' }, player('alto-saxophone')))).toBe('B𝄫');
});

describe('simplified', () => {
  test.each([
    ['F##4', 'G4'],
    ['Bbb4', 'A4'],
    ['E##4', 'F#4'],
    ['B##3', 'C#4'],
    ['Cbb5', 'Bb4'],
    ['Fbb4', 'Eb4'],
    ['Cb5', 'Cb5'],
    ['E#4', 'E#4'],
  ])('%s is %s', (from, to) => {
    const pitch = parsePitch(from);
    expect(pitch && pitchName(simplified(pitch))).toBe(to);
  });
  it('keeps the sound and leaves no double accidental', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 6 }),
        fc.integer({ min: -3, max: 3 }),
        fc.integer({ min: 1, max: 8 }),
        (letter, alter, octave) => {
          const simple = simplified({ letter, alter, octave });
          return midi(simple) === midi({ letter, alter, octave }) && Math.abs(simple.alter) < 2;
        },
      ),
    );
  });
});
