/** A line as it is played with its breaths: when each note begins and how long it sounds. */
import { secondsPerWhole } from '../exercise/tempo.js';
import type { Line, LineEvent } from '../player/line.js';
import { add, type Fraction, frac, toNumber } from '../theory/fraction.js';
import type { PlayedBreaths } from './plan.js';

export type TimedEvent = {
  /** Index in the line. */
  readonly event: number;
  readonly kind: LineEvent['kind'];
  /** Exact time with added beats; the same as in the line when breaths are taken in time. */
  readonly onset: Fraction;
  readonly duration: Fraction;
  /** Seconds. A note that gives up time for a breath sounds shorter than it is written. */
  readonly start: number;
  readonly length: number;
};

export type TimedLine = { readonly events: readonly TimedEvent[]; readonly duration: Fraction; readonly seconds: number };

/** The line as it is played with its breaths, for sound and exchange. */
export function timedLine(line: Line, plan: PlayedBreaths): TimedLine {
  const perWhole = secondsPerWhole(plan.tempo);
  const after = new Map(plan.breaths.map((breath) => [breath.afterEvent, breath]));
  let shift = frac(0);
  const events = line.events.map((event): TimedEvent => {
    const onset = add(event.onset, shift);
    const breath = after.get(event.index);
    if (breath) shift = add(shift, plan.added);
    const written = toNumber(event.duration) * perWhole;
    const length = breath && plan.manner === 'in-time' ? written - breath.seconds : written;
    return { event: event.index, kind: event.kind, onset, duration: event.duration, start: toNumber(onset) * perWhole, length };
  });
  const duration = add(line.duration, shift);
  return { events, duration, seconds: toNumber(duration) * perWhole };
}
