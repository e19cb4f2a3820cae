/**
 * Breathing by turns as a search: labels (cost so far, missing air of each player) from moment to moment. A label goes
 * when another costs no more and leaves nobody with less air, or when the breaths that its players still need make it
 * dearer than a plan that is known. What goes can never win, so the result is the exact minimum as long as no more labels
 * are alive than the limit allows.
 */
import { at, first } from '../base/list.js';
import { type AirTimeline, airAfter, type Moment, mostMissing, SLACK } from './air-timeline.js';

/** Breaths first, then the cost of the places: one exact whole number. */
export const BREATH = 2 ** 24;

type Label = { readonly cost: number; readonly missing: readonly number[]; readonly taken: Taken | undefined };
type Taken = { readonly moment: number; readonly by: AirTimeline; readonly before: Taken | undefined };

export type Found = {
  readonly cost: number;
  /** The moments at which each player breathes, in order. */
  readonly breaths: ReadonlyMap<AirTimeline, readonly number[]>;
};

/** `true` if label a makes label b needless. */
const covers = (a: Label, b: Label): boolean => a.cost <= b.cost && a.missing.every((value, i) => value <= at(b.missing, i) + SLACK);

/** Least number of breaths from moment m on with so much missing air: rows rise, so halving finds it. */
function least(rows: readonly Float64Array[], m: number, missing: number): number {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rows[middle]?.[m] ?? -1) >= missing - SLACK) high = middle;
    else low = middle + 1;
  }
  return low < rows.length ? low : Number.POSITIVE_INFINITY;
}

/** What is left of the labels: sorted by cost, none covered by one before it; no more than one above the limit. */
function pruned(labels: Label[], limit: number): Label[] {
  labels.sort((a, b) => a.cost - b.cost);
  const kept: Label[] = [];
  for (const label of labels) {
    if (kept.some((other) => covers(other, label))) continue;
    kept.push(label);
    if (kept.length > limit) break;
  }
  return kept;
}

/** A plan of one player: the moments at which he breathes, in order. */
export type Alone = { readonly cost: number; readonly breaths: readonly number[] };

/** One player's label: with him alone all labels stand in order, dearer ones with more air. */
type Own = { readonly cost: number; readonly missing: number; readonly taken: Taken | undefined };

const priceOf = ({ cost }: Moment): number => BREATH + cost;

/** The moments at which a player breathes on the way to a label. */
function breathsOf(label: Taken | undefined, timeline: AirTimeline): number[] {
  const breaths: number[] = [];
  for (let taken = label; taken; taken = taken.before) if (taken.by === timeline) breaths.unshift(taken.moment);
  return breaths;
}

/** So many labels of a player alone are carried on at once. */
const MOST_ALONE = 64;

/** Every label that is carried on can be finished with the least number of breaths, so thinning out costs at most a better place. */
function thinned(labels: readonly Own[]): Own[] {
  const step = Math.ceil(labels.length / MOST_ALONE);
  return labels.filter((_, i) => i % step === 0 || i === labels.length - 1);
}

/**
 * A plan of one player where there is room, with the least number of breaths and places that are good among those plans;
 * undefined if his air does not last.
 */
export function searchAlone(timeline: AirTimeline, room: readonly number[]): Alone | undefined {
  const { moments, lungs } = timeline;
  const rows = mostMissing(timeline, (m) => (room[m] ?? 0) > 0);
  if (!rows) return undefined;
  // The least number of breaths is known and can be reached: labels that need more go.
  const fewest = rows.length - 1;
  let labels: Own[] = [{ cost: 0, missing: 0, taken: undefined }];
  for (const [m, moment] of moments.entries()) {
    if (!moment) continue;
    const breathes = !moment.rest && (room[m] ?? 0) > 0;
    const price = priceOf(moment);
    const kept: Own[] = [];
    let best = Number.POSITIVE_INFINITY;
    let on = 0;
    let off = 0;
    for (;;) {
      const playing = labels[on];
      const breathing = breathes ? labels[off] : undefined;
      const plays = playing !== undefined && (breathing === undefined || playing.cost <= breathing.cost + price);
      const label = plays ? playing : breathing;
      if (!label) break;
      if (plays) on++;
      else off++;
      const missing = airAfter(label.missing, moment, lungs, !plays);
      if (missing === undefined || missing >= best - SLACK) continue;
      const cost = plays ? label.cost : label.cost + price;
      if (Math.floor(cost / BREATH) + least(rows, m + 1, missing) > fewest) continue;
      best = missing;
      kept.push({ cost, missing, taken: plays ? label.taken : { moment: m, by: timeline, before: label.taken } });
    }
    if (kept.length === 0) return undefined;
    labels = thinned(kept);
  }
  const { cost, taken } = first(labels);
  return { cost, breaths: breathsOf(taken, timeline) };
}

export type SearchOptions = {
  /** By moment: how many more may breathe there. */
  readonly room: readonly number[];
  /** Search no longer than while so many labels are alive. */
  readonly limit: number;
  /** Cost of a plan that is known; only a cheaper one is looked for. */
  readonly known?: number;
};

/** The cheapest plan; `none` if there is no (cheaper) one; `too-many` if the limit was reached. */
export function searchTurns(
  timelines: readonly AirTimeline[],
  { room, limit, known = Number.POSITIVE_INFINITY }: SearchOptions,
): Found | 'none' | 'too-many' {
  const players = timelines.flatMap((timeline) => {
    const rows = mostMissing(timeline, (m) => (room[m] ?? 0) > 0);
    return rows ? [{ timeline, rows }] : [];
  });
  if (players.length < timelines.length) return 'none';
  let labels: Label[] = [{ cost: 0, missing: players.map(() => 0), taken: undefined }];
  for (const [m, places] of room.entries()) {
    const next: Label[] = [];
    const add = (label: Label): void => {
      let bound = label.cost;
      for (const [i, { rows }] of players.entries()) bound += BREATH * least(rows, m + 1, at(label.missing, i));
      if (bound < known && bound < Number.POSITIVE_INFINITY) next.push(label);
    };
    for (const label of labels) {
      const on = players.map(({ timeline: { moments, lungs } }, i) => {
        const moment = moments[m];
        const missing = at(label.missing, i);
        return moment ? airAfter(missing, moment, lungs, false) : missing;
      });
      const lasting = on.filter((value) => value !== undefined);
      const dry = on.length - lasting.length;
      if (dry === 0) add({ ...label, missing: lasting });
      if (places < 1 || dry > 1) continue;
      for (const [i, { timeline }] of players.entries()) {
        const moment = timeline.moments[m];
        if (!moment || moment.rest || (dry === 1 && on[i] !== undefined)) continue;
        const left = airAfter(at(label.missing, i), moment, timeline.lungs, true);
        if (left === undefined) continue;
        // Nobody else has run dry, so each has his air.
        const missing = on.map((value, k) => (k === i ? left : value)).filter((value) => value !== undefined);
        add({ cost: label.cost + priceOf(moment), missing, taken: { moment: m, by: timeline, before: label.taken } });
      }
    }
    labels = pruned(next, limit);
    if (labels.length === 0) return 'none';
    if (labels.length > limit) return 'too-many';
  }
  const { cost, taken } = first(labels);
  return { cost, breaths: new Map(timelines.map((timeline) => [timeline, breathsOf(taken, timeline)])) };
}
