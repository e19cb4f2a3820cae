import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import type { Exercise } from '../../core/exercise/exercise.js';
import { distanceWords, fitKey, fittingKeys, listText, lowestRoot, misfitIssue, turnKey } from '../../core/player/fit.js';
import { realise } from '../../core/player/realise.js';
import { keyText } from '../../core/theory/key.js';
import { midi, pitchName, transpose } from '../../core/theory/pitch.js';
import { codes, exercise, keysText, notes, pitchesText, player, realised, statementsText, tonic, type Words } from './fixture.js';

// Number of the 12 keys in which a figure of so many semitones fits, root at any octave: computed apart from this
// program from the same ranges. Columns: beginner 7, 12; intermediate 12, 19, 24; professional 24.
const TWELVE_KEYS = `
piccolo 12 12 12 9 4 11
flute 12 10 12 11 6 12
alto-flute 12 10 12 11 6 12
oboe 12 8 12 6 1 12
english-horn 12 8 12 6 1 9
bassoon 12 10 12 12 8 12
clarinet-in-eb 12 7 12 12 11 12
clarinet-in-bb 12 7 12 12 11 12
clarinet-in-a 12 7 12 12 11 12
bass-clarinet 12 7 12 11 6 12
soprano-saxophone 12 10 12 8 3 8
alto-saxophone 12 10 12 8 3 8
tenor-saxophone 12 10 12 8 3 8
baritone-saxophone 12 10 12 8 3 8
horn-in-f 8 3 12 6 1 12
trumpet-in-bb 9 4 12 7 2 7
trumpet-in-c 9 4 12 7 2 7
cornet-in-bb 9 4 12 7 2 7
flugelhorn-in-bb 9 4 12 7 2 7
trombone 9 4 12 7 2 7
bass-trombone 9 4 12 7 2 12
euphonium-bass-clef 9 4 12 7 2 12
euphonium-treble-clef 9 4 12 7 2 12
tuba 10 5 12 7 2 12
soprano-recorder 10 5 10 3 0 3
alto-recorder 8 3 10 3 0 3
tenor-recorder 10 5 10 3 0 3
bass-recorder 8 3 10 3 0 3
violin 12 12 12 12 8 12
viola 12 12 12 12 8 12
cello 12 12 12 12 8 12
double-bass 12 11 12 9 4 11
guitar 12 12 12 12 12 12
marimba 12 12 12 12 12 12
xylophone 12 12 12 12 12 12
vibraphone 12 12 12 12 12 12
glockenspiel 12 10 12 11 6 6
piano-right-hand 12 8 12 12 10 12`
  .trim()
  .split('\n')
  .map((line) => line.split(' '));
const COLUMNS = [
  ['beginner', 7],
  ['beginner', 12],
  ['intermediate', 12],
  ['intermediate', 19],
  ['intermediate', 24],
  ['professional', 24],
] as const;

test('the table has a row for each instrument', () => expect(TWELVE_KEYS).toHaveLength(38));

test.each(TWELVE_KEYS)('keys in which figures fit: %s', (id, ...counts) => {
  const found = COLUMNS.map(([level, high]) => fittingKeys({ low: 0, high }, player(id as string, level).compass).length);
  expect(found.join(' ')).toBe(counts.join(' '));
});

test('fittingKeys and the placements of a real figure agree', () => {
  const octave = exercise({ figure: '-7 1 8' });
  for (const range of ['C4-C5', 'C4-E5', 'B3-C5', 'D4-A5', 'Bb3-F6']) {
    const who = player('flute', range);
    const placed = Array.from({ length: 12 }, (_, chroma) => chroma).filter(
      (chroma) => fitKey(octave, { chroma, mode: 'major' }, who).options.length > 0,
    );
    expect(placed).toEqual(fittingKeys({ low: -1, high: 12 }, who.compass));
  }
});

test('lowestRoot leaves room for the notes below degree 1', () => {
  const sax = player('alto-saxophone');
  expect(lowestRoot(sax, { low: 0, high: 7 })).toBe(58); // Bb3
  expect(lowestRoot(sax, { low: -1, high: 7 })).toBe(59); // B3
});

