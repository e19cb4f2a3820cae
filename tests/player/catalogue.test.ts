import { describe, expect, it, test } from 'vitest';
import { INSTRUMENTS, instrumentById, LEVELS } from '../../core/player/catalogue.js';
import { midi, parsePitch, pitchName, transpose } from '../../core/theory/pitch.js';
import { value } from './fixture.js';

test('there are 38 instruments, each with an id and a name of its own', () => {
  expect(INSTRUMENTS).toHaveLength(38);
  expect(new Set(INSTRUMENTS.map((one) => one.id)).size).toBe(38);
  expect(new Set(INSTRUMENTS.map((one) => one.name)).size).toBe(38);
});

describe.each(INSTRUMENTS)('$id', (one) => {
  it('has ranges that lie one inside the next', () => {
    for (const [i, level] of LEVELS.slice(1).entries()) {
      const inner = one.compass[LEVELS[i] as (typeof LEVELS)[number]];
      expect(midi(one.compass[level].low)).toBeLessThanOrEqual(midi(inner.low));
      expect(midi(one.compass[level].high)).toBeGreaterThanOrEqual(midi(inner.high));
    }
  });

  it('says for each level where its range comes from', () => {
    for (const level of LEVELS) expect(one.sources[level]).toMatch(/^[FM]\b(?!.*\bS\d)/);
  });

  it('has a General MIDI program and names without blanks at their ends', () => {
    expect(one.midiProgram).toBeGreaterThanOrEqual(1);
    expect(one.midiProgram).toBeLessThanOrEqual(128);
    expect(one.id).toMatch(/^[a-z]+(-[a-z]+)*$/);
  });

  it('is pitched in what a written C sounds', () => {
    const { letter, alter } = transpose({ letter: 0, alter: 0, octave: 5 }, one.transposition);
    const sounds = 'CDEFGAB'[letter] + (alter < 0 ? '♭' : alter > 0 ? '♯' : '');
    expect(one.pitchedIn ?? 'C').toBe(sounds);
  });
});

// Written compass of professionals as MIDI numbers, and as it sounds: computed apart from this program from the same
// handbook ranges.
test.each`
  id                         | low   | high   | soundsLow | soundsHigh
  ${'piccolo'}               | ${62} | ${96}  | ${'D5'}   | ${'C8'}
  ${'flute'}                 | ${60} | ${98}  | ${'C4'}   | ${'D7'}
  ${'english-horn'}          | ${59} | ${91}  | ${'E3'}   | ${'C6'}
  ${'bassoon'}               | ${34} | ${75}  | ${'Bb1'}  | ${'Eb5'}
  ${'clarinet-in-eb'}        | ${52} | ${91}  | ${'G3'}   | ${'Bb6'}
  ${'clarinet-in-bb'}        | ${52} | ${96}  | ${'D3'}   | ${'Bb6'}
  ${'bass-clarinet'}         | ${51} | ${91}  | ${'Db2'}  | ${'F5'}
  ${'alto-saxophone'}        | ${58} | ${89}  | ${'Db3'}  | ${'Ab5'}
  ${'baritone-saxophone'}    | ${58} | ${89}  | ${'Db2'}  | ${'Ab4'}
  ${'horn-in-f'}             | ${42} | ${84}  | ${'B1'}   | ${'F5'}
  ${'trumpet-in-bb'}         | ${54} | ${84}  | ${'E3'}   | ${'Bb5'}
  ${'euphonium-treble-clef'} | ${49} | ${86}  | ${'B1'}   | ${'C5'}
  ${'tuba'}                  | ${26} | ${65}  | ${'D1'}   | ${'F4'}
  ${'bass-recorder'}         | ${41} | ${67}  | ${'F3'}   | ${'G5'}
  ${'double-bass'}           | ${40} | ${74}  | ${'E1'}   | ${'D4'}
  ${'glockenspiel'}          | ${55} | ${84}  | ${'G5'}   | ${'C8'}
  ${'piano-right-hand'}      | ${48} | ${108} | ${'C3'}   | ${'C8'}
`('$id reaches from $low to $high', ({ id, low, high, soundsLow, soundsHigh }) => {
  const one = value(instrumentById(id));
  const compass = one.compass.professional;
  expect([midi(compass.low), midi(compass.high)]).toEqual([low, high]);
  const sounding = [compass.low, compass.high].map((pitch) => midi(transpose(pitch, one.transposition)));
  expect(sounding).toEqual([soundsLow, soundsHigh].map((name) => midi(parsePitch(name) as NonNullable<ReturnType<typeof parsePitch>>)));
});

describe('instrumentById', () => {
  test.each([
    ['clarinet-in-bb', 'clarinet-in-bb'],
    ['Clarinet in B♭', 'clarinet-in-bb'],
    ['clarinet in bb', 'clarinet-in-bb'],
    [' ALTO SAXOPHONE ', 'alto-saxophone'],
    ['Euphonium (treble clef)', 'euphonium-treble-clef'],
  ])('%s is %s', (name, id) => expect(value(instrumentById(name)).id).toBe(id));

  test.each([
    ['alto-saxaphone', 'alto-saxophone'],
    ['Clarinet Bb', 'clarinet-in-bb'],
    ['oboo', 'oboe'],
  ])('%s is refused, and %s offered', (name, offered) => {
    const result = instrumentById(name);
    expect(result.ok).toBe(false);
    expect(result.issues).toMatchObject([{ code: 'unknown-instrument', message: expect.stringContaining(`"${offered}"`) }]);
  });

  it('offers nothing near for a word that is like no instrument', () => {
    expect(instrumentById('zzzzzz').issues[0]?.message).toBe('There is no instrument "zzzzzz". Write an id such as "piccolo".');
  });
});

test('advanced ranges are those of the grade 9 to 12 list where it has the instrument', () => {
  // docsbay.net, District and All-State chromatic scale requirements (Georgia).
  const advanced = (id: string): string => {
    const { low, high } = value(instrumentById(id)).compass.advanced;
    return `${pitchName(low)}-${pitchName(high)}`;
  };
  expect(advanced('flute')).toBe('C4-C7');
  expect(advanced('oboe')).toBe('Bb3-D6');
  expect(advanced('bassoon')).toBe('Bb1-Bb4');
  expect(advanced('horn-in-f')).toBe('F3-A5');
  expect(advanced('tuba')).toBe('E1-Bb3');
});
