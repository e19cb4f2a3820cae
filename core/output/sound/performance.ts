/** A line as it sounds: which key when, how long and how loud, with breaths, count-in and clicks. For MIDI and audio. */

import { assert, bad, error, good, type Issue, type Result } from '../../base/issue.js';
import { at } from '../../base/list.js';
import type { PlayedBreaths } from '../../breath/plan.js';
import { timedLine } from '../../breath/timed-line.js';
import type { Score } from '../../engrave/bar.js';
import { barsOf } from '../../engrave/bars.js';
import type { Dynamic } from '../../exercise/exercise.js';
import { type Beats, secondsPerWhole as secondsAt, tempoIssues, tempoOf } from '../../exercise/tempo.js';
import type { Line } from '../../player/line.js';
import { add, type Fraction, frac, less, mul, toNumber, ZERO } from '../../theory/fraction.js';
import { barLength, beatStarts, tempoBeat } from '../../theory/metre.js';
import { midi } from '../../theory/pitch.js';

export type PerformanceOptions = {
  /** The working tempo of the exercise when not said. */
  readonly tempo?: Beats | undefined;
  /** Its own tempo counts; the line's notes give way to the breaths or stop for them as it says. */
  readonly breaths?: PlayedBreaths;
  /** Bars of clicks before the first note, 0 to 8. */
  readonly countIn?: number;
  /** Clicks on every beat of the line. */
  readonly click?: boolean;
};

export type SoundedNote = {
  /** Index in the line. */
  readonly event: number;
  /** MIDI key number of the sounding pitch. */
  readonly key: number;
  /** Whole notes from the start, count-in and added beats included. */
  readonly onset: Fraction;
  /** Whole notes that it sounds: less than written where it gives way to a breath or is staccato. */
  readonly length: number;
  /** MIDI velocity. */
  readonly velocity: number;
  /** Goes into the next note without a new attack. */
  readonly slurred: boolean;
};

export type Click = { readonly onset: Fraction; readonly strong: boolean };

/** A bar as it sounds: longer than written by the beats that its breaths add. */
export type SoundedBar = { readonly onset: Fraction; readonly length: Fraction };

export type Performance = {
  readonly line: Line;
  readonly tempo: Beats;
  readonly notes: readonly SoundedNote[];
  readonly clicks: readonly Click[];
  /** Count-in first. */
  readonly bars: readonly SoundedBar[];
  /** Start of each statement, by its index. */
  readonly statements: readonly Fraction[];
  /** When the count-in ends. */
  readonly start: Fraction;
  /** Whole notes. */
  readonly duration: Fraction;
  readonly secondsPerWhole: number;
};

/** House choice, evenly spread about the middle of the scale of MIDI. */
const VELOCITY: Readonly<Record<Dynamic, number>> = { pp: 36, p: 48, mp: 64, mf: 80, f: 96, ff: 112 };
const ACCENT = 16;

/** A staccato note sounds half its value. (Common practice.) */
const STACCATO = 0.5;

export const MAX_COUNT_IN = 8;

/** Every written bar with its place and length in time; a breath lengthens the bar that its note ends in or at. */
function soundedBars(score: Score, plan: PlayedBreaths | undefined, start: Fraction): SoundedBar[] {
  let onset = start;
  let written = ZERO;
  let next = 0;
  const { breaths, added } = plan && plan.added.n > 0 ? plan : { breaths: [], added: ZERO };
  return score.bars.map((bar): SoundedBar => {
    written = add(written, bar.length);
    let length = bar.length;
    for (; next < breaths.length; next++) {
      const breath = breaths[next];
      if (!breath || less(written, breath.onset)) break;
      length = add(length, added);
    }
    const sounded = { onset, length };
    onset = add(onset, length);
    return sounded;
  });
}

/** A metronome that never waits: the beats of the metre, and through an added stop beat by beat to the bar's end. */
function clicksIn(bar: SoundedBar, line: Line): Click[] {
  const { metre } = line.exercise;
  const clicks = beatStarts(metre)
    .slice(0, -1)
    .map((start, i) => ({ onset: add(bar.onset, start), strong: i === 0 }));
  const beat = tempoBeat(metre);
  for (let at = barLength(metre); less(at, bar.length); at = add(at, beat)) clicks.push({ onset: add(bar.onset, at), strong: false });
  return clicks;
}

function optionIssues(tempo: Beats, options: PerformanceOptions): Issue[] {
  const countIn = options.countIn ?? 0;
  const issues = tempoIssues(tempo);
  if (!Number.isInteger(countIn) || countIn < 0 || countIn > MAX_COUNT_IN) {
    issues.push(
      error(
        'count-in',
        ['countIn'],
        `The count-in is a whole number of bars from 0 to ${MAX_COUNT_IN}, not ${countIn}; give such a number.`,
      ),
    );
  }
  return issues;
}

/** Fails with `tempo-…` and `count-in` on values that make no sense. */
export function perform(line: Line, options: PerformanceOptions = {}): Result<Performance> {
  const plan = options.breaths;
  const tempo = plan?.tempo ?? options.tempo ?? tempoOf(line.exercise);
  const issues = optionIssues(tempo, options);
  if (issues.length > 0) return bad(...issues);
  const score = barsOf(line);
  const { metre, dynamic } = line.exercise;
  const countIn = Array.from({ length: options.countIn ?? 0 }, (_, i) => ({
    onset: mul(barLength(metre), frac(i)),
    length: barLength(metre),
  }));
  const start = mul(barLength(metre), frac(countIn.length));
  const secondsPerWhole = secondsAt(tempo);
  const timed = plan && timedLine(line, plan).events;
  const slurred = new Set(score.slurs.flatMap(({ from, to }) => Array.from({ length: to - from }, (_, i) => from + i)));

  const onsets = line.events.map((event) => add(start, timed?.[event.index]?.onset ?? event.onset));
  const notes = line.events.flatMap((event): SoundedNote[] => {
    if (event.kind === 'rest') return [];
    const written = timed ? (timed[event.index]?.length ?? 0) / secondsPerWhole : toNumber(event.duration);
    const mark = score.marks.get(event.index);
    return [
      {
        event: event.index,
        key: midi(event.sounding),
        onset: at(onsets, event.index),
        length: mark === 'staccato' ? Math.min(written, toNumber(event.duration) * STACCATO) : written,
        velocity: Math.min(127, VELOCITY[dynamic ?? 'mf'] + (mark === 'accent' ? ACCENT : 0)),
        slurred: slurred.has(event.index),
      },
    ];
  });
  const bars = soundedBars(score, plan, start);
  const last = bars.at(-1);
  assert(last, 'a line has a bar');
  const statements = line.statements.map(({ index }) => at(onsets, line.events.find((event) => event.statement === index)?.index ?? 0));
  const clicked = [...countIn, ...(options.click ? bars : [])];
  return good({
    line,
    tempo,
    notes,
    clicks: clicked.flatMap((bar) => clicksIn(bar, line)),
    bars: [...countIn, ...bars],
    statements,
    start,
    duration: add(last.onset, last.length),
    secondsPerWhole,
  });
}
