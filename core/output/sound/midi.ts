/**
 * Standard MIDI files (format 1): the first track holds tempo, metre and keys, then one track a line, then the clicks.
 * Pitches are sounding pitches.
 */

import { assert } from '../../base/issue.js';
import { at as itemAt } from '../../base/list.js';
import { usesSignatures } from '../../engrave/bars.js';
import { equal, type Fraction, frac, mul, toNumber } from '../../theory/fraction.js';
import { keyFifths } from '../../theory/key.js';
import { isCompound, type Metre } from '../../theory/metre.js';
import { type Channel, channelsOf, PERCUSSION } from './channels.js';
import { type MidiEvent, midiBytes, type TimedMidi } from './midi-codec.js';
import type { Performance } from './performance.js';

/** General MIDI percussion: high and low wood block, on channel 10. */
const CLICK = { channel: PERCUSSION, strong: 76, weak: 77, loud: 112, soft: 80 } as const;

/** Name of the track of clicks, by which it is known again. */
export const CLICK_TRACK = 'Click';

/** 480 parts of a quarter hold thirty-seconds, triplets and quintuplets. */
const USUAL_TICKS = 480;
const MOST_TICKS = 32767;

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

/** Ticks of a quarter in which every onset is whole; rarer mixtures of tuplets than a file can count are rounded. */
function ticksPerQuarter(performances: readonly Performance[]): number {
  let ticks = USUAL_TICKS;
  for (const { notes, bars } of performances) {
    for (const { onset } of [...notes, ...bars]) {
      const wanted = ticks * (onset.d / gcd(4 * ticks, onset.d));
      if (wanted <= MOST_TICKS) ticks = wanted;
    }
  }
  return ticks;
}

type Untimed<E> = E extends unknown ? Omit<E, 'deltaTime'> : never;

const event = (one: Untimed<MidiEvent>): MidiEvent => ({ deltaTime: 0, ...one });

/** A bar's length as a time signature: the metre's own, or one in the smallest unit that holds it, at most sixty-fourths. */
function signature(length: Fraction, metre: Metre): { numerator: number; denominator: number } {
  let denominator = metre.unit;
  while (denominator < 64 && (length.n * denominator) % length.d !== 0) denominator *= 2;
  return { numerator: Math.ceil((length.n * denominator) / length.d), denominator };
}

function conductor(performance: Performance, title: string, tick: (at: Fraction) => number): TimedMidi[] {
  const { line, bars, secondsPerWhole } = performance;
  const { metre } = line.exercise;
  const clocks = isCompound(metre) ? 36 : 96 / metre.unit;
  const track: TimedMidi[] = [
    { tick: 0, event: event({ type: 'trackName', meta: true, text: plainText(title) }) },
    {
      tick: 0,
      event: event({ type: 'setTempo', meta: true, microsecondsPerBeat: Math.min(0xffffff, Math.round(secondsPerWhole * 250_000)) }),
    },
  ];
  bars.forEach((bar, i) => {
    if (i > 0 && equal(bar.length, itemAt(bars, i - 1).length)) return;
    track.push({
      tick: tick(bar.onset),
      event: event({ type: 'timeSignature', meta: true, ...signature(bar.length, metre), metronome: clocks, thirtyseconds: 8 }),
    });
  });
  return [...track, ...keySignatures(performance, tick)];
}

/** Sounding keys where the notation has signatures; no sharps or flats throughout where it has none. */
function keySignatures({ line, statements }: Performance, tick: (at: Fraction) => number): TimedMidi[] {
  const at = (onset: number, fifths: number, minor: boolean): TimedMidi => {
    // There are signatures up to seven signs; beyond, the enharmonic neighbour.
    const key = fifths > 7 ? fifths - 12 : fifths < -7 ? fifths + 12 : fifths;
    return { tick: onset, event: event({ type: 'keySignature', meta: true, key, scale: minor ? 1 : 0 }) };
  };
  if (!usesSignatures(line)) return [at(0, 0, false)];
  return line.statements.flatMap(({ soundingKey }, i) => {
    const previous = line.statements[i - 1]?.soundingKey;
    const fifths = keyFifths(soundingKey);
    if (previous && keyFifths(previous) === fifths && previous.mode === soundingKey.mode) return [];
    return [at(i === 0 ? 0 : tick(itemAt(statements, i)), fifths, soundingKey.mode === 'minor')];
  });
}

