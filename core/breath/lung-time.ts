/**
 * Lung time: the seconds of playing that one player gets from one comfortable breath on one instrument.
 *
 * A value set directly beats a measured long tone, which beats the estimate from age, height and sex, which beats a rough
 * class. Estimate: share of the vital capacity in use, over the mean flow, no longer than stale air allows. A long tone
 * replaces both capacity and flow: its own error (about an eighth) is far below theirs (about a factor 1.8).
 * No bonus for musicians and no loss for sitting: none was found (Fuhrmann, Franklin, Hall, Respir Med 2011;105:761;
 * Adar, thesis, Missouri 1995; Price, Schartz, Watson, SpringerPlus 2014;3:210).
 */

import { bad, error, good, type Issue, isError, note, type Result, warning } from '../base/issue.js';
import type { Dynamic } from '../exercise/exercise.js';
import type { Flow, Instrument } from '../player/player.js';
import { breathesOutFirst, flowFactor, type Register } from './flow.js';
import { AGES, HEIGHTS, type Sex, vitalCapacity } from './vital-capacity.js';

export type LungClass = 'adult' | 'teen' | 'child';
export type Experience = 'beginner' | 'default' | 'advanced';

/** What is known of the person who breathes. Every field is optional; nothing known is an adult. */
export type Breather = {
  /** Seconds, set by player or teacher. */
  readonly lungTime?: number;
  /** Best of three, taken at mf on a middle note unless told otherwise. */
  readonly longTone?: { readonly seconds: number; readonly dynamic?: Dynamic; readonly register?: Register };
  /** Years. */
  readonly age?: number;
  /** Centimetres. */
  readonly height?: number;
  readonly sex?: Sex;
  readonly lungClass?: LungClass;
  readonly experience?: Experience;
};

/** How the music is played; mf in the middle register when not said. */
export type Loudness = { readonly dynamic?: Dynamic; readonly register?: Register };

export type LungTime = {
  /** Seconds of sound from a full reservoir: what a breath plan counts with. */
  readonly seconds: number;
  readonly origin: 'set' | 'measured' | 'estimated' | 'class';
  /** Plausible range in seconds: two of three people of this description lie within. */
  readonly low: number;
  readonly high: number;
  /** Seconds of one long tone to the end of the air: measured or expected. Undefined for a value set directly. */
  readonly longTone?: number;
  /** Seconds that a breath should last at least: longer where the player first breathes out. */
  readonly leastBreath: number;
  /** `about 9 s, an estimate: measure yours` */
  readonly words: string;
};

/** Share of the vital capacity used between two breaths. After Fuks & Sundberg, Med Probl Perform Art 1999;14:30: 38 % typical, 73 % largest. */
export const SHARE: Readonly<Record<Experience, number>> = { beginner: 0.4, default: 0.5, advanced: 0.6 };

/** Share used by one long tone to the end. Reported: 75 to 90 %. */
export const LONG_TONE_SHARE = 0.75;

/** Litres. Weak: round numbers near the medians of a mixed group. */
export const CLASS_CAPACITY: Readonly<Record<LungClass, number>> = { adult: 4, teen: 3.2, child: 2 };

/** Seconds after which stale air, not want of air, makes a player breathe. Weak: a house choice; oboe players tire of it sooner (Bouhuys 1964). */
export const LONGEST = { oboes: 20, others: 25 } as const;

/** Seconds: out and in again, where a catch breath is only in. Weak. */
const OUT_AND_IN = 0.8;

/** Factors to either side that hold two of three people: derived from the spread of flow, share and capacity. Weak. */
const SPREAD = { measured: 1.15, estimated: 1.8, class: 2 } as const;

const SECONDS = { confirmBelow: 2, confirmAbove: 60, absurd: 90 } as const;

function secondsIssues(seconds: number, field: string, what: string): Issue[] {
  if (!Number.isFinite(seconds)) return [error('not-a-number', [field], `${what} is not a number: give it in seconds, such as 12.`)];
  if (seconds <= 0) return [error('lung-time-too-short', [field], `${what} is ${seconds} s: it must be more than zero.`)];
  if (seconds > SECONDS.absurd)
    return [
      error(
        'lung-time-too-long',
        [field],
        `${what} is ${seconds} s: nobody plays that long on one breath; give at most ${SECONDS.absurd} s.`,
      ),
    ];
  const confirm = (why: string) => [
    warning('confirm-lung-time', [field], `${what} is ${seconds} s, ${why}: please confirm that it is right.`),
  ];
  if (seconds <= SECONDS.confirmBelow) return confirm('which is very short');
  if (seconds >= SECONDS.confirmAbove) return confirm('which is very long');
  return [];
}

function rangeIssues(value: number | undefined, field: string, unit: string, { from, to }: { from: number; to: number }): Issue[] {
  if (value === undefined) return [];
  if (!Number.isFinite(value)) return [error('not-a-number', [field], `The ${field} is not a number: give it in ${unit}.`)];
  if (value >= from && value <= to) return [];
  const remedy = 'leave it out and choose adult, teen or child instead';
  return [
    error(
      `${field}-out-of-range`,
      [field],
      `The ${field} of ${value} ${unit} is outside the equations' range of ${from} to ${to} ${unit}: correct it, or ${remedy}.`,
    ),
  ];
}

