/** Intervals in words (names of intervals: any textbook of the rudiments). */
import { describe, expect, it } from 'vitest';
import { INSTRUMENTS } from '../../core/player/catalogue.js';
import { interval, intervalWords, negate } from '../../core/theory/interval.js';

describe('an interval in words', () => {
  it.each([
    [interval(0), 'a perfect unison'],
    [interval(1), 'a major second'],
    [interval(2, -1), 'a minor third'],
    [interval(3, 1), 'an augmented fourth'],
    [interval(4, -1), 'a diminished fifth'],
    [interval(6, -1), 'a minor seventh'],
    [interval(7), 'an octave'],
    [interval(8), 'an octave and a major second'],
    [interval(14), 'two octaves'],
  ])('%o is %s, up and down', (it, words) => {
    expect(intervalWords(it)).toBe(words);
    expect(intervalWords(negate(it))).toBe(words);
  });

  // Transpositions as every orchestration handbook gives them (common practice).
  it.each([
    ['clarinet-in-bb', 'a major second'],
    ['clarinet-in-eb', 'a minor third'],
    ['horn-in-f', 'a perfect fifth'],
    ['alto-saxophone', 'a major sixth'],
    ['tenor-saxophone', 'an octave and a major second'],
    ['baritone-saxophone', 'an octave and a major sixth'],
    ['piccolo', 'an octave'],
    ['glockenspiel', 'two octaves'],
  ])('%s transposes by %s', (id, words) => {
    const instrument = INSTRUMENTS.find((it) => it.id === id);
    expect(instrument && intervalWords(instrument.transposition)).toBe(words);
  });
});
