/** Tempos: a note value and how many a minute; the numbers on a metronome; the rungs from a start to a goal. */

import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import { at } from '../base/list.js';
import { type Fraction, text } from '../theory/fraction.js';
import { tempoBeat } from '../theory/metre.js';
import type { Exercise } from './exercise.js';

export type Beats = { readonly beat: Fraction; readonly bpm: number };

/** Beats a minute where neither the exercise nor anybody else names a tempo. (House choice.) */
export const UNNAMED_TEMPO = 80;

/** The note value that an exercise counts: that of its tempo, else the beat of its metre. */
export const beatOf = ({ tempo, metre }: Pick<Exercise, 'tempo' | 'metre'>): Fraction => tempo?.beat ?? tempoBeat(metre);

/** The tempo at which an exercise is worked: the one asked for, else its slowest, else a plain one. */
export const tempoOf = (exercise: Pick<Exercise, 'tempo' | 'metre'>, bpm = exercise.tempo?.from ?? UNNAMED_TEMPO): Beats => ({
  beat: beatOf(exercise),
  bpm,
});

/** Seconds that a whole note lasts. */
export const secondsPerWhole = ({ beat, bpm }: Beats): number => (60 / bpm) * (beat.d / beat.n);

/** The same where a tempo is named: by whoever asks, or by the exercise. */
export const namedTempo = (exercise: Pick<Exercise, 'tempo' | 'metre'>, bpm = exercise.tempo?.from): Beats | undefined =>
  bpm === undefined ? undefined : { beat: beatOf(exercise), bpm };

/** Numbers of the traditional metronome: by 2 from 40, by 3 from 60, by 4 from 72, by 6 from 120, by 8 from 144 to 208. (Common practice.) */
export const METRONOME: readonly number[] = (
  [
    [40, 60, 2],
    [60, 72, 3],
    [72, 120, 4],
    [120, 144, 6],
    [144, 208, 8],
  ] as const
).flatMap(([from, to, by], i) => Array.from({ length: (to - from) / by + (i === 0 ? 1 : 0) }, (_, k) => from + by * (i === 0 ? k : k + 1)));

const LARGEST = 1000;

const NOTES: Readonly<Record<string, string>> = {
  '1': '𝅝',
  '3/4': '𝅗𝅥.',
  '1/2': '𝅗𝅥',
  '3/8': '♩.',
  '1/4': '♩',
  '3/16': '♪.',
  '1/8': '♪',
};

/** The note of a beat as a character: `♩`; a value without a note of its own as a fraction. */
export const beatText = (beat: Fraction): string => NOTES[text(beat)] ?? text(beat);

/** `♩ = 96` */
export const tempoText = ({ beat, bpm }: Beats): string => `${beatText(beat)} = ${bpm}`;

export function tempoIssues(tempo: { readonly beat: Fraction | undefined; readonly bpm: number }): Issue[] {
  const issues: Issue[] = [];
  if (!tempo.beat || !(tempo.beat.n > 0))
    issues.push(
      error('tempo-without-note', ['tempo'], 'The tempo has no note value: say which note is counted, such as 1/4 for a quarter.'),
    );
  if (!Number.isFinite(tempo.bpm))
    issues.push(error('not-a-number', ['tempo'], 'The tempo is not a number: give beats a minute, such as 96.'));
  else if (tempo.bpm <= 0 || tempo.bpm > LARGEST)
    issues.push(
      error(
        'tempo-out-of-range',
        ['tempo'],
        `The tempo of ${tempo.bpm} beats a minute makes no sense: give a number above 0 and at most ${LARGEST}.`,
      ),
    );
  return issues;
}

/**
 * Tempos from start to goal, both included: so many rungs, spread evenly over the metronome's numbers between them; fewer
 * where there are not so many numbers. Fails if the goal is slower than the start or with fewer than two rungs.
 */
export function tempoRungs(start: number, goal: number, rungs = 4): Result<readonly number[]> {
  const beat = { n: 1, d: 4 };
  const issues = [...tempoIssues({ beat, bpm: start }), ...tempoIssues({ beat, bpm: goal })];
  if (issues.length > 0) return bad(...issues);
  if (goal < start)
    return bad(
      error('goal-below-start', ['tempo'], `The goal tempo ${goal} is below the start ${start}: a ladder climbs; exchange the two.`),
    );
  if (!Number.isInteger(rungs) || rungs < 2)
    return bad(error('ladder-rungs', ['rungs'], `A ladder needs a whole number of rungs, at least 2, not ${rungs}.`));
  if (goal === start) return good([start]);
  const all = [start, ...METRONOME.filter((number) => number > start && number < goal), goal];
  const gaps = Math.min(rungs, all.length) - 1;
  return good(Array.from({ length: gaps + 1 }, (_, i) => at(all, Math.round((i * (all.length - 1)) / gaps))));
}