describe('distances in words', () => {
  test.each([
    [0, 'a unison'],
    [7, 'a fifth'],
    [12, 'an octave'],
    [19, 'an octave and a fifth'],
    [24, 'two octaves'],
    [40, 'three octaves and a major third'],
  ])('%i semitones: %s', (semitones, words) => expect(distanceWords(semitones)).toBe(words));
  it('lists words', () => {
    expect(['', 'C', 'C and D', 'C, D and E']).toEqual([[], ['C'], ['C', 'D'], ['C', 'D', 'E']].map(listText));
  });
});

const OCTAVE = '1 2 3 4 5 6 7 8';

describe('report', () => {
  const result = realise(exercise({ figure: OCTAVE, title: 'Octaves' }), player('clarinet-in-bb', 'beginner'));
  it('is an error that names what there is to know', () => {
    expect(result.ok).toBe(false);
    expect(result.issues).toHaveLength(1);
    expect(result.issues[0]).toMatchObject({ code: 'figure-too-wide', severity: 'error', path: ['figure'] });
    expect(result.issues[0]?.message).toBe(
      'The exercise "Octaves" does not fit Clarinet in B♭ in written D, C, E♭, D♭ and B: the figure needs an octave, and the compass is E3 to Bb4. You can leave out the keys that do not fit, let the figure turn at the limit, or take the compass of another level.',
    );
  });
  it('does not name the remedy in force', () => {
    const trying: Exercise = exercise({ figure: OCTAVE, misfit: { kind: 'leave-out' } });
    const who = player('flute', 'C4-G4');
    expect(misfitIssue(trying, who, [fitKey(trying, { chroma: 0, mode: 'major' }, who)]).message).toMatch(
      /You can let the figure turn at the limit, or take the compass of another level\.$/,
    );
  });
});

describe('leave-out', () => {
  const wide = { figure: OCTAVE, misfit: { kind: 'leave-out' }, passes: 2, directions: 'alternate-from-up' } as const;
  const result = realise(exercise(wide), player('clarinet-in-bb', 'beginner'));
  const line = realised(wide, player('clarinet-in-bb', 'beginner'));
  it('removes the keys from both passes and says so', () => {
    expect(keysText(line)).toBe('G F Bb Ab Gb E A G F Bb Ab Gb E A');
    expect(line.leftOut.map(keyText).join(' ')).toBe('D C E♭ D♭ B');
    expect(line.turnaround).toBe(7);
    expect(result.issues).toMatchObject([{ code: 'keys-left-out', severity: 'note' }]);
  });
  it('keeps each key the other way round in the second pass', () => {
    const [first, second] = [line.statements.slice(0, 7), line.statements.slice(7)];
    expect(first.map((one) => one.direction)).toEqual(['up', 'down', 'up', 'down', 'up', 'down', 'up']);
    expect(second.map((one) => one.direction)).toEqual(['down', 'up', 'down', 'up', 'down', 'up', 'down']);
  });
  it('is an error when no key is left', () => {
    expect(codes(realise(exercise(wide), player('flute', 'C4-G4')))).toEqual(['figure-too-wide']);
  });
  it('leaves out nothing when everything fits', () => {
    expect(realised(wide, player('clarinet-in-bb', 'intermediate')).leftOut).toEqual([]);
  });
});

