/** How loud, how long and how fast a line sounds, in numbers of its own. */
import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import type { Dynamic } from '../../../core/exercise/exercise.js';
import { midiExport } from '../../../core/output/sound/midi.js';
import { MAX_COUNT_IN, type Performance, type PerformanceOptions, perform } from '../../../core/output/sound/performance.js';
import { frac, text } from '../../../core/theory/fraction.js';
import { codes, player, realised, value, type Words } from '../../player/fixture.js';

const played = (words: Words, options: PerformanceOptions = {}, instrument = 'flute'): Performance =>
  value(perform(realised(words, player(instrument)), options));
const velocities = (words: Words): number[] => [...new Set(played(words).notes.map(({ velocity }) => velocity))];

describe('velocity', () => {
  // Evenly about 64, the middle of the scale (MIDI 1.0 Detailed Specification: 64 for keyboards without touch); house choice.
  it.each([
    ['pp', 36],
    ['p', 48],
    ['mp', 64],
    ['mf', 80],
    ['f', 96],
    ['ff', 112],
  ] as const)('of %s is %d', (dynamic, velocity) => expect(velocities({ dynamic })).toEqual([velocity]));
  it('is that of mf when nothing is said', () => expect(velocities({})).toEqual([80]));
  it.each<[Dynamic, number]>([
    ['p', 64],
    ['f', 112],
    ['ff', 127],
  ])('of an accent in %s is %d', (dynamic, velocity) =>
    expect(velocities({ dynamic, articulation: { groups: [], mark: 'accent' } })).toEqual([velocity]),
  );
  it.each(['staccato', 'tenuto'] as const)('is no other with %s', (mark) =>
    expect(velocities({ articulation: { groups: [], mark } })).toEqual([80]),
  );
});

describe('length', () => {
  const lengths = (words: Words): number[] =>
    played(words)
      .notes.slice(0, 4)
      .map(({ length }) => length);
  it('is that of the note; of a staccato note half of it', () => {
    expect(lengths({})).toEqual([0.125, 0.125, 0.125, 0.125]);
    expect(lengths({ articulation: { groups: [], mark: 'staccato' } })).toEqual([0.0625, 0.0625, 0.0625, 0.0625]);
    expect(lengths({ articulation: { groups: [], mark: 'tenuto' } })).toEqual([0.125, 0.125, 0.125, 0.125]);
  });
  it('under a slur goes into the next note, but for the last', () => {
    const slurred = played({ articulation: { groups: [3, 1] } }).notes.map((note) => note.slurred);
    expect(slurred.slice(0, 8)).toEqual([true, true, false, false, true, true, false, false]);
  });
});

describe('tempo', () => {
  const tempo = { beat: frac(1, 2), from: 60, to: 96 };
  const QUARTER_100 = { beat: frac(1, 4), bpm: 100 };
  const breaths = { tempo: { beat: frac(1, 4), bpm: 40 }, manner: 'in-time', added: frac(0), breaths: [] } as const;
  const speed = (words: Words, options: PerformanceOptions = {}): string => {
    const found = played(words, options);
    return `${text(found.tempo.beat)} = ${found.tempo.bpm}: ${found.secondsPerWhole} s`;
  };
  it('is the slower one of the exercise', () => expect(speed({ tempo })).toBe('1/2 = 60: 2 s'));
  it('is 80 beats of the metre where the exercise has none', () => {
    expect(speed({})).toBe('1/4 = 80: 3 s');
    expect(speed({ metre: '6/8' })).toBe('3/8 = 80: 2 s');
    expect(speed({ metre: '2/2' })).toBe('1/2 = 80: 1.5 s');
  });
  it('is the one asked for before that of the exercise', () => expect(speed({ tempo }, { tempo: QUARTER_100 })).toBe('1/4 = 100: 2.4 s'));
  it('is that of the breaths before all others', () => expect(speed({ tempo }, { tempo: QUARTER_100, breaths })).toBe('1/4 = 40: 6 s'));
});

