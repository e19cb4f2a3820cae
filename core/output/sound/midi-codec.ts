/** Standard MIDI files as bytes: the only import of midi-file. */
import { type MidiData, type MidiEvent, parseMidi, writeMidi } from 'midi-file';

export type { MidiEvent };

/** An event at an absolute tick. */
export type TimedMidi = { readonly tick: number; readonly event: MidiEvent };

/** A file of format 1; every track is given its end. Events at one tick keep their order. */
export function midiBytes(tracks: readonly (readonly TimedMidi[])[], ticksPerBeat: number): Uint8Array {
  const data: MidiData = {
    header: { format: 1, numTracks: tracks.length, ticksPerBeat },
    tracks: tracks.map((track) => {
      let now = 0;
      const events = [...track]
        .sort((a, b) => a.tick - b.tick)
        .map(({ tick, event }): MidiEvent => {
          const deltaTime = tick - now;
          now = tick;
          return { ...event, deltaTime };
        });
      return [...events, { deltaTime: 0, type: 'endOfTrack', meta: true }];
    }),
  };
  return Uint8Array.from(writeMidi(data));
}

export type MidiFile = { readonly ticksPerBeat: number | undefined; readonly tracks: readonly (readonly TimedMidi[])[] };

/** Throws on bytes that are no MIDI file. `ticksPerBeat` is undefined when the file counts film frames instead. */
export function midiFile(bytes: Uint8Array): MidiFile {
  const { header, tracks } = parseMidi(bytes);
  return {
    ticksPerBeat: header.ticksPerBeat,
    tracks: tracks.map((events) => {
      let tick = 0;
      return events.map((event) => {
        tick += event.deltaTime;
        return { tick, event };
      });
    }),
  };
}