describe('turn', () => {
  const order = { name: 'custom', keys: ['C'] } as const;
  const turned = (figure: string, range: string, more: Omit<Words, 'figure' | 'order'> = {}) =>
    realised({ figure, order, misfit: { kind: 'turn' }, ...more }, player('flute', range));
  const degrees = (line: ReturnType<typeof turned>) =>
    notes(line)
      .map((note) => note.degree)
      .join(' ');

  test.each([
    // Beyond degree 5 the line comes back: 6 is played as 4, 7 as 3, 8 as 2.
    ['1 2 3 4 5 6 7 8', 'C4-G4', '1 2 3 4 5 4 3 2', 'C4 D4 E4 F4 G4 F4 E4 D4'],
    ['1 2 3 5', 'C4-F4', '1 2 3 3', 'C4 D4 E4 E4'],
    // The figure's own alteration serves the degree it turns to.
    ['1 2 b3 4 5 6', 'C4-F4', '1 2 b3 4 b3 2', 'C4 D4 Eb4 F4 Eb4 D4'],
    // At the bottom: -7 is played as 2 about 1.
    ['1 -7 1 2 3 4 5', 'C4-G4', '1 2 1 2 3 4 5', 'C4 D4 C4 D4 E4 F4 G4'],
    // As few notes as can be: from G3 up only the 8 is out, from C4 five would be.
    ['1 2 3 5 8', 'G3-B4', '1 2 3 5 6', 'C4 D4 E4 G4 A4'],
  ])('%s in %s: %s', (figure, range, expected, pitches) => {
    const line = turned(figure, range);
    expect(degrees(line)).toBe(expected);
    expect(pitchesText(line)).toBe(pitches);
    expect(line.statements[0]?.turned).toBe(true);
  });

  it('plays plain degrees it turns to in the scale of the exercise', () => {
    const line = turned('1 8', 'C4-A4', { scale: 'natural minor' });
    // 8 turns about 6 (A flat): two degrees beyond, so two inside.
    expect(pitchesText(line)).toBe('C4 F4');
  });

  it('turns a statement that comes down as the same notes backwards', () => {
    expect(degrees(turned('1 2 3 4 5 6', 'C4-G4', { directions: 'down' }))).toBe('4 5 4 3 2 1');
  });

  it('turns only where it must', () => {
    const line = realised(
      { figure: OCTAVE, misfit: { kind: 'turn' }, directions: 'alternate-from-up' },
      player('clarinet-in-bb', 'beginner'),
    );
    expect(line.statements.filter((one) => one.turned).map((one) => keyText(one.writtenKey))).toEqual(['D', 'C', 'E♭', 'D♭', 'B']);
    expect(line.leftOut).toEqual([]);
  });

  it('is an error where even that finds no place', () => {
    expect(codes(realise(exercise({ figure: '1 5 9 13', misfit: { kind: 'turn' }, order }), player('flute', 'D#4-E4')))).toEqual([
      'figure-too-wide',
    ]);
  });

  it('keeps every note inside the compass, and as many notes as before', () => {
    const figures = ['1 2 3 5', OCTAVE, '1 b3 5 b7 9', '-7 1 2 4 #4 5', '1 3 5 8 10', '5 4 3 2 1'];
    fc.assert(
      fc.property(fc.constantFrom(...figures), fc.integer({ min: 50, max: 70 }), fc.integer({ min: 7, max: 14 }), (figure, low, size) => {
        const names = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
        const name = (key: number): string => `${names[key % 12]}${Math.floor(key / 12) - 1}`;
        const who = player('flute', `${name(low)}-${name(low + size)}`);
        const asked = exercise({ figure, misfit: { kind: 'turn' } });
        for (let chroma = 0; chroma < 12; chroma++) {
          const fit = turnKey(asked, fitKey(asked, { chroma, mode: 'major' }, who), who);
          for (const { root, tones } of fit.options) {
            expect(tones).toHaveLength(asked.figure.tones.length);
            for (const tone of tones) {
              const at = tone ? midi(transpose(root, tone.interval)) : low;
              expect(at >= low && at <= low + size, pitchName(root)).toBe(true);
            }
          }
        }
      }),
      { numRuns: 60, seed: 12 },
    );
  });
});

describe('level', () => {
  const wide = { figure: OCTAVE, misfit: { kind: 'level', level: 'intermediate' }, start: { kind: 'written', key: tonic('C') } } as const;
  it('takes the compass of the level, for the whole exercise, and keeps the reader', () => {
    const line = realised(wide, player('clarinet-in-bb', 'beginner'));
    expect(line.player.level).toBe('beginner');
    expect(pitchName(line.player.compass.high)).toBe('D6');
    expect(statementsText(line)[0]).toBe('C D E F G A B C');
    expect(line.statements).toHaveLength(12);
  });
  it('leaves a figure that fits in the compass of the reader', () => {
    const line = realised({ ...wide, figure: '1 2 3 5' }, player('clarinet-in-bb', 'beginner'));
    expect(pitchName(line.player.compass.high)).toBe('Bb4');
  });
  it('is an error where that level has no room either', () => {
    expect(codes(realise(exercise({ ...wide, figure: '1 15 22' }), player('clarinet-in-bb', 'beginner')))).toEqual(['figure-too-wide']);
  });
});
