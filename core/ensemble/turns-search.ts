/**
 * Breathing by turns as a search: labels (cost so far, missing air of each player) from moment to moment. A label goes
 * when another costs no more and leaves nobody with less air, or when the breaths that its players still need make it
 * dearer than a plan that is known. What goes can never win, so the result is the exact minimum as long as no more labels
 * are alive than the limit allows.
 */
import { after, type Runner, reach, SLACK } from './runner.js';

/** Forbidden places first, then breaths, then the cost of the places: one exact whole number. */
export const WEIGHT = { forbidden: 2 ** 42, breath: 2 ** 24 } as const;

type Label = { readonly cost: number; readonly missing: readonly number[]; readonly taken: Taken | undefined };
type Taken = { readonly moment: number; readonly runner: number; readonly before: Taken | undefined };

export type Found = {
  readonly cost: number;
  /** By runner: the moments at which it breathes, in order. */
  readonly breaths: readonly (readonly number[])[];
};

/** `true` if label a makes label b needless. */
const covers = (a: Label, b: Label): boolean =>
  a.cost <= b.cost && a.missing.every((value, i) => value <= (b.missing[i] as number) + SLACK);

/** Least number of breaths from moment m on with so much missing air. */
function least(rows: readonly Float64Array[], m: number, missing: number): number {
  const found = rows.findIndex((row) => (row[m] as number) >= missing - SLACK);
  return found < 0 ? Number.POSITIVE_INFINITY : found;
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
  runners: readonly Runner[],
  { room, limit, known = Number.POSITIVE_INFINITY }: SearchOptions,
): Found | 'none' | 'too-many' {
  const tables = runners.map(reach);
  if (tables.some((table) => table === undefined)) return 'none';
  const rows = tables as Float64Array[][];
  let labels: Label[] = [{ cost: 0, missing: runners.map(() => 0), taken: undefined }];
  for (let m = 0; m < room.length; m++) {
    const next: Label[] = [];
    const add = (cost: number, missing: readonly number[], taken: Taken | undefined): void => {
      let bound = cost;
      for (let i = 0; i < rows.length; i++) bound += WEIGHT.breath * least(rows[i] as Float64Array[], m + 1, missing[i] as number);
      if (bound < known && bound < Number.POSITIVE_INFINITY) next.push({ cost, missing, taken });
    };
    for (const label of labels) {
      const on = runners.map(({ moments, lungs }, i) => {
        const moment = moments[m];
        return moment ? after(label.missing[i] as number, moment, lungs, false) : label.missing[i];
      });
      const dry = on.filter((value) => value === undefined).length;
      if (dry === 0) add(label.cost, on as number[], label.taken);
      if ((room[m] as number) < 1 || dry > 1) continue;
      runners.forEach(({ moments, lungs }, i) => {
        const moment = moments[m];
        if (!moment || moment.rest || (dry === 1 && on[i] !== undefined)) return;
        const left = after(label.missing[i] as number, moment, lungs, true);
        if (left === undefined) return;
        const cost = label.cost + WEIGHT.breath + (moment.forbidden ? WEIGHT.forbidden : 0) + moment.cost;
        add(
          cost,
          on.map((value, k) => (k === i ? left : (value as number))),
          { moment: m, runner: i, before: label.taken },
        );
      });
    }
    labels = pruned(next, limit);
    if (labels.length === 0) return 'none';
    if (labels.length > limit) return 'too-many';
  }
  const best = labels[0] as Label;
  const breaths: number[][] = runners.map(() => []);
  for (let taken = best.taken; taken; taken = taken.before) breaths[taken.runner]?.unshift(taken.moment);
  return { cost: best.cost, breaths };
}
