import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { toneInterval } from '../../core/exercise/figure.js';
import { INSTRUMENTS } from '../../core/player/catalogue.js';
import { inCompass } from '../../core/player/compass.js';
import { realise } from '../../core/player/realise.js';
import { add, equal, text } from '../../core/theory/fraction.js';
import { keyText } from '../../core/theory/key.js';
import { midi, pitchName, transpose, transposeClass } from '../../core/theory/pitch.js';
import { SCALE_NAMES } from '../../core/theory/scale.js';
import { codes, exercise, keysText, notes, pitchesText, player, realised, statementsText, timesText, tonic } from './fixture.js';

describe('a saxophone book: 1 2 3 5 by fourths, turn and turn about, twice through (common practice)', () => {
  const line = realised(
    { directions: 'alternate-from-up', passes: 2, turnaround: 'repeat-last-key', start: { kind: 'lowest' } },
    player('alto-saxophone'),
  );
  const statements = statementsText(line);

  it('begins on the lowest note of the instrument, in B flat', () => {
    expect(pitchesText(line)).toMatch(/^Bb3 C4 D4 F4 Bb4 G4 F4 Eb4 /);
    expect(line.statements[0]?.soundingKey.tonic).toEqual(tonic('Db'));
  });
  it('goes through the keys by fourths, and begins the second pass on the last one', () => {
    expect(keysText(line)).toBe('Bb Eb Ab Db Gb B E A D G C F F Bb Eb Ab Db Gb B E A D G C');
    expect(line.turnaround).toBe(12);
  });
  it('spells each key', () => {
    expect(statements.slice(0, 6)).toEqual(['Bb C D F', 'Bb G F Eb', 'Ab Bb C Eb', 'Ab F Eb Db', 'Gb Ab Bb Db', 'F# D# C# B']);
    expect(statements.slice(11, 14)).toEqual(['C A G F', 'F G A C', 'F D C Bb']);
  });
  it('begins an up statement and the down statement after it on the same note name (fifth of the next key)', () => {
    for (let i = 0; i < 12; i += 2) {
      const [up, down] = [statements[i], statements[i + 1]].map((one) => midi({ ...tonic(one?.split(' ')[0] as string), octave: 4 }));
      expect(((up as number) - (down as number)) % 12).toBe(0);
    }
  });
  it('has 24 statements of four eighths: 96 notes in 12 bars', () => {
    expect(line.statements).toHaveLength(24);
    expect(notes(line)).toHaveLength(96);
    expect(text(line.duration)).toBe('12');
    expect(new Set(line.statements.map((one) => text(one.duration)))).toEqual(new Set(['1/2']));
  });
  it('plays each key once up and once down', () => {
    const ways = new Map<number, string[]>();
    for (const one of line.statements) ways.set(one.keyIndex, [...(ways.get(one.keyIndex) ?? []), one.direction].sort());
    expect([...ways.values()]).toEqual(Array(12).fill(['down', 'up']));
  });
});

describe('where it begins', () => {
  const first = (start: Parameters<typeof exercise>[0], instrument: string) =>
    keysText(realised({ ...start }, player(instrument))).split(' ')[0];
  test.each([
    [{ start: { kind: 'concert', key: tonic('Bb') } }, 'trumpet-in-bb', 'C'],
    [{ start: { kind: 'concert', key: tonic('Bb') } }, 'horn-in-f', 'F'],
    [{ start: { kind: 'concert', key: tonic('Bb') } }, 'flute', 'Bb'],
    [{ start: { kind: 'written', key: tonic('C') } }, 'trumpet-in-bb', 'C'],
    [{ start: { kind: 'written', key: tonic('C') } }, 'clarinet-in-eb', 'C'],
    [{ start: { kind: 'lowest' } }, 'clarinet-in-bb', 'E'],
    [{ start: { kind: 'lowest' } }, 'trumpet-in-bb', 'Gb'],
    [{ start: { kind: 'lowest' }, figure: '-7 1 2 3' }, 'alto-saxophone', 'B'],
  ] as const)('%o for %s: written %s', (start, instrument, expected) => expect(first(start, instrument)).toBe(expected));
});

describe('minor figures are spelled by their minor signature', () => {
  const line = realised({ figure: '1 2 b3 5', order: { name: 'chromatic-up' } }, player('flute'));
  it('names and spells minor keys', () => {
    expect(line.statements.map((one) => keyText(one.writtenKey)).join(' ')).toBe('Cm C♯m Dm E♭m Em Fm F♯m Gm G♯m Am B♭m Bm');
    expect(statementsText(line).slice(8, 9)).toEqual(['G# A# B D#']);
  });
});

describe('simple spelling', () => {
  const figure = {
    figure: '1 2 3 4 5 6 7 8',
    scale: 'harmonic minor',
    order: { name: 'custom', keys: ['G#'] },
    start: { kind: 'concert', key: tonic('G#') },
  } as const;
  const of = (simpleSpelling: boolean) => statementsText(realised({ ...figure, simpleSpelling }, player('flute')))[0];
  it('leaves double accidentals unless asked', () => expect(of(false)).toBe('G# A# B C# D# E F## G#'));
  it('writes them as their simple neighbours when asked', () => expect(of(true)).toBe('G# A# B C# D# E G G#'));
});

