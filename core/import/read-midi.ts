/** A Standard MIDI file → one phrase. Times are drawn to the nearest note values; what a figure cannot hold is refused. */

import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import { at } from '../base/list.js';
import { MAX_TONES } from '../exercise/figure.js';
import { CLICK_TRACK } from '../output/sound/midi.js';
import { type MidiFile, midiFile, type TimedMidi } from '../output/sound/midi-codec.js';
import { compare, div, type Fraction, frac, mul, sub, toNumber, ZERO } from '../theory/fraction.js';
import { parseMetre } from '../theory/metre.js';
import { noNotes, type Phrase, type PhraseEvent, tooLong, trimmed } from './phrase.js';
import { noteValue } from './rhythm-text.js';

/** A phrase takes some kilobytes; a megabyte is hours of music. */
const MOST_BYTES = 1024 * 1024;
const MOST_TRACKS = 256;
const PERCUSSION = 9;

type Note = { readonly key: number; readonly on: number; readonly off: number; readonly voice: string };

const broken = (): Issue => error('midi-broken', [], 'The MIDI file is damaged or cut short; save or copy it again.');

/** Do the lengths that the file claims fit the bytes it has? Else no reader is let near it. */
function soundChunks(bytes: Uint8Array): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 14 || view.getUint32(4) !== 6) return false;
  const tracks = view.getUint16(10);
  if (tracks === 0 || tracks > MOST_TRACKS || view.getUint16(12) === 0) return false;
  let found = 0;
  let at = 14;
  while (at + 8 <= bytes.length && found < tracks) {
    if (view.getUint32(at) === 0x4d54726b) found++;
    at += 8 + view.getUint32(at + 4);
  }
  return found === tracks && at <= bytes.length;
}

function parsed(bytes: Uint8Array): Result<MidiFile> {
  if (bytes.length > MOST_BYTES)
    return bad(error('file-too-large', [], 'The MIDI file is larger than 1 MB; choose a file that holds a single phrase.'));
  if (!soundChunks(bytes)) return bad(broken());
  try {
    return good(midiFile(bytes));
  } catch {
    // The reader throws texts and errors of many kinds, all of which mean the same.
    return bad(broken());
  }
}

type Track = MidiFile['tracks'][number];

/** The clicks of an exercise that was exported with them: a track of that name with percussion alone. */
function isClick(track: Track): boolean {
  const named = track.some(({ event }) => event.type === 'trackName' && event.text === CLICK_TRACK);
  return named && track.every(({ event }) => event.type !== 'noteOn' || event.channel === PERCUSSION);
}

const hasPitches = (track: Track): boolean =>
  track.some(({ event }) => event.type === 'noteOn' && event.velocity > 0 && event.channel !== PERCUSSION);

/** Clicks are no music; alone they are percussion like any other. */
const withoutClicks = (tracks: MidiFile['tracks']): MidiFile['tracks'] =>
  tracks.some(hasPitches) ? tracks.filter((track) => !isClick(track)) : tracks;

function notesOf(tracks: MidiFile['tracks']): Result<Note[]> {
  const notes: Note[] = [];
  let percussion = false;
  let bent = false;
  tracks.forEach((track, t) => {
    const held = new Map<string, { on: number; key: number }>();
    const close = (id: string, off: number): void => {
      const open = held.get(id);
      held.delete(id);
      if (open && off > open.on) notes.push({ ...open, off, voice: `${t} ${id.split(' ')[0]}` });
    };
    const bends = new Map<number, number>();
    for (const { tick, event } of track) {
      if (event.type === 'pitchBend') bends.set(event.channel, event.value);
      if (event.type !== 'noteOn' && event.type !== 'noteOff') continue;
      const id = `${event.channel} ${event.noteNumber}`;
      close(id, tick);
      if (event.type === 'noteOff' || event.velocity === 0) continue;
      if (event.channel === PERCUSSION) percussion = true;
      else held.set(id, { on: tick, key: event.noteNumber });
      if ((bends.get(event.channel) ?? 0) !== 0) bent = true;
    }
    const end = track.at(-1)?.tick ?? 0;
    for (const id of [...held.keys()]) close(id, end);
  });
  if (percussion)
    return bad(error('percussion', [], 'The file has a percussion track (channel 10); a figure has pitches only. Save the melody alone.'));
  if (bent) return bad(error('microtone', [], 'The file bends its pitches; a figure has half steps only. Save it without pitch bend.'));
  return good(notes.sort((a, b) => a.on - b.on || a.key - b.key));
}

/** Notes may overlap a little, as legato is played; more is a chord or a second voice. */
const OVERLAP = 0.34;

function polyphony(notes: readonly Note[], ticks: number, barAt: (tick: number) => number): Issue | undefined {
  const voices = new Set(notes.map(({ voice }) => voice));
  if (voices.size > 1)
    return error(
      'several-voices',
      [],
      `The file has notes in ${voices.size} tracks or channels; a figure is one line. Save one track alone.`,
    );
  for (const [i, note] of notes.entries()) {
    const next = notes[i + 1];
    if (!next) break;
    if (next.on - note.on <= ticks / 32)
      return error('chord', [], `Bar ${barAt(note.on)} has a chord; a figure has one note at a time. Keep one note of it.`);
    const shorter = Math.min(note.off - note.on, next.off - next.on);
    if (note.off - next.on > OVERLAP * shorter) {
      return error(
        'several-voices',
        [],
        `Bar ${barAt(next.on)} has notes that sound together; a figure has one voice. Save the voice alone.`,
      );
    }
  }
  return undefined;
}

/** Parts that a quarter is divided into, the plainest first. */
const DIVISIONS = [1, 2, 4, 3, 8, 6, 5, 7, 12] as const;
/** How far off a played note may be, in quarters, and as a share of the part: among fine parts any time would be near one. */
const TOLERANCE = 0.035;
const SHARE = 0.15;

