/** The name that was meant. Distances: optimal string alignment, as textbooks of algorithms work them out. */
import { describe, expect, it, test } from 'vitest';
import { didYouMean, editDistance, nearest } from '../../core/base/nearest.js';

test.each([
  ['', '', 0],
  ['abc', '', 3],
  ['', 'abc', 3],
  ['abc', 'abc', 0],
  ['abc', 'abd', 1],
  ['abc', 'abcd', 1],
  ['abcd', 'abc', 1],
  ['ab', 'ba', 1],
  ['abcd', 'acbd', 1],
  ['kitten', 'sitting', 3],
  ['saturday', 'sunday', 3],
  // A swapped pair is not edited once more: 3, where a free transposition would have 2.
  ['ca', 'abc', 3],
  ['flaw', 'lawn', 2],
])('from %j to %j: %d', (a, b, distance) => expect(editDistance(a, b)).toBe(distance));

describe('the nearest name', () => {
  const NAMES = ['beat', 'bar', 'title', 'exercises', 'F#'];
  it.each([
    ['beats', 'beat'],
    ['BEAT', 'beat'],
    ['baet', 'beat'],
    ['titel', 'title'],
    ['exercise', 'exercises'],
    ['ex-er-cises', 'exercises'],
    // Half of the word is enough when it is contained, from three letters on.
    ['exe', 'exercises'],
    ['my exercises here', 'exercises'],
    ['f#', 'F#'],
  ])('of %j is %s', (name, found) => expect(nearest(name, NAMES)).toBe(found));
  it.each(['ex', 'b', '', 'zzzz', 'tutte', 'ttttt'])('of %j is none', (name) => expect(nearest(name, NAMES)).toBeUndefined());
  it('of one letter is none, however near', () => {
    expect(nearest('f', NAMES)).toBeUndefined();
    expect(nearest('f-', ['f'])).toBeUndefined();
    expect(nearest('f#', ['f'])).toBe('f');
  });
  it('may differ in a third of its letters, and in one of a short name', () => {
    expect(nearest('abcdxx', ['abcdef'])).toBe('abcdef');
    expect(nearest('abcxxx', ['abcdef'])).toBeUndefined();
    expect(nearest('ax', ['ab'])).toBe('ab');
    expect(nearest('xy', ['ab'])).toBeUndefined();
  });
  it('of two as near is the first of the alphabet, of two the nearer', () => {
    expect(nearest('cat', ['rat', 'bat'])).toBe('bat');
    expect(nearest('cat', ['bat', 'cats', 'cat'])).toBe('cat');
  });
  it('of a very long name is looked for by its first 60 letters', () => {
    expect(nearest(`${'a'.repeat(60)}zzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzzz`, ['a'.repeat(60)])).toBe('a'.repeat(60));
  });
});

test('in a sentence', () => {
  expect(didYouMean('baet', ['beat'])).toBe('; did you mean "beat"?');
  expect(didYouMean('zzzz', ['beat'])).toBe('');
});
