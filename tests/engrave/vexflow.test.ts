/** The same questions put to an independent drawing library (VexFlow 5.0). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signBar } from '../../core/engrave/accidentals.js';
import type { BarEvent } from '../../core/engrave/bar.js';
import { beamGroups } from '../../core/engrave/beam-groups.js';
import { stemUp } from '../../core/engrave/draw/stems.js';
import { signatureYs, stepY } from '../../core/engrave/glyphs.js';
import type { Clef } from '../../core/player/player.js';
import { type Pitch, pitchName, stepOf } from '../../core/theory/pitch.js';
import { events, isNote, metre } from './notation.js';
import * as oracle from './vexflow.js';

const CLEFS: readonly Clef[] = ['treble', 'alto', 'tenor', 'bass'];

const pitches: Pitch[] = Array.from({ length: 7 * 6 }, (_, i) => ({ letter: i % 7, alter: 0, octave: 1 + Math.floor(i / 7) }));

describe.each(CLEFS)('in the %s clef', (clef) => {
  it('every pitch from C1 to B6 stands where the library puts it', () => {
    for (const pitch of pitches) expect(stepY(stepOf(pitch), clef), pitchName(pitch)).toBe(oracle.headY(pitch, clef));
  });

  it('every stem points as in the library', () => {
    for (const pitch of pitches) expect(stemUp(stepY(stepOf(pitch), clef)), pitchName(pitch)).toBe(oracle.pointsUp(pitch, clef));
  });

  it('all fifteen signatures have the same signs at the same places', () => {
    for (let fifths = -7; fifths <= 7; fifths++) {
      const theirs = oracle.signature(fifths, clef);
      expect(theirs.map((s) => s.y)).toEqual(signatureYs(fifths, clef));
      expect(theirs.every((s) => s.type === (fifths > 0 ? '#' : 'b'))).toBe(true);
    }
  });
});

/** Ways to fill one beat; none goes on over it. */
const QUARTERS = [
  'C5/1/4',
  'C5/1/8 C5',
  'C5/1/16 C5 C5 C5',
  'C5/1/8 C5/1/16 C5',
  'C5/1/16 C5 C5/1/8',
  'C5/1/8. C5/1/16',
  'r/1/4',
  'r/1/8 C5',
  'C5/1/8 r',
];
const DOTTED = [
  'C5/1/4.',
  'C5/1/8 C5 C5',
  'C5/1/4 C5/1/8',
  'C5/1/8 C5/1/4',
  'C5/1/8. C5/1/16 C5/1/8',
  'C5/1/16 C5 C5 C5 C5 C5',
  'r/1/4.',
  'C5/1/8 r C5',
];

const filled = (beats: number, ways: readonly string[]) =>
  fc.array(fc.constantFrom(...ways), { minLength: beats, maxLength: beats }).map((bar) => bar.join(' '));

const names: readonly [string, readonly [number, number], number, readonly string[]][] = [
  ['3/4', [1, 4], 3, QUARTERS],
  ['5/4', [1, 4], 5, QUARTERS],
  ['6/8', [3, 8], 2, DOTTED],
  ['9/8', [3, 8], 3, DOTTED],
  ['12/8', [3, 8], 4, DOTTED],
];

describe.each(names)('in %s', (name, group, beats, ways) => {
  it('any rhythm is beamed as the library does it by the beat', () => {
    fc.assert(
      fc.property(filled(beats, ways), (words) => {
        const bar = events(words);
        expect(beamGroups(bar, metre(name)), words).toEqual(oracle.beams(bar, group));
      }),
      { numRuns: 150 },
    );
  });
});

it.each(['4/4', '2/2'])('eighths in %s are beamed as the library does it by the half bar', (name) => {
  // Where a quarter shares the half bar, the library leaves all its eighths with flags; that is not asked here.
  const plain = ['C5/1/8 C5', 'r/1/8 C5', 'C5/1/8 r'];
  fc.assert(
    fc.property(filled(4, plain), (words) => {
      const bar = events(words);
      expect(beamGroups(bar, metre(name)), words).toEqual(oracle.beams(bar, [1, 2]));
    }),
    { numRuns: 150 },
  );
});

const note = fc
  .record({ letter: fc.constantFrom('C', 'E', 'F', 'B'), sign: fc.constantFrom('bb', 'b', '', '#', '##'), octave: fc.constantFrom(4, 5) })
  .map(({ letter, sign, octave }) => `${letter}${sign}${octave}`);

const SIGNS: Readonly<Record<number, string>> = { [-2]: 'bb', [-1]: 'b', 0: 'n', 1: '#', 2: '##' };
const signsOf = (bar: readonly BarEvent[]) => bar.map((e) => (isNote(e) && e.sign ? SIGNS[e.sign.alter] : undefined));

it('any bar has the signs that the library prints', () => {
  fc.assert(
    fc.property(fc.array(note, { minLength: 1, maxLength: 8 }), fc.integer({ min: -7, max: 7 }), (words, fifths) => {
      const bar = events(words.join(' '));
      expect(signsOf(signBar(bar, fifths, new Set()).events), `${words.join(' ')} under ${fifths}`).toEqual(oracle.signs(bar, fifths));
    }),
    { numRuns: 500 },
  );
});

it('the library is asked, not echoed', () => {
  expect(oracle.headY({ letter: 0, alter: 0, octave: 5 }, 'treble')).toBe(1.5);
  expect(oracle.headY({ letter: 0, alter: 0, octave: 4 }, 'alto')).toBe(2);
  expect(oracle.signs(events('F#4 F4'), 0)).toEqual(['#', 'n']);
  expect(oracle.beams(events('C5/1/8 C5 C5 C5'), [1, 4])).toEqual([
    [0, 1],
    [2, 3],
  ]);
});