describe('rests and directions', () => {
  const one = { figure: '1 r 3 5', order: { name: 'custom', keys: ['C'] }, rhythm: '1/4 1/8 1/8 1/2' } as const;
  it('plays a down statement backwards, rests too, with the rhythm in its own order', () => {
    const line = realised({ ...one, directions: 'down' }, player('flute'));
    expect(statementsText(line)).toEqual(['G E C']);
    expect(timesText(line)).toBe('1/4 1/8 r1/8 1/2');
    expect(notes(line).map((note) => `${note.tone}:${note.degree}`)).toEqual(['0:5', '1:3', '3:1']);
  });
  it('numbers degrees as the figure writes them', () => {
    const line = realised({ figure: '1 b3 #4 -b7', order: one.order }, player('flute', 'Bb3-C6'));
    expect(notes(line).map((note) => note.degree)).toEqual(['1', 'b3', '#4', '-b7']);
  });
});

describe('endings', () => {
  const two = { order: { name: 'custom', keys: ['C', 'F'] }, contour: 'low' } as const;
  const last = (line: ReturnType<typeof realised>) => {
    const note = notes(line).at(-1);
    return `${pitchName(note?.written as never)} ${text(note?.duration as never)} of statement ${note?.statement}`;
  };
  it('long-root closes on the root of the last key, where it was just played', () => {
    expect(last(realised({ ...two, ending: 'long-root' }, player('flute', 'C4-F6')))).toBe('F4 1 of statement 2');
  });
  it('back-to-first-root closes on the first root, in the octave nearest to the last note', () => {
    expect(last(realised({ ...two, ending: 'back-to-first-root' }, player('flute', 'C4-F6')))).toBe('C5 1 of statement 2');
  });
  it('none ends with the last statement', () => {
    expect(last(realised(two, player('flute', 'C4-F6')))).toBe('C5 1/8 of statement 1');
  });
  it('finds another octave when the root just played is outside the compass', () => {
    expect(last(realised({ figure: '8 9', order: { name: 'custom', keys: ['C'] }, ending: 'long-root' }, player('flute', 'C4-D4')))).toBe(
      'C4 3/4 of statement 1',
    );
  });
  it('is an error when the closing note is in no octave of the compass', () => {
    const asked = exercise({ figure: '2 3', order: { name: 'custom', keys: ['C'] }, ending: 'long-root' });
    expect(realise(asked, player('flute', 'D4-E4')).issues).toMatchObject([{ code: 'closing-note-outside-compass', path: ['ending'] }]);
    expect(codes(realise(asked, player('flute', 'C4-E4')))).toEqual([]);
  });
});

test('every line: exact time, notes in the compass, the figure’s intervals kept, transposition kept', () => {
  const figures = ['1 2 3 5', '5 3 2 1', '1 b3 5 b7 9', '1 2 3 4 5 6 7 8', '-7 1 r 4', '1 b2 #2 3 b5 #5 b7 8', '1 b3 b5 bb7'];
  fc.assert(
    fc.property(
      fc.constantFrom(...INSTRUMENTS.map((one) => one.id)),
      fc.constantFrom(...figures),
      fc.constantFrom(...SCALE_NAMES),
      fc.constantFrom('fourths', 'chromatic-down', 'major-thirds', 'relative-pairs', 'wedge'),
      fc.constantFrom('nearest', 'sweep', 'low', 'high'),
      fc.constantFrom('up', 'down', 'alternate-from-up', 'alternate-from-down'),
      fc.constantFrom('flats', 'sharps'),
      fc.constantFrom('none', 'long-root', 'back-to-first-root'),
      (id, figure, scale, name, contour, directions, tie, ending) => {
        const who = player(id, 'professional', { tie: tie as 'flats' | 'sharps', prefer: [] });
        const words = { figure, scale, order: { name }, contour, directions, ending, passes: 2, start: { kind: 'lowest' } } as const;
        const line = realised(words as never, who);
        const tones = line.exercise.figure.tones;
        let end = line.events[0]?.onset as never;
        line.events.forEach((event, index) => {
          expect(event.index).toBe(index);
          expect(equal(event.onset, end)).toBe(true);
          end = add(event.onset, event.duration) as never;
          if (event.kind === 'rest') return;
          expect(inCompass(event.written, who.compass)).toBe(true);
          expect(event.sounding).toEqual(transpose(event.written, who.instrument.transposition));
          const statement = line.statements[event.statement];
          if (!statement) return;
          const tone = tones[statement.direction === 'up' ? event.tone : tones.length - 1 - event.tone];
          if (tone?.kind !== 'note') throw new Error('a note stands for a note');
          expect(event.written).toEqual(transpose(statement.root, toneInterval(tone, scale, statement.key.mode)));
        });
        for (const one of line.statements) {
          expect({ letter: one.root.letter, alter: one.root.alter }).toEqual(one.writtenKey.tonic);
          expect(one.soundingKey.tonic).toEqual(transposeClass(one.writtenKey.tonic, who.instrument.transposition));
        }
        expect(equal(end, line.duration)).toBe(true);
      },
    ),
    { numRuns: 120, seed: 12 },
  );
});

test('the same exercise and player give the same line', () => {
  const asked = exercise({ contour: 'sweep', passes: 2 });
  expect(JSON.stringify(realise(asked, player('oboe')))).toBe(JSON.stringify(realise(asked, player('oboe'))));
});
