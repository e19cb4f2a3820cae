import toneMidi from '@tonejs/midi';
import { describe, expect, it } from 'vitest';
import { breathPlan } from '../../../core/breath/plan.js';
import { midiExport } from '../../../core/output/sound/midi.js';
import { type PerformanceOptions, perform } from '../../../core/output/sound/performance.js';
import type { Line } from '../../../core/player/line.js';
import { frac } from '../../../core/theory/fraction.js';
import { midi } from '../../../core/theory/pitch.js';
import { lungs } from '../../breath/lines.js';
import { codes, player, realised, value } from '../../player/fixture.js';
import { demoLines, kindLines } from '../exported.js';

const { Midi } = toneMidi;
type Read = InstanceType<typeof Midi>;

const bytes = (line: Line, options: PerformanceOptions = {}): Uint8Array => midiExport('Wheels', [value(perform(line, options))]);
const read = (line: Line, options: PerformanceOptions = {}): Read => new Midi(bytes(line, options));

/** Key, onset and duration in quarters. */
const heard = (file: Read, track = 0): string[] =>
  (file.tracks.filter((one) => one.notes.length > 0)[track]?.notes ?? []).map(
    (note) => `${note.midi} ${(note.ticks / file.header.ppq).toFixed(4)} ${(note.durationTicks / file.header.ppq).toFixed(4)}`,
  );

const ours = (line: Line): string[] =>
  line.events.flatMap((event) =>
    event.kind === 'rest'
      ? []
      : [
          `${midi(event.sounding)} ${((4 * event.onset.n) / event.onset.d).toFixed(4)} ${((4 * event.duration.n) / event.duration.d).toFixed(4)}`,
        ],
  );

const plain = (line: Line): Line => ({ ...line, exercise: { ...line.exercise, articulation: { groups: [] } } });

describe('an independent reader (@tonejs/midi) reads the same notes', () => {
  it('of every kind of line, in sounding pitch', () => {
    for (const line of kindLines().map(plain)) expect(heard(read(line))).toEqual(ours(line));
  });

  it('of every exercise of the demo books', () => {
    for (const line of demoLines([0, 2]).map(plain)) expect(heard(read(line))).toEqual(ours(line));
  });

  it('and not those of another instrument', () => {
    const words = { figure: '1 2 3 5', start: { kind: 'written' as const, key: { letter: 0, alter: 0 } } };
    expect(heard(read(realised(words, player('flute'))))).not.toEqual(ours(realised(words, player('alto-saxophone'))));
  });
});

describe('what stands beside the notes', () => {
  const [flute, , trombone, , tuba] = kindLines() as [Line, Line, Line, Line, Line];

  it('tempo: quarters a minute', () => {
    expect(read(flute).header.tempos.map((one) => Math.round(one.bpm))).toEqual([60]);
    expect(read(tuba).header.tempos.map((one) => Math.round(one.bpm))).toEqual([60]);
    expect(read(flute, { tempo: { beat: frac(1, 2), bpm: 72 } }).header.tempos.map((one) => Math.round(one.bpm))).toEqual([144]);
  });

  it('metre', () => {
    expect(read(tuba).header.timeSignatures.map((one) => one.timeSignature)).toEqual([[6, 8]]);
  });

  it('keys at the bars where they change, in sounding pitch', () => {
    const { keySignatures } = read(trombone).header;
    expect(keySignatures.length).toBe(12);
    expect(keySignatures.slice(0, 3).map(({ key, scale, ticks }) => `${key} ${scale} ${ticks}`)).toEqual([
      'C major 0',
      'F major 1920',
      'Bb major 3840',
    ]);
    expect(read(flute).header.keySignatures.length).toBe(1);
  });

  it('name and program', () => {
    const [track] = read(trombone).tracks.filter((one) => one.notes.length > 0);
    expect(track?.name).toBe('Trombone');
    expect(track?.instrument.number).toBe(57);
  });

  it('staccato notes sound half their value', () => {
    const lengths = heard(read(flute))
      .slice(0, 4)
      .map((one) => one.split(' ')[2]);
    expect(lengths).toEqual(['0.5000', '0.5000', '0.2500', '0.2500']);
  });

  it('the same bytes twice', () => expect(bytes(flute)).toEqual(bytes(flute)));
});

describe('clicks and count-in', () => {
  const line = realised({ figure: '1 2 3 5' }, player('flute'));

  it('two bars of count-in: eight clicks, the first of each bar on another key, and the notes two bars later', () => {
    const file = read(line, { countIn: 2 });
    expect(heard(file, 1).map((one) => one.split(' ').slice(0, 2).join(' '))).toEqual(
      ['76 0', '77 1', '77 2', '77 3', '76 4', '77 5', '77 6', '77 7'].map((one) => `${one}.0000`),
    );
    expect(file.tracks.at(-1)?.channel).toBe(9);
    expect(heard(file)[0]).toMatch(/^\d+ 8\.0000/);
  });

  it('clicks through the line on every beat', () => expect(heard(read(line, { click: true }), 1).length).toBe(24));

  it('none unless asked for', () => expect(read(line).tracks.filter((one) => one.notes.length > 0).length).toBe(1));

  it.each([-1, 1.5, 99])('a count-in of %s bars is refused', (countIn) => expect(codes(perform(line, { countIn }))).toEqual(['count-in']));

  it('a tempo of 0 is refused', () =>
    expect(codes(perform(line, { tempo: { beat: frac(1, 4), bpm: 0 } }))).toEqual(['tempo-out-of-range']));
});

describe('breaths', () => {
  const line = realised({ figure: '1 2 3 5' }, player('flute'));
  const tempo = { beat: frac(1, 4), bpm: 60 };

  it('in time: the note before each is shorter, and nothing moves', () => {
    const plan = value(breathPlan(line, tempo, lungs(7), { manner: 'in-time', breathSeconds: 0.25 }));
    expect(plan.breaths.length).toBeGreaterThan(1);
    const found = heard(read(line, { breaths: plan }));
    const wanted = ours(line);
    const shortened = plan.breaths.map((breath) => breath.afterEvent);
    found.forEach((one, i) => {
      if (shortened.includes(i)) expect(one).toBe((wanted[i] as string).replace(/\S+$/, '0.2500'));
      else expect(one).toBe(wanted[i]);
    });
  });

  it('added beats: what follows is later by a quarter for each, in bars of five beats', () => {
    const plan = value(breathPlan(line, tempo, lungs(7), { manner: 'added-beat' }));
    const file = read(line, { breaths: plan, click: true });
    const shifted = line.events.map((_, i) => plan.breaths.filter((breath) => breath.afterEvent < i).length);
    const onsets = heard(file).map((one) => Number(one.split(' ')[1]));
    expect(onsets).toEqual(line.events.map((event, i) => (4 * event.onset.n) / event.onset.d + (shifted[i] as number)));
    expect(file.header.timeSignatures.map((one) => one.timeSignature.join('/'))).toContain('5/4');
    expect(heard(file, 1).length).toBe(24 + plan.breaths.length);
  });
});

it('several lines are several tracks with channels of their own, past the channel of percussion', () => {
  const runs = Array.from({ length: 11 }, () => value(perform(realised({}, player('flute')))));
  const file = new Midi(midiExport('Tutti', runs));
  expect(file.tracks.filter((one) => one.notes.length > 0).map((one) => one.channel)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 10, 11]);
});