/** Every field that is given is checked, also those that a better one outranks. */
function issuesOf(breather: Breather): Issue[] {
  const { lungTime: set, longTone, age, height } = breather;
  const issues = [
    ...(set === undefined ? [] : secondsIssues(set, 'lungTime', 'The lung time')),
    ...(longTone === undefined ? [] : secondsIssues(longTone.seconds, 'longTone', 'The long tone')),
    ...rangeIssues(age, 'age', 'years', AGES),
    ...rangeIssues(height, 'height', 'cm', HEIGHTS),
  ];
  if (set === undefined && longTone === undefined && (age === undefined) !== (height === undefined)) {
    const [have, lack] = age === undefined ? ['height', 'age'] : ['age', 'height'];
    issues.push(note('estimate-needs-both', [lack], `The ${have} alone gives no estimate: add the ${lack}, or measure a long tone.`));
  }
  return issues;
}

/** By age where only the age is known: child to 12, teen to 17. (House choice.) */
function classOf({ lungClass, age }: Breather): LungClass {
  if (lungClass) return lungClass;
  if (age === undefined || age >= 18) return 'adult';
  return age >= 13 ? 'teen' : 'child';
}

const rounded = (seconds: number): string => `${Math.max(1, Math.round(seconds))} s`;

/** A long tone that would need an impossible flow from these lungs. */
function flowIssues(longTone: number, breather: Breather, flow: Flow, instrument: Instrument): Issue[] {
  const { age, height, sex } = breather;
  if (age === undefined || height === undefined) return [];
  const needed = (LONG_TONE_SHARE * vitalCapacity({ age, height, sex })) / longTone;
  if (needed >= flow.low && needed <= flow.high) return [];
  const way = needed < flow.low ? 'long' : 'short';
  return [
    warning(
      'confirm-long-tone',
      ['longTone'],
      `A long tone of ${longTone} s is unusually ${way} for this age and height on the ${instrument.name}: please confirm that it is right.`,
    ),
  ];
}

/**
 * Lung time in seconds; undefined for an instrument played without breath. Fails on values that are no numbers, not above
 * zero, over 90 s, or outside the range of the equations; warns of 2 s and less and of 60 s and more.
 */
export function lungTime(breather: Breather, instrument: Instrument, loudness: Loudness = {}): Result<LungTime | undefined> {
  const issues = issuesOf(breather);
  if (issues.some(isError)) return bad(...issues);
  const { flow } = instrument;
  if (!flow) return good(undefined);
  const outFirst = breathesOutFirst(instrument);
  const leastBreath = outFirst ? OUT_AND_IN : 0;
  const cap = outFirst ? LONGEST.oboes : LONGEST.others;
  const factor = flowFactor(instrument, loudness.dynamic, loudness.register);
  const share = SHARE[breather.experience ?? 'default'];

  if (breather.lungTime !== undefined) {
    const seconds = breather.lungTime;
    const words = `${Number(seconds.toFixed(1))} s, as set`;
    return good({ seconds, origin: 'set', low: seconds, high: seconds, leastBreath, words }, issues);
  }
  const within = (seconds: number, longTone: number, origin: 'measured' | 'estimated' | 'class', why: string): LungTime => {
    const comfortable = Math.min(cap, seconds);
    const spread = SPREAD[origin];
    const words = `about ${rounded(comfortable)}, ${why}`;
    return {
      seconds: comfortable,
      origin,
      low: Math.min(cap, seconds / spread),
      high: Math.min(cap, seconds * spread),
      longTone,
      leastBreath,
      words,
    };
  };
  if (breather.longTone) {
    const { seconds: measured, dynamic, register } = breather.longTone;
    const here = (measured * flowFactor(instrument, dynamic, register)) / factor;
    const words = `from a long tone of ${rounded(measured)}`;
    return good(within((share / LONG_TONE_SHARE) * here, here, 'measured', words), [
      ...issues,
      ...flowIssues(measured, breather, flow, instrument),
    ]);
  }
  const { age, height, sex } = breather;
  const known = age !== undefined && height !== undefined;
  const capacity = known ? vitalCapacity({ age, height, sex }) : CLASS_CAPACITY[classOf(breather)];
  const full = capacity / (flow.mean * factor);
  const words = known
    ? 'an estimate: measure yours'
    : `a rough estimate for ${classOf(breather) === 'adult' ? 'an' : 'a'} ${classOf(breather)}: measure yours`;
  return good(within(share * full, LONG_TONE_SHARE * full, known ? 'estimated' : 'class', words), issues);
}

/** What to say when a breath plan is asked for where nobody breathes. */
export const withoutBreath = (instrument: Instrument): Issue =>
  error('no-breath', [], `The ${instrument.name} is played without breath: there is nothing to plan; choose a wind instrument.`);
