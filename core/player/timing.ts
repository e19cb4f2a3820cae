/** Timing: the rhythm laid over the statements, padded to beats or bars, and closed with a full bar. */

import { assert } from '../base/issue.js';
import { at } from '../base/list.js';
import type { Exercise } from '../exercise/exercise.js';
import type { RhythmValue } from '../exercise/rhythm.js';
import { add, compare, div, equal, type Fraction, frac, less, mod, mul, roundUp, sub, ZERO } from '../theory/fraction.js';
import { barLength, beatStarts, type Metre, metreText } from '../theory/metre.js';

/** A stretch of time: tone `tone` of a statement as played, or (tone undefined) a rest that fills up. */
export type Timed = {
  readonly statement: number;
  readonly tone: number | undefined;
  readonly onset: Fraction;
  readonly duration: Fraction;
  readonly value: RhythmValue;
};

const HALF: RhythmValue = { base: frac(1, 2), dots: 0, duration: frac(1, 2) };

/** Bar and beat in which a moment lies; a moment on a beat lies in the beat that begins there. */
function beatAt(at: Fraction, metre: Metre): { start: Fraction; end: Fraction } {
  const inBar = mod(at, barLength(metre));
  const bar = sub(at, inBar);
  const starts = beatStarts(metre);
  const next = starts.findIndex((start) => less(inBar, start));
  return { start: add(bar, starts[next - 1] as Fraction), end: add(bar, starts[next] as Fraction) };
}

/** The first start of a beat or bar that is not before this moment. */
function boundary(at: Fraction, to: 'beat' | 'bar', metre: Metre): Fraction {
  if (to === 'bar') return roundUp(at, barLength(metre));
  const beat = beatAt(at, metre);
  return equal(beat.start, at) ? at : beat.end;
}

/** A plain or dotted value of this length: 1/4, 3/8. */
function plainValue(length: Fraction): RhythmValue {
  const dots = length.n === 3 ? 1 : 0;
  const base = dots ? frac(2, length.d) : length;
  assert(
    (base.n === 1 || (base.n === 2 && base.d === 1)) && Number.isInteger(Math.log2(base.d)),
    `${length.n}/${length.d} is one note value`,
  );
  return { base, dots, duration: length };
}

/** The largest value that stands on a multiple of itself at this place and is not longer than the room. */
function alignedPart(place: Fraction, room: Fraction): Fraction {
  for (let d = 1; d <= 1024; d *= 2) {
    const part = frac(1, d);
    if (!less(room, part) && mod(place, part).n === 0) return part;
  }
  throw new Error(`assumption broken: ${room.n}/${room.d} is made of note values`);
}

/**
 * Rests from one moment to another: a whole beat is one rest, two beats of 4/4 in one half of the bar are one, and
 * within a beat each rest stands on a multiple of its own value (common practice).
 */
function restValues(from: Fraction, until: Fraction, metre: Metre): RhythmValue[] {
  const values: RhythmValue[] = [];
  for (let at = from; less(at, until); ) {
    const beat = beatAt(at, metre);
    const half = add(at, frac(1, 2));
    const end = less(until, beat.end) ? until : beat.end;
    let length = alignedPart(sub(at, beat.start), sub(end, at));
    if (equal(at, beat.start) && equal(end, beat.end)) length = sub(beat.end, beat.start);
    if (metreText(metre) === '4/4' && mod(at, frac(1, 2)).n === 0 && !less(until, half)) length = frac(1, 2);
    values.push(plainValue(length));
    at = add(at, length);
  }
  return values;
}

/** The first event whose tuplet would be cut by a barline; undefined where every group stays in its bar. */
export function tupletAcrossBarline(events: readonly Timed[], metre: Metre): Timed | undefined {
  const bar = barLength(metre);
  let until = ZERO;
  for (const event of events) {
    const { tuplet } = event.value;
    if (!tuplet || less(event.onset, until)) continue;
    const close = add(event.onset, tuplet.total);
    // A note that fills the group is written without it.
    if (!less(add(event.onset, event.duration), close)) continue;
    until = close;
    if (less(add(sub(event.onset, mod(event.onset, bar)), bar), close)) return event;
  }
  return undefined;
}

/** Rests of a tuplet that fill what is left of its group. */
function tupletRests(left: Fraction, like: RhythmValue): RhythmValue[] {
  const { tuplet } = like;
  assert(tuplet, 'an open group has a tuplet');
  const ratio = frac(tuplet.normal, tuplet.actual);
  const values: RhythmValue[] = [];
  for (let written = div(left, ratio); written.n > 0; ) {
    const base = alignedPart(ZERO, written);
    values.push({ base, dots: 0, tuplet, duration: mul(base, ratio) });
    written = sub(written, base);
  }
  return values;
}

/**
 * Times every tone of `statements` statements, and a closing note (statement number `statements`) if there is one.
 *
 * The rhythm's values are taken in turn; with padding `flow` they run on, otherwise each statement begins the pattern
 * anew and is lengthened, by its last note or by rests, to the next beat or bar. A tuplet left incomplete is completed
 * first. The closing note lasts a half note at least and fills its bar; without one, rests fill the last bar. The
 * events follow one another without a gap, and their end is a multiple of the bar.
 */
export function timeLine(exercise: Exercise, statements: number, closing: boolean): { events: Timed[]; duration: Fraction } {
  const { metre, padding } = exercise;
  const { values } = exercise.rhythm;
  const tones = exercise.figure.tones.length;
  const bar = barLength(metre);
  const events: Timed[] = [];
  let now = ZERO;
  let left = ZERO; // of an open tuplet group
  let turn = 0; // in the rhythm
  const put = (statement: number, tone: number | undefined, value: RhythmValue, until: Fraction): void => {
    events.push({ statement, tone, onset: now, duration: sub(until, now), value });
    now = until;
  };
  const take = (): RhythmValue => {
    const value = at(values, turn++ % values.length);
    left = value.tuplet ? sub(left.n === 0 ? value.tuplet.total : left, value.duration) : ZERO;
    assert(left.n >= 0, 'tuplet groups are whole');
    return value;
  };
  const fill = (statement: number, until: Fraction): void => {
    const before = events.at(-1);
    const inGroup = left.n > 0 && before ? tupletRests(left, before.value) : [];
    left = ZERO;
    for (const value of inGroup) put(statement, undefined, value, add(now, value.duration));
    for (const value of restValues(now, until, metre)) put(statement, undefined, value, add(now, value.duration));
  };

  for (let statement = 0; statement < statements; statement++) {
    if (padding.to !== 'flow') turn = 0;
    for (let tone = 0; tone < tones; tone++) {
      const value = take();
      put(statement, tone, value, add(now, value.duration));
    }
    if (padding.to === 'flow') continue;
    const until = boundary(add(now, left), padding.to, metre);
    if (padding.by === 'rests') fill(statement, until);
    else {
      const last = events.pop() as Timed;
      now = last.onset;
      put(statement, last.tone, last.value, until);
      left = ZERO;
    }
  }
  if (closing) {
    const value = left.n > 0 ? take() : HALF;
    put(statements, 0, value, roundUp(add(now, HALF.duration), bar));
  } else if (statements > 0) fill(statements - 1, roundUp(add(now, left), bar));
  assert(compare(mod(now, bar), ZERO) === 0, 'a line is whole bars');
  return { events, duration: now };
}