describe('bars and clicks', () => {
  const clicked = (words: Words, options: PerformanceOptions): string =>
    played(words, options)
      .clicks.slice(0, 7)
      .map(({ onset, strong }) => `${text(onset)}${strong ? '!' : ''}`)
      .join(' ');
  it('stand on the beats of the metre, the first of a bar strong', () => {
    expect(clicked({}, { click: true })).toBe('0! 1/4 1/2 3/4 1! 5/4 3/2');
    expect(clicked({ metre: '6/8', figure: '1 2 3' }, { click: true })).toBe('0! 3/8 3/4! 9/8 3/2! 15/8 9/4!');
    expect(clicked({}, { countIn: 1 })).toBe('0! 1/4 1/2 3/4');
  });
  it('go on through a stop that a breath adds', () => {
    const breath = { afterEvent: 3, onset: frac(1, 2), reason: 'end-of-key', secondsSinceLast: 1, airLeft: 1, seconds: 1 } as const;
    const breaths = { tempo: { beat: frac(1, 4), bpm: 60 }, manner: 'added-beat', added: frac(1, 2), breaths: [breath] } as const;
    const found = played({}, { click: true, breaths });
    expect(found.bars.slice(0, 2).map(({ onset, length }) => `${text(onset)}+${text(length)}`)).toEqual(['0+3/2', '3/2+1']);
    expect(clicked({}, { click: true, breaths })).toBe('0! 1/4 1/2 3/4 1 5/4 3/2!');
    expect(found.notes.slice(3, 5).map(({ onset }) => text(onset))).toEqual(['3/8', '1']);
    expect([text(found.duration), text(found.start), text(found.statements[1]!)]).toEqual(['13/2', '0', '1']);
  });
  it('a count-in of up to eight bars', () => {
    expect(MAX_COUNT_IN).toBe(8);
    expect(text(played({}, { countIn: 8 }).start)).toBe('8');
    expect(codes(perform(realised({}, player('flute')), { countIn: 9 }))).toEqual(['count-in']);
  });
});

describe('a MIDI file', () => {
  const events = (words: Words, instrument: string, options: PerformanceOptions = {}) =>
    parseMidi(midiExport('T', [played(words, options, instrument)])).tracks.map((track) => {
      let tick = 0;
      return track.map((event) => {
        tick += event.deltaTime;
        return { tick, event };
      });
    });
  /** Sharps or flats, and 0 for major and 1 for minor: Standard MIDI Files 1.0, key signature meta event. */
  const keys = (words: Words, instrument: string): string[] =>
    events(words, instrument)[0]!.flatMap(({ event }) => (event.type === 'keySignature' ? [`${event.key} ${event.scale}`] : []));

  const signed: Words = { signs: 'signature', padding: { to: 'bar', by: 'long-note' } };

  it('has minor keys as minor', () => {
    const pairs: Words = { order: { name: 'relative-pairs' }, ...signed };
    expect(keys(pairs, 'flute').slice(0, 8)).toEqual(['0 0', '0 1', '-1 0', '-1 1', '-2 0', '-2 1', '-3 0', '-3 1']);
    expect(keys({ ...pairs, order: { name: 'parallel-pairs' } }, 'flute').slice(0, 4)).toEqual(['0 0', '-3 1', '-1 0', '-4 1']);
  });
  it('has the keys that sound, and none where the notation has no signatures', () => {
    const order = { name: 'custom', keys: ['C', 'D'] } as const;
    expect(keys({ order, ...signed }, 'clarinet-in-bb')).toEqual(['0 0', '2 0']);
    expect(keys({ order, signs: 'accidentals' }, 'flute')).toEqual(['0 0']);
  });
  it('has programs counted from 0, 480 ticks a quarter, a release of 64 and no bar line between', () => {
    const [, notes] = events({}, 'trombone');
    expect(notes!.slice(0, 4).map(({ tick, event }) => ({ tick, ...event, deltaTime: 0 }))).toMatchObject([
      { tick: 0, type: 'trackName', text: 'Trombone' },
      { tick: 0, type: 'programChange', programNumber: 57, channel: 0 },
      { tick: 0, type: 'noteOn', channel: 0, velocity: 80 },
      { tick: 240, type: 'noteOff', channel: 0, velocity: 64 },
    ]);
  });
  it('clicks with wood blocks of General MIDI on channel 10, an eighth of a quarter long', () => {
    const click = events({}, 'flute', { click: true })[2]!;
    expect(click.slice(0, 5).map(({ tick, event }) => ({ tick, ...event, deltaTime: 0 }))).toMatchObject([
      { tick: 0, type: 'trackName', text: 'Click' },
      { tick: 0, type: 'noteOn', channel: 9, noteNumber: 76, velocity: 112 },
      { tick: 60, type: 'noteOff', channel: 9, noteNumber: 76, velocity: 64 },
      { tick: 480, type: 'noteOn', channel: 9, noteNumber: 77, velocity: 80 },
      { tick: 540, type: 'noteOff', channel: 9, noteNumber: 77, velocity: 64 },
    ]);
  });
  it('has microseconds of a quarter, and clocks of a click: 24 to a quarter', () => {
    const conductor = (words: Words) =>
      events(words, 'flute')[0]!.flatMap(({ event }) =>
        event.type === 'setTempo'
          ? [`${event.microsecondsPerBeat}`]
          : event.type === 'timeSignature'
            ? [`${event.numerator}/${event.denominator} ${event.metronome} ${event.thirtyseconds}`]
            : [],
      );
    expect(conductor({})).toEqual(['750000', '4/4 24 8']);
    expect(conductor({ metre: '6/8', figure: '1 2 3' })).toEqual(['500000', '6/8 36 8']);
    expect(conductor({ metre: '2/2' })).toEqual(['375000', '2/2 48 8']);
    expect(conductor({ metre: '3/8', figure: '1 2 3' })).toEqual(['1500000', '3/8 12 8']);
  });
});
