/** Spelled pitches. Arithmetic is by letter and semitone together, so a spelling is never lost. */
import type { Interval } from './interval.js';
import { naturalSemitones } from './interval.js';
import { frequencyOf, noteParts } from './tonal.js';

/** A letter (C = 0 … B = 6) with its alteration (flat = -1, sharp = +1). */
export type PitchClass = { readonly letter: number; readonly alter: number };

/** Scientific pitch: octave 4 begins on middle C. */
export type Pitch = PitchClass & { readonly octave: number };

const LETTERS = 'CDEFGAB';

export const letterName = (letter: number): string => LETTERS[letter] as string;

/** Staff step: C0 = 0, one for each letter. */
export const stepOf = (p: Pitch): number => p.octave * 7 + p.letter;

/** MIDI key number, C4 = 60. */
export const midi = (p: Pitch): number => naturalSemitones(stepOf(p)) + p.alter + 12;

/** 0 … 11 above C. */
export const chroma = (p: PitchClass): number => (((naturalSemitones(p.letter) + p.alter) % 12) + 12) % 12;

/** Equal-tempered frequency in hertz (ISO 16: A4 = 440 Hz unless told otherwise). */
export const frequency = (p: Pitch, a4 = 440): number => frequencyOf(midi(p), a4);

const pitches = new Map<number, Pitch>();

/** The one value for this pitch: a book has many notes and few pitches. */
function pitchAt(letter: number, alter: number, octave: number): Pitch {
  const id = ((octave + 50) * 32 + alter + 16) * 8 + letter;
  let found = pitches.get(id);
  if (!found) {
    found = Object.freeze({ letter, alter, octave });
    pitches.set(id, found);
  }
  return found;
}

export function transpose(p: Pitch, by: Interval): Pitch {
  const step = stepOf(p) + by.steps;
  const octave = Math.floor(step / 7);
  const alter = midi(p) + by.semitones - 12 - naturalSemitones(step);
  return pitchAt(step - 7 * octave, alter, octave);
}

export function transposeClass(p: PitchClass, by: Interval): PitchClass {
  const { letter, alter } = transpose({ ...p, octave: 4 }, by);
  return { letter, alter };
}

export function intervalBetween(from: Pitch, to: Pitch): Interval {
  return { steps: stepOf(to) - stepOf(from), semitones: midi(to) - midi(from) };
}

export const samePitch = (a: Pitch, b: Pitch): boolean => a.letter === b.letter && a.alter === b.alter && a.octave === b.octave;
export const sameClass = (a: PitchClass, b: PitchClass): boolean => a.letter === b.letter && a.alter === b.alter;

const signs = (alter: number): string => (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));

/** Plain text name: `Bb`, `F#`. */
export const className = (p: PitchClass): string => letterName(p.letter) + signs(p.alter);

/** Plain text name with octave: `Bb3`. */
export const pitchName = (p: Pitch): string => `${className(p)}${p.octave}`;

/** The alteration as printed: `♭`, `♯`, `𝄫`, `𝄪`, nothing for a natural. */
export function accidentalText(alter: number): string {
  if (alter === 2) return '𝄪';
  if (alter === -2) return '𝄫';
  return alter < 0 ? '♭'.repeat(-alter) : '♯'.repeat(alter);
}

/** Name as printed: `B♭`. */
export const classText = (p: PitchClass): string => letterName(p.letter) + accidentalText(p.alter);

const plainSigns = (source: string): string =>
  source.trim().replaceAll('♭', 'b').replaceAll('♯', '#').replaceAll('𝄫', 'bb').replaceAll('𝄪', '##');

/** Name with octave as printed: `B♭3`. */
export const pitchText = (p: Pitch): string => `${classText(p)}${p.octave}`;

/** Reads `Bb`, `f#`, `E♭`; undefined if it is not a note name without octave. */
export function parseClass(source: string): PitchClass | undefined {
  const parts = noteParts(plainSigns(source));
  return parts && parts.octave === undefined && Math.abs(parts.alter) <= 2 ? { letter: parts.letter, alter: parts.alter } : undefined;
}

/** Reads `Bb3`; undefined if it is not a note name with octave from 0 to 9. */
export function parsePitch(source: string): Pitch | undefined {
  const parts = noteParts(plainSigns(source));
  if (!parts || parts.octave === undefined || parts.octave < 0 || parts.octave > 9 || Math.abs(parts.alter) > 2) return undefined;
  return { letter: parts.letter, alter: parts.alter, octave: parts.octave };
}
