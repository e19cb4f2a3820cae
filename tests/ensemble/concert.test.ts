/** How a concert score writes each instrument: what a written C5 sounds there, and the clef (common practice of scores). */
import { describe, expect, it } from 'vitest';
import { concertPlayer, concertShift } from '../../core/ensemble/part-lines.js';
import { pitchName, transpose } from '../../core/theory/pitch.js';
import { player } from '../player/fixture.js';

const C5 = { letter: 0, alter: 0, octave: 5 };

describe.each([
  // Octaves stay, so that players find their notes where they read them.
  ['piccolo', 'C6', 'treble', 'D4 C7', 0],
  ['glockenspiel', 'C7', 'treble', 'G3 C6', 0],
  ['double-bass', 'C4', 'bass', 'E2 D5', 0],
  ['guitar', 'C4', 'treble', 'E3 B6', 0],
  ['bass-recorder', 'C6', 'bass', 'F2 G4', 0],
  ['viola', 'C5', 'alto', 'C3 E6', 0],
  // Others are written as they sound.
  ['clarinet-in-bb', 'C5', 'treble', 'D3 Bb6', -2],
  ['clarinet-in-eb', 'C5', 'treble', 'G3 Bb6', 3],
  ['horn-in-f', 'C5', 'treble', 'B1 F5', -7],
  ['tenor-saxophone', 'C5', 'treble', 'Ab2 Eb5', -14],
  // In bass clef where the middle of the compass lies below G♯3: that of the horn lies on it.
  ['baritone-saxophone', 'C5', 'bass', 'Db2 Ab4', -21],
  ['euphonium-treble-clef', 'C5', 'bass', 'B1 C5', -14],
  ['bass-clarinet', 'C5', 'treble', 'Db2 F5', -14],
] as const)('%s', (id, c5, clef, compass, shift) => {
  const concert = concertPlayer(player(id), { tie: 'sharps', prefer: [] });
  it('sounds so, in this clef and compass', () => {
    expect(pitchName(transpose(C5, concert.instrument.transposition))).toBe(c5);
    expect(concert.instrument.clef).toBe(clef);
    expect(`${pitchName(concert.compass.low)} ${pitchName(concert.compass.high)}`).toBe(compass);
    expect(concertShift(player(id).instrument)).toBe(shift);
  });
  it('is pitched in nothing, and spelled as the score is', () => {
    expect(concert.instrument.pitchedIn).toBeUndefined();
    expect(concert.spelling.tie).toBe('sharps');
  });
});
