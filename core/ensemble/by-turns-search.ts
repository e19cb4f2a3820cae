/**
 * Breathing by turns as a search: labels (cost so far, missing air of each player) from moment to moment. A label goes
 * when another costs no more and leaves nobody with less air, or when the breaths that its players still need make it
 * dearer than a plan that is known. What goes can never win, so the result is the exact minimum as long as no more labels
 * are alive than the limit allows.
 */
import { assert } from '../base/issue.js';
import { type AirTimeline, airAfter, type Moment, mostMissing, SLACK } from './air-timeline.js';

/** Breaths first, then the cost of the places: one exact whole number. */
export const BREATH = 2 ** 24;

type Label = { readonly cost: number; readonly missing: readonly number[]; readonly taken: Taken | undefined };
type Taken = { readonly moment: number; readonly timeline: number; readonly before: Taken | undefined };

export type Found = {
  readonly cost: number;
  /** By timeline: the moments at which it breathes, in order. */
  readonly breaths: readonly (readonly number[])[];
};

/** `true` if label a makes label b needless. */
const covers = (a: Label, b: Label): boolean =>
  a.cost <= b.cost && a.missing.every((value, i) => value <= (b.missing[i] as number) + SLACK);

/** Least number of breaths from moment m on with so much missing air: rows rise, so halving finds it. */
function least(rows: readonly Float64Array[], m: number, missing: number): number {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (((rows[middle] as Float64Array)[m] as number) >= missing - SLACK) high = middle;
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

/** One player's label: with him alone all labels stand in order, dearer ones with more air. */
type Own = { readonly cost: number; readonly missing: number; readonly taken: Taken | undefined };

const priceOf = ({ cost }: Moment): number => BREATH + cost;

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
export function searchAlone(
  timeline: AirTimeline,
  room: readonly number[],
): { readonly cost: number; readonly breaths: readonly number[] } | undefined {
  const { moments, lungs } = timeline;
  const rows = mostMissing(timeline, (m) => (room[m] as number) > 0);
  if (!rows) return undefined;
  // The least number of breaths is known and can be reached: labels that need more go.
  const fewest = rows.length - 1;
  let labels: Own[] = [{ cost: 0, missing: 0, taken: undefined }];
  for (let m = 0; m < moments.length; m++) {
    const moment = moments[m];
    if (!moment) continue;
    const breathes = !moment.rest && (room[m] as number) > 0;
    const price = priceOf(moment);
    const kept: Own[] = [];
    let best = Number.POSITIVE_INFINITY;
    let on = 0;
    let off = breathes ? 0 : labels.length;
    while (on < labels.length || off < labels.length) {
      const plays = off >= labels.length || (on < labels.length && (labels[on] as Own).cost <= (labels[off] as Own).cost + price);
      const label = labels[plays ? on++ : off++] as Own;
      const missing = airAfter(label.missing, moment, lungs, !plays);
      if (missing === undefined || missing >= best - SLACK) continue;
      const cost = plays ? label.cost : label.cost + price;
      if (Math.floor(cost / BREATH) + least(rows, m + 1, missing) > fewest) continue;
      best = missing;
      kept.push({ cost, missing, taken: plays ? label.taken : { moment: m, timeline: 0, before: label.taken } });
    }
    if (kept.length === 0) return undefined;
    labels = thinned(kept);
  }
  const [cheapest] = labels;
  assert(cheapest, 'a plan that can be reached is found');
  const breaths: number[] = [];
  for (let taken = cheapest.taken; taken; taken = taken.before) breaths.unshift(taken.moment);
  return { cost: cheapest.cost, breaths };
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
  const tables = timelines.map((timeline) => mostMissing(timeline, (m) => (room[m] as number) > 0));
  if (tables.some((table) => table === undefined)) return 'none';
  const rows = tables as Float64Array[][];
  let labels: Label[] = [{ cost: 0, missing: timelines.map(() => 0), taken: undefined }];
  for (let m = 0; m < room.length; m++) {
    const next: Label[] = [];
    const add = (cost: number, missing: readonly number[], taken: Taken | undefined): void => {
      let bound = cost;
      for (let i = 0; i < rows.length; i++) bound += BREATH * least(rows[i] as Float64Array[], m + 1, missing[i] as number);
      if (bound < known && bound < Number.POSITIVE_INFINITY) next.push({ cost, missing, taken });
    };
    for (const label of labels) {
      const on = timelines.map(({ moments, lungs }, i) => {
        const moment = moments[m];
        return moment ? airAfter(label.missing[i] as number, moment, lungs, false) : label.missing[i];
      });
      const dry = on.filter((value) => value === undefined).length;
      if (dry === 0) add(label.cost, on as number[], label.taken);
      if ((room[m] as number) < 1 || dry > 1) continue;
      timelines.forEach(({ moments, lungs }, i) => {
        const moment = moments[m];
        if (!moment || moment.rest || (dry === 1 && on[i] !== undefined)) return;
        const left = airAfter(label.missing[i] as number, moment, lungs, true);
        if (left === undefined) return;
        const cost = label.cost + priceOf(moment);
        add(
          cost,
          on.map((value, k) => (k === i ? left : (value as number))),
          { moment: m, timeline: i, before: label.taken },
        );
      });
    }
    labels = pruned(next, limit);
    if (labels.length === 0) return 'none';
    if (labels.length > limit) return 'too-many';
  }
  const best = labels[0] as Label;
  const breaths: number[][] = timelines.map(() => []);
  for (let taken = best.taken; taken; taken = taken.before) breaths[taken.timeline]?.unshift(taken.moment);
  return { cost: best.cost, breaths };
}
