/** Fit: where a figure fits a compass in a key, and what can be done in a key where it does not. */

import { error, type Issue } from '../base/issue.js';
import { at } from '../base/list.js';
import type { Exercise, Misfit } from '../exercise/exercise.js';
import { figureMode, type NoteTone, toneInterval, toneText } from '../exercise/figure.js';
import type { Interval } from '../theory/interval.js';
import type { ConcertKey } from '../theory/key.js';
import { type Key, keyText, type Mode } from '../theory/key.js';
import { midi, type Pitch, transpose } from '../theory/pitch.js';
import { compassText, inCompass } from './compass.js';
import type { Compass, Player } from './player.js';
import { placements, rootsNear } from './register-plan.js';
import { writtenKey } from './spelling.js';

/** Lowest and highest note of a figure in semitones above degree 1. */
export type Span = { readonly low: number; readonly high: number };

/** A tone to be played: its interval above degree 1 and its degree; undefined for a rest. */
export type Sung = { readonly interval: Interval; readonly degree: string } | undefined;

/** One way to play the figure in a key, upward. */
export type Option = { readonly root: Pitch; readonly tones: readonly Sung[] };

export type KeyFit = {
  readonly key: ConcertKey;
  readonly writtenKey: Key;
  /** Lowest first; empty when the figure does not fit. */
  readonly options: readonly Option[];
  readonly turned: boolean;
};

/** Written chromas (0 to 11 above C) of the keys in which a figure of this span fits the compass at some octave. */
export function fittingKeys(span: Span, compass: Compass): number[] {
  const lowest = midi(compass.low) - span.low;
  const highest = midi(compass.high) - span.high;
  return Array.from({ length: 12 }, (_, chroma) => chroma).filter((chroma) => lowest + ((((chroma - lowest) % 12) + 12) % 12) <= highest);
}

/** MIDI key number of the lowest written root from which a figure of this span stays above the player's lowest note. */
export const lowestRoot = (player: Player, span: Span): number => midi(player.compass.low) - span.low;

/** The key as its signature and its name have it: minor for a minor figure, whatever the key order says. */
export const printedKey = (exercise: Exercise, key: ConcertKey): ConcertKey =>
  figureMode(exercise.figure, exercise.scale) === 'minor' ? { chroma: key.chroma, mode: 'minor' } : key;

/** The figure's tones above degree 1, in a key of this mode. */
export function sungTones(exercise: Exercise, mode: Mode): Sung[] {
  return exercise.figure.tones.map((tone) =>
    tone.kind === 'rest' ? undefined : { interval: toneInterval(tone, exercise.scale, mode), degree: toneText(tone) },
  );
}

const intervalsOf = (tones: readonly Sung[]): Interval[] => tones.flatMap((tone) => (tone ? [tone.interval] : []));

export function spanOf(tones: readonly Sung[]): Span {
  const semitones = intervalsOf(tones).map((interval) => interval.semitones);
  return { low: Math.min(...semitones), high: Math.max(...semitones) };
}

/** Where the figure fits in a key, as it stands. */
export function fitKey(exercise: Exercise, key: ConcertKey, player: Player): KeyFit {
  const written = writtenKey(printedKey(exercise, key), player);
  const tones = sungTones(exercise, key.mode);
  const options = placements(written.tonic, intervalsOf(tones), player.compass).map((root) => ({ root, tones }));
  return { key, writtenKey: written, options, turned: false };
}

/** Place of a degree on the ladder of letters: 1 is 0, 8 is 7, -7 is -1. */
const rungOf = (degree: number): number => (degree > 0 ? degree - 1 : -degree - 8);

/** The tone on a rung: as the figure alters it, if it has it; else plain, read in the exercise's scale. */
function toneAt(rung: number, notes: readonly NoteTone[]): NoteTone | undefined {
  if (rung < -7) return undefined;
  const degree = rung >= 0 ? rung + 1 : -(rung + 8);
  return notes.find((note) => note.degree === degree) ?? { kind: 'note', degree, alter: 0, plain: true, span: [0, 0] };
}

/**
 * The figure from this root, turned back at the limits of the compass: a note k degrees beyond the last degree that
 * fits is played k degrees inside it. Gives the number of changed notes; undefined when a note cannot be placed so.
 */
