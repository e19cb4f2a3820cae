/** An independent drawing library (VexFlow 5) as an oracle, measuring with the same font file. Used by tests only. */
import { Accidental, Beam, KeySignature, Stave, StaveNote, Fraction as Ticks, Voice } from 'vexflow/core';
import { measureWith } from '../../bench/vexflow-measure.js';
import type { BarEvent } from '../../core/engrave/bar.js';
import type { Clef } from '../../core/player/player.js';
import { letterName, type Pitch } from '../../core/theory/pitch.js';
import { testFonts } from '../fonts.js';

measureWith(testFonts());

const SIGNS: Readonly<Record<number, string>> = { [-2]: 'bb', [-1]: 'b', 0: '', 1: '#', 2: '##' };

/** `Bb4` → `bb/4`. */
const keyOf = (pitch: Pitch): string => `${letterName(pitch.letter).toLowerCase()}${SIGNS[pitch.alter]}/${pitch.octave}`;

const DURATIONS: Readonly<Record<number, string>> = { 1: 'w', 2: 'h', 4: 'q', 8: '8', 16: '16', 32: '32' };

function staveNote(event: BarEvent, clef: Clef): StaveNote {
  const duration = `${DURATIONS[event.base.d]}${'d'.repeat(event.dots)}${event.kind === 'rest' ? 'r' : ''}`;
  return new StaveNote({ keys: [event.kind === 'rest' ? 'b/4' : keyOf(event.pitch)], duration, clef, dots: event.dots, autoStem: true });
}

/** y of a head in staff spaces from the top line, downward. */
export function headY(pitch: Pitch, clef: Clef): number {
  return 5 - new StaveNote({ keys: [keyOf(pitch)], duration: 'q', clef }).getKeyLine(0);
}

export function pointsUp(pitch: Pitch, clef: Clef): boolean {
  return new StaveNote({ keys: [keyOf(pitch)], duration: 'q', clef, autoStem: true }).getStemDirection() === 1;
}

const MAJOR = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];

/** The signs of a signature in order: `#` or `b`, and y from the top line. */
export function signature(fifths: number, clef: Clef): { type: string; y: number }[] {
  const stave = new Stave(0, 0, 400);
  stave.addClef(clef);
  const key = new KeySignature(MAJOR[fifths + 7] as string);
  key.addToStave(stave);
  key.format();
  return (key as unknown as { accList: { type: string; line: number }[] }).accList.map(({ type, line }) => ({ type, y: line }));
}

/** Groups under one beam, as indices into the events, for groups of this many whole notes. */
export function beams(events: readonly BarEvent[], group: readonly [number, number]): number[][] {
  const notes = events.map((e) => staveNote(e, 'treble'));
  return Beam.generateBeams(notes, { groups: [new Ticks(group[0], group[1])] }).map((beam) =>
    beam.getNotes().map((note) => notes.indexOf(note as StaveNote)),
  );
}

/** The sign printed at each event of one bar, `n` for a natural. */
export function signs(events: readonly BarEvent[], fifths: number): (string | undefined)[] {
  const notes = events.map((e) => staveNote(e, 'treble'));
  const voice = new Voice({ numBeats: 4, beatValue: 4 }).setMode(Voice.Mode.SOFT).addTickables(notes);
  Accidental.applyAccidentals([voice], MAJOR[fifths + 7] as string);
  return notes.map((note) => {
    const found = note.getModifiersByType(Accidental.CATEGORY)[0];
    return found ? (found as unknown as { type: string }).type : undefined;
  });
}
