/** What is said of breaths in a word or a line: the ladder, the reason of a place, a stop, a part's foot. */
import { type Beats, beatText, tempoText } from '../exercise/tempo.js';
import { type Fraction, text } from '../theory/fraction.js';
import type { BreathReason } from './candidates.js';
import type { Ladder } from './ladder.js';

const breathCount = (count: number): string => `${count === 0 ? 'no' : count} ${count === 1 ? 'breath' : 'breaths'}`;

/** `♩ 60: 5 breaths · 84: 3 · 120: 1`: one line for print. */
export function ladderWords({ beat, rungs }: Ladder): string {
  let unit = true;
  const told = rungs.map(({ bpm, plan }) => {
    if (!plan) return `${bpm}: too slow`;
    const count = plan.breaths.length;
    const words = unit ? breathCount(count) : `${count}`;
    unit = false;
    return `${bpm}: ${words}`;
  });
  return `${beatText(beat)} ${told.join(' · ')}`;
}

/** `♩ = 72: 4 breaths, by turns, player 2`: under an exercise in a part. */
export const partWords = (tempo: Beats, breaths: number, plan: 'together' | 'staggered', player: number | undefined): string =>
  `${tempoText(tempo)}: ${breathCount(breaths)}, ${plan === 'together' ? 'all together' : `by turns${player === undefined ? '' : `, player ${player}`}`}`;

/** Why a breath stands where it does. */
export const REASON_WORDS: Readonly<Record<BreathReason, string>> = {
  turnaround: 'at the turnaround',
  'end-of-set': 'at the end of a set of keys',
  'end-of-key': 'at the end of a key',
  'after-long-note': 'after a long note',
  'before-leap': 'before a leap',
  'inside-key': 'inside a key',
  'inside-beam': 'inside a beam: the air would run out otherwise',
  'inside-slur': 'inside a slur: the air would run out otherwise',
};

const VALUE_NAMES: Readonly<Record<string, string>> = {
  '1': 'a whole note',
  '1/2': 'a half note',
  '3/8': 'a dotted quarter note',
  '1/4': 'a quarter note',
  '1/8': 'an eighth note',
  '1/16': 'a sixteenth note',
};

/** The value for which the music stops: `one beat` where the book does not say. */
export const stopWords = (added: Fraction | undefined): string =>
  added ? (VALUE_NAMES[text(added)] ?? `${text(added)} of a whole note`) : 'one beat';
