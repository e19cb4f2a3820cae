/**
 * Players of one group on one time line: for each of them, at every moment where somebody could breathe or rests, what
 * happens to his air. Air is counted as what is missing from full lungs, in seconds: it grows with playing and shrinks by
 * the factor exp(-b / 0.7) in a breath of b seconds, the same reservoir as for a single player.
 */
import { breathCandidates } from '../breath/candidates.js';
import type { LungTime } from '../breath/lung-time.js';
import { CATCH_BREATH, FULL_BREATH, stillMissing, stolenFrom } from '../breath/reservoir.js';
import type { Beats } from '../exercise/tempo.js';
import type { Line } from '../player/line.js';
import { add, compare, type Fraction, text, toNumber } from '../theory/fraction.js';

export type BreathingPlayer = { readonly line: Line; readonly lung: LungTime };

/** What one player does at one moment of the time line; undefined where his note goes on. */
export type Moment = {
  /** Seconds of sound since his last moment. */
  readonly play: number;
  /** A rest refills by itself; at a candidate he may breathe. */
  readonly rest: boolean;
  /** Seconds of the breath or the rest. */
  readonly seconds: number;
  /** Factor on the missing air after it. */
  readonly factor: number;
  /** Of the place, in coarse steps. */
  readonly cost: number;
  /** Index of the event after which he breathes, or of the rest. */
  readonly event: number;
};

export type AirTimeline = {
  readonly line: Line;
  readonly lungs: number;
  readonly moments: readonly (Moment | undefined)[];
  /** Seconds of sound after his last moment. */
  readonly tail: number;
};

export const secondsPerWhole = ({ beat, bpm }: Beats): number => (60 / bpm) * (beat.d / beat.n);

/** Costs of places are compared in steps of this size: fewer kinds of plans to tell apart, hardly another choice. */
const COARSE = 3;

/** Moments of one player by the time at which they fall, with the exact time. */
function momentsOf(
  { line, lung }: BreathingPlayer,
  perWhole: number,
): { at: Map<string, { time: Fraction; moment: Moment }>; tail: number } {
  const candidates = new Map(breathCandidates(line).map((candidate) => [candidate.afterEvent, candidate]));
  const longest = Math.max(lung.leastBreath, FULL_BREATH);
  const quick = Math.max(lung.leastBreath, CATCH_BREATH);
  const at = new Map<string, { time: Fraction; moment: Moment }>();
  let play = 0;
  for (const event of line.events) {
    const length = toNumber(event.duration) * perWhole;
    const rest = event.kind === 'rest';
    if (!rest) play += length;
    const candidate = candidates.get(event.index);
    if (!rest && !candidate) continue;
    const time = rest ? event.onset : add(event.onset, event.duration);
    const seconds = rest ? length : stolenFrom(length, longest, quick);
    const cost = Math.ceil((candidate?.cost ?? 0) / COARSE);
    at.set(text(time), { time, moment: { play, rest, seconds, factor: stillMissing(seconds), cost, event: event.index } });
    play = 0;
  }
  return { at, tail: play };
}

/**
 * The group on one time line. Breaths are taken in time: the note before gives up the time for them, half its length at
 * most. Places inside beams and slurs count as well, dearly: where the others play on, nobody hears them.
 */
export function airTimelines(group: readonly BreathingPlayer[], tempo: Beats): AirTimeline[] {
  const perWhole = secondsPerWhole(tempo);
  const own = group.map((player) => ({ player, ...momentsOf(player, perWhole) }));
  const times = new Map(own.flatMap(({ at }) => [...at].map(([name, { time }]) => [name, time] as const)));
  const order = [...times].sort((a, b) => compare(a[1], b[1])).map(([name]) => name);
  return own.map(({ player: { line, lung }, at, tail }) => ({
    line,
    lungs: lung.seconds,
    tail,
    moments: order.map((name) => at.get(name)?.moment),
  }));
}

/** Rounding of sums of seconds must not decide whether the air lasts. */
export const SLACK = 1e-9;

/** Missing air after a moment, or undefined if the air ran out before it. */
export function airAfter(missing: number, moment: Moment, lungs: number, breathes: boolean): number | undefined {
  const now = missing + moment.play - (breathes && !moment.rest ? moment.seconds : 0);
  if (now > lungs + SLACK) return undefined;
  return breathes || moment.rest ? Math.max(0, now) * moment.factor : now;
}

/**
 * For one player alone: `most[r][m]` is the largest missing air before moment m with which he reaches the end in at most r
 * breaths more; -1 if none does. Exact, since less missing air never hurts. r goes up to the number that serves from the
 * start, so the last row's index is the least number of breaths; undefined if no number does. `open`: where he may breathe.
 */
export function mostMissing(
  { lungs, moments, tail }: AirTimeline,
  open: (moment: number) => boolean = () => true,
): Float64Array[] | undefined {
  const count = moments.length;
  const rows: Float64Array[] = [];
  for (let r = 0; r <= count; r++) {
    const row = new Float64Array(count + 1);
    const fewer = rows[r - 1];
    row[count] = lungs - tail;
    for (let m = count - 1; m >= 0; m--) {
      const moment = moments[m];
      const next = row[m + 1] ?? -1;
      if (!moment) {
        row[m] = next;
        continue;
      }
      const { play, seconds, factor, rest } = moment;
      if (next < -SLACK && !fewer) {
        row[m] = -1;
        continue;
      }
      let best = next < -SLACK ? -1 : Math.min(lungs, rest ? next / factor : next) - play;
      const afterBreath = fewer?.[m + 1];
      if (!rest && afterBreath !== undefined && afterBreath >= -SLACK && open(m))
        best = Math.max(best, Math.min(lungs, Math.max(0, afterBreath) / factor) - play + seconds);
      row[m] = best < -SLACK ? -1 : best;
    }
    rows.push(row);
    if ((row[0] ?? -1) >= -SLACK) return rows;
  }
  return undefined;
}