function turnedFrom(root: Pitch, exercise: Exercise, mode: Mode, compass: Compass): { option: Option; changed: number } | undefined {
  const notes = exercise.figure.tones.filter((tone) => tone.kind === 'note');
  const interval = (tone: NoteTone): Interval => toneInterval(tone, exercise.scale, mode);
  const fits = (tone: NoteTone | undefined): boolean => tone !== undefined && inCompass(transpose(root, interval(tone)), compass);
  const rungs = notes.map((note) => rungOf(note.degree));
  const top = Math.max(...rungs);
  const bottom = Math.min(...rungs);
  const fitting = Array.from({ length: top - bottom + 1 }, (_, i) => bottom + i).filter((rung) => fits(toneAt(rung, notes)));
  const lowest = fitting[0];
  const highest = fitting.at(-1);
  if (lowest === undefined || highest === undefined) return undefined;
  let changed = 0;
  const tones: Sung[] = [];
  for (const tone of exercise.figure.tones) {
    if (tone.kind === 'rest') {
      tones.push(undefined);
      continue;
    }
    let played: NoteTone | undefined = tone;
    if (!fits(tone)) {
      const rung = rungOf(tone.degree);
      const limit = midi(transpose(root, interval(tone))) > midi(compass.high) ? Math.min(highest, rung) : Math.max(lowest, rung);
      played = toneAt(2 * limit - rung, notes);
      changed++;
    }
    if (!played || !fits(played)) return undefined;
    tones.push({ interval: interval(played), degree: toneText(played) });
  }
  return { option: { root, tones }, changed };
}

/** Every way to play the figure in a key with notes turned back at the limits of the compass, with the number of such notes. */
export function turnings(exercise: Exercise, fit: KeyFit, player: Player): { readonly option: Option; readonly changed: number }[] {
  return rootsNear(fit.writtenKey.tonic, player.compass).flatMap((root) => turnedFrom(root, exercise, fit.key.mode, player.compass) ?? []);
}

/** Where the figure can be played in a key with the fewest notes turned back at the limits of the compass. */
export function turnKey(exercise: Exercise, fit: KeyFit, player: Player): KeyFit {
  const found = turnings(exercise, fit, player);
  const fewest = Math.min(...found.map((one) => one.changed));
  return { ...fit, options: found.filter((one) => one.changed === fewest).map((one) => one.option), turned: true };
}

const WITHIN_OCTAVE = [
  'a unison',
  'a half step',
  'a whole step',
  'a minor third',
  'a major third',
  'a fourth',
  'a tritone',
  'a fifth',
  'a minor sixth',
  'a major sixth',
  'a minor seventh',
  'a major seventh',
] as const;

/** A distance in words: 19 semitones are `an octave and a fifth`. */
export function distanceWords(semitones: number): string {
  const octaves = Math.floor(semitones / 12);
  const rest = at(WITHIN_OCTAVE, semitones % 12);
  if (octaves === 0) return rest;
  const whole = octaves === 1 ? 'an octave' : `${['', '', 'two', 'three', 'four', 'five', 'six'][octaves] ?? octaves} octaves`;
  return semitones % 12 === 0 ? whole : `${whole} and ${rest}`;
}

/** `C`, `C and D`, `C, D and E`. */
export const listText = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

const REMEDIES: Readonly<Record<Exclude<Misfit['kind'], 'report'>, string>> = {
  'leave-out': 'leave out the keys that do not fit',
  turn: 'let the figure turn at the limit',
  level: 'take the compass of another level',
};

/**
 * Issue `figure-too-wide` at path ['figure']: the exercise, the instrument, the written keys without room, what the
 * figure needs, the compass there is, and the remedies that `exercise.misfit` has not tried yet.
 */
export function misfitIssue(exercise: Exercise, player: Player, misfits: readonly KeyFit[]): Issue {
  const spans = misfits.map((fit) => spanOf(sungTones(exercise, fit.key.mode)));
  const needed = distanceWords(Math.max(...spans.map((span) => span.high - span.low)));
  const keys = listText([...new Set(misfits.map((fit) => keyText(fit.writtenKey)))]);
  const kinds = ['leave-out', 'turn', 'level'] as const;
  const left = kinds.filter((kind) => kind !== exercise.misfit.kind).map((kind) => REMEDIES[kind]);
  const remedies = `${left.slice(0, -1).join(', ')}, or ${left.at(-1)}`;
  return error(
    'figure-too-wide',
    ['figure'],
    `The exercise "${exercise.title || exercise.id}" does not fit ${player.instrument.name} in written ${keys}: the figure needs ${needed}, and the compass is ${compassText(player.compass)}. You can ${remedies}.`,
  );
}
