/** A small language for the tests of this folder: exercises and players from a few words. */

import type { Result } from '../../core/base/issue.js';
import type { Exercise, Level } from '../../core/exercise/exercise.js';
import { parseFigure } from '../../core/exercise/figure.js';
import { type KeyOrderSpec, keyOrder } from '../../core/exercise/key-order.js';
import { parseRhythm } from '../../core/exercise/rhythm.js';
import { parseCompass, playerOf } from '../../core/player/compass.js';
import type { Line, LineNote } from '../../core/player/line.js';
import type { Player, SpellingPreference } from '../../core/player/player.js';
import { realise } from '../../core/player/realise.js';
import { text } from '../../core/theory/fraction.js';
import { parseMetre } from '../../core/theory/metre.js';
import { className, type PitchClass, parseClass, pitchName } from '../../core/theory/pitch.js';

export function value<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.issues.map((issue) => issue.message).join('\n'));
  return result.value;
}

/** Codes of the issues of a failed result. */
export const codes = (result: Result<unknown>): string[] => result.issues.map((issue) => issue.code);

export const tonic = (name: string): PitchClass => {
  const found = parseClass(name);
  if (!found) throw new Error(`not a tonic: ${name}`);
  return found;
};

export type Words = Partial<Omit<Exercise, 'figure' | 'rhythm' | 'metre' | 'order'>> & {
  readonly figure?: string;
  readonly rhythm?: string;
  readonly metre?: string;
  readonly order?: KeyOrderSpec;
};

/** `1 2 3 5` by fourths in eighths, 4/4, flowing, up, one pass, from concert C, unless told otherwise. */
export function exercise(words: Words = {}): Exercise {
  const metre = parseMetre(words.metre ?? '4/4');
  if (!metre) throw new Error(`not a metre: ${words.metre}`);
  return {
    id: 'test',
    title: 'Test',
    instruction: '',
    scale: 'major',
    padding: { to: 'flow' },
    directions: 'up',
    passes: 1,
    turnaround: 'restart',
    start: { kind: 'concert', key: tonic('C') },
    ending: 'none',
    contour: 'nearest',
    misfit: { kind: 'report' },
    articulation: { groups: [] },
    variants: [],
    signs: 'accidentals',
    simpleSpelling: false,
    keyNames: true,
    degreeNumbers: false,
    ...words,
    figure: value(parseFigure(words.figure ?? '1 2 3 5')),
    rhythm: value(parseRhythm(words.rhythm ?? 'eighths')),
    metre,
    order: value(keyOrder(words.order ?? { name: 'fourths' })),
  };
}

/** `player('flute')`, `player('flute', 'beginner')`, `player('flute', 'C4-C6')`. */
export function player(instrument: string, reach = 'professional', spelling?: SpellingPreference): Player {
  const [low, high] = reach.split('-');
  const compass = high ? value(parseCompass(low as string, high)) : undefined;
  return value(playerOf({ instrument, level: compass ? 'professional' : (reach as Level), compass, spelling }));
}

export const realised = (words: Words, who: Player): Line => value(realise(exercise(words), who));

export const notes = (line: Line): LineNote[] => line.events.filter((event) => event.kind === 'note');

/** Written notes of each statement: `Bb C D F`. */
export function statementsText(line: Line): string[] {
  return line.statements.map((statement) =>
    notes(line)
      .filter((note) => note.statement === statement.index)
      .map((note) => className(note.written))
      .join(' '),
  );
}

/** Written notes with octaves of the whole line. */
export const pitchesText = (line: Line): string =>
  notes(line)
    .map((note) => pitchName(note.written))
    .join(' ');

/** Durations in order, rests with r: `1/8 1/8 r1/4`. */
export const timesText = (line: Line): string =>
  line.events.map((event) => (event.kind === 'rest' ? 'r' : '') + text(event.duration)).join(' ');

/** Tonics of the written keys in order. */
export const keysText = (line: Line): string => line.statements.map((statement) => className(statement.writtenKey.tonic)).join(' ');