/** Moments in quarters → exact ones, quarter by quarter on the plainest division that holds them all; undefined if none does. */
function onGrid(moments: readonly number[]): Fraction[] | undefined {
  const byBeat = new Map<number, number[]>();
  for (const moment of moments) {
    const beat = Math.floor(moment + TOLERANCE);
    byBeat.set(beat, [...(byBeat.get(beat) ?? []), moment]);
  }
  const division = new Map<number, number>();
  for (const [beat, own] of byBeat) {
    const found = DIVISIONS.find((d) =>
      own.every((moment) => Math.abs(moment * d - Math.round(moment * d)) <= Math.min(TOLERANCE * d, SHARE)),
    );
    if (found === undefined) return undefined;
    division.set(beat, found);
  }
  return moments.map((moment) => {
    const d = division.get(Math.floor(moment + TOLERANCE)) as number;
    return frac(Math.round(moment * d), d);
  });
}

/** A note that sounds for no more than this share of the time to the next is followed by a rest. */
const REST_SHARE = 0.55;

/** Notes one after another with their values; a gap is a rest where both can be written. */
function eventsOf(notes: readonly Note[], ticks: number, barAt: (tick: number) => number): PhraseEvent[] | undefined {
  const start = notes[0]?.on ?? 0;
  // The phrase is counted from the quarter in which it begins.
  const origin = Math.floor(start / ticks + TOLERANCE) * ticks;
  const onsets = onGrid(notes.map((note) => (note.on - origin) / ticks));
  const ends = notes.map((note) => (note.off - origin) / ticks);
  if (!onsets) return undefined;
  return notes.flatMap((note, i): PhraseEvent[] => {
    const onset = at(onsets, i);
    const next = onsets[i + 1];
    const bar = barAt(note.on);
    const quarter = (time: Fraction): Fraction => div(time, frac(4));
    const event = (duration: Fraction): PhraseEvent => ({ kind: 'note', key: note.key, duration: quarter(duration), bar });
    const sounded = at(ends, i) - toNumber(onset);
    if (!next) return [event(nearestValue(sounded))];
    const whole = sub(next, onset);
    if (compare(whole, ZERO) <= 0) return [];
    if (sounded > REST_SHARE * toNumber(whole)) return [event(whole)];
    const [end] = onGrid([at(ends, i)]) ?? [];
    const length = end && sub(end, onset);
    const rest = length && sub(whole, length);
    if (!length || !rest || length.n <= 0 || rest.n <= 0 || !noteValue(quarter(length)) || !noteValue(quarter(rest))) return [event(whole)];
    return [event(length), { kind: 'rest', key: 0, duration: quarter(rest), bar }];
  });
}

/** The last note has no next one: the nearest of the plain, dotted and triplet values to what it sounds. */
function nearestValue(quarters: number): Fraction {
  const values = [1, 2, 4, 8, 16, 32].flatMap((d) => [frac(4, d), frac(6, d), frac(8, 3 * d)]);
  const far = (value: Fraction): number => Math.abs(Math.log(toNumber(value) / Math.max(quarters, 1e-3)));
  return values.reduce((best, value) => (far(value) < far(best) - 1e-9 ? value : best));
}

type Meta = { readonly signature?: Phrase['signature']; readonly metre?: Phrase['metre']; readonly title?: string };

function metaOf(tracks: MidiFile['tracks']): Meta {
  const events = tracks.flat().map((timed: TimedMidi) => timed.event);
  const key = events.find((event) => event.type === 'keySignature');
  const time = events.find((event) => event.type === 'timeSignature');
  const name = events.find((event) => event.type === 'trackName');
  const metre = time?.type === 'timeSignature' ? parseMetre(`${time.numerator}/${time.denominator}`) : undefined;
  return {
    // No sharps or flats is what files without a key say too, so it says nothing.
    ...(key?.type === 'keySignature' && key.key !== 0 && Math.abs(key.key) <= 7
      ? { signature: { fifths: key.key, mode: key.scale === 1 ? 'minor' : 'major' } }
      : {}),
    ...(metre ? { metre } : {}),
    ...(name?.type === 'trackName' && name.text.trim() ? { title: name.text.trim().slice(0, 200) } : {}),
  };
}

/** Bytes that begin with `MThd` → their phrase, in the pitch that sounds. */
export function readMidi(bytes: Uint8Array): Result<Phrase> {
  const file = parsed(bytes);
  if (!file.ok) return file;
  const { ticksPerBeat, tracks } = file.value;
  if (!ticksPerBeat) return bad(error('midi-frames', [], 'The MIDI file counts film frames, not beats; save it with beats.'));
  const found = notesOf(withoutClicks(tracks));
  if (!found.ok) return found;
  const notes = found.value;
  if (notes.length === 0) return bad(noNotes());
  if (notes.length > MAX_TONES) return bad(tooLong());
  const meta = metaOf(tracks);
  const { beats, unit } = meta.metre ?? { beats: 4, unit: 4 };
  const barTicks = toNumber(mul(frac(beats, unit), frac(4 * ticksPerBeat)));
  const barAt = (tick: number): number => Math.floor(tick / barTicks) + 1;
  const issue = polyphony(notes, ticksPerBeat, barAt);
  if (issue) return bad(issue);
  const events = eventsOf(notes, ticksPerBeat, barAt);
  if (!events) {
    return bad(
      error('off-the-grid', [], 'The notes do not begin on note values, as when they were played in freely; quantize the file first.'),
    );
  }
  const kept = trimmed(events);
  return kept.length > MAX_TONES ? bad(tooLong()) : good({ events: kept, ...meta });
}