/** The format knows bytes only: signs beyond ASCII are written as words or dropped. */
const plainText = (text: string): string =>
  text
    .replaceAll('♭', '-flat')
    .replaceAll('♯', '-sharp')
    .normalize('NFKD')
    .replace(/[^\x20-\x7e]/g, '');

function noteTrack(
  performance: Performance,
  name: string,
  { port, channel }: Channel,
  ticks: number,
  tick: (at: Fraction) => number,
): TimedMidi[] {
  const { instrument } = performance.line.player;
  const track: TimedMidi[] = [
    { tick: 0, event: event({ type: 'trackName', meta: true, text: plainText(name) }) },
    ...(port > 0 ? [{ tick: 0, event: event({ type: 'portPrefix', meta: true, port }) }] : []),
    { tick: 0, event: event({ type: 'programChange', channel, programNumber: instrument.midiProgram - 1 }) },
  ];
  for (const { key: noteNumber, onset, length, velocity } of performance.notes) {
    const on = tick(onset);
    const off = Math.max(on + 1, Math.round((toNumber(onset) + length) * 4 * ticks));
    track.push({ tick: on, event: event({ type: 'noteOn', channel, noteNumber, velocity }) });
    track.push({ tick: off, event: event({ type: 'noteOff', channel, noteNumber, velocity: 64 }) });
  }
  // A note ends before the next one of the same key begins.
  return [...track].sort((a, b) => a.tick - b.tick || Number(a.event.type === 'noteOn') - Number(b.event.type === 'noteOn'));
}

function clickTrack({ clicks }: Performance, ticks: number, tick: (at: Fraction) => number): TimedMidi[] {
  const { channel } = CLICK;
  const hits = clicks.flatMap(({ onset, strong }): TimedMidi[] => {
    const noteNumber = strong ? CLICK.strong : CLICK.weak;
    return [
      { tick: tick(onset), event: event({ type: 'noteOn', channel, noteNumber, velocity: strong ? CLICK.loud : CLICK.soft }) },
      { tick: tick(onset) + ticks / 8, event: event({ type: 'noteOff', channel, noteNumber, velocity: 64 }) },
    ];
  });
  return [{ tick: 0, event: event({ type: 'trackName', meta: true, text: CLICK_TRACK }) }, ...hits];
}

/**
 * One exercise as a MIDI file: one track for each performance, in the tempo, with the bars and clicks of the first. A breath
 * in time shortens the note before it; an added beat lengthens its bar, and the time signature says so. `names` are those of
 * the tracks; the instruments' own when not said.
 */
export function midiExport(title: string, performances: readonly Performance[], names: readonly string[] = []): Uint8Array {
  const [first] = performances;
  assert(first, 'something is exported');
  assert(
    performances.every(({ duration }) => equal(duration, first.duration)),
    'what sounds together ends together',
  );
  const ticks = ticksPerQuarter(performances);
  const tick = (at: Fraction): number => {
    const exact = mul(at, frac(4 * ticks));
    return Math.round(exact.n / exact.d);
  };
  const channels = channelsOf(performances.map(({ line }) => line.player.instrument.midiProgram));
  const tracks = [
    conductor(first, title, tick),
    ...performances.map((one, part) => noteTrack(one, names[part] ?? one.line.player.instrument.name, itemAt(channels, part), ticks, tick)),
    ...(first.clicks.length > 0 ? [clickTrack(first, ticks, tick)] : []),
  ];
  return midiBytes(tracks, ticks);
}
