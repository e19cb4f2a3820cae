import { describe, expect, it, test } from 'vitest';
import { compassText, inCompass, parseCompass, playerOf } from '../../core/player/compass.js';
import { parsePitch } from '../../core/theory/pitch.js';
import { codes, value } from './fixture.js';

const inside = (note: string, range: string): boolean => {
  const [low, high] = range.split('-') as [string, string];
  const pitch = parsePitch(note);
  if (!pitch) throw new Error(note);
  return inCompass(pitch, value(parseCompass(low, high)));
};

describe('inCompass goes by what sounds, not by the letter', () => {
  test.each([
    ['C4', 'C4-C5', true],
    ['C5', 'C4-C5', true],
    ['B3', 'C4-C5', false],
    ['B#3', 'C4-C5', true],
    ['Cb4', 'C4-C5', false],
    ['B#4', 'C4-C5', true],
    ['Dbb5', 'C4-C5', true],
    ['C#5', 'C4-C5', false],
  ])('%s in %s: %s', (note, range, expected) => expect(inside(note, range)).toBe(expected));
});

describe('parseCompass', () => {
  it('reads both ends', () => expect(compassText(value(parseCompass('B♭3', 'f6')))).toBe('Bb3 to F6'));
  test.each([
    ['C5', 'C4', ['compass-upside-down']],
    ['C4', 'C4', ['compass-upside-down']],
    ['B#3', 'C4', ['compass-upside-down']],
    ['C', 'C5', ['not-a-note']],
    ['H4', 'x', ['not-a-note', 'not-a-note']],
  ])('%s to %s is refused', (low, high, expected) => {
    const result = parseCompass(low, high);
    expect(result.ok).toBe(false);
    expect(codes(result)).toEqual(expected);
  });
});

describe('playerOf', () => {
  it('takes the compass of the level', () => {
    const player = value(playerOf({ instrument: 'alto-saxophone', level: 'beginner' }));
    expect(compassText(player.compass)).toBe('D4 to B5');
    expect(player.spelling).toEqual({ tie: 'flats', prefer: [] });
  });
  it('takes a compass of its own', () => {
    const compass = value(parseCompass('C4', 'G5'));
    expect(value(playerOf({ instrument: 'Flute', level: 'beginner', compass })).compass).toBe(compass);
  });
  it('refuses an unknown instrument and a compass upside down, at their places', () => {
    expect(playerOf({ instrument: 'flut', level: 'beginner' }).issues).toMatchObject([
      { code: 'unknown-instrument', path: ['instrument'] },
    ]);
    const { low, high } = value(parseCompass('C4', 'G5'));
    const turned = playerOf({ instrument: 'flute', level: 'beginner', compass: { low: high, high: low } });
    expect(turned.issues).toMatchObject([{ code: 'compass-upside-down', path: ['compass'] }]);
  });
  it('warns of an octave number that is far off, not of a high F# key', () => {
    const of = (low: string, high: string) =>
      playerOf({ instrument: 'alto-saxophone', level: 'professional', compass: value(parseCompass(low, high)) });
    expect(codes(of('Bb3', 'F#6'))).toEqual([]);
    expect(codes(of('Bb3', 'F8'))).toEqual(['compass-beyond-instrument']);
    expect(of('Bb3', 'F8').ok).toBe(true);
  });
});
