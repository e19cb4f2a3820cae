/** The only door to the theory library: scale formulas, names of notes and intervals, MIDI numbers, frequencies. */
import { Interval, Midi, Note, Scale } from 'tonal';

/** The intervals of a named scale above its tonic, as `1P 2M 3m …`; empty if the name is unknown. */
export function scaleFormula(name: string): readonly string[] {
  return Scale.get(name).intervals;
}

/** Diatonic steps and semitones of an interval name such as `5P`, `-2m`, `10M`. */
export function intervalSize(name: string): { steps: number; semitones: number } {
  const interval = Interval.get(name);
  if (interval.empty) throw new RangeError(`not an interval name: ${name}`);
  return { steps: interval.num - interval.dir, semitones: interval.semitones };
}

/** Letter (C = 0), alteration and octave of a note name; undefined if it is none. */
export function noteParts(name: string): { letter: number; alter: number; octave: number | undefined } | undefined {
  const parsed = Note.get(name);
  return parsed.empty ? undefined : { letter: parsed.step, alter: parsed.alt, octave: parsed.oct };
}

/** MIDI key number of a note name with its octave (C4 = 60). */
export function midiOf(name: string): number {
  const midi = Note.midi(name);
  if (midi === null || midi === undefined) throw new RangeError(`no MIDI number for ${name}`);
  return midi;
}

/** Equal-tempered frequency in hertz of a MIDI key number, for the given A4. */
export function frequencyOf(midi: number, a4: number): number {
  return Midi.midiToFreq(midi, a4);
}
