/**
 * The cheapest set of breaths with which the air never runs out: a shortest path through the candidate places.
 *
 * Air is continuous, so a place keeps labels (cost so far, air left) and drops every label for which another costs no more
 * and has at least as much air. Both steps, playing on and breathing, keep the order of air, so what is dropped can never
 * win: the result is the exact minimum. Labels stay sorted by cost and, with it, by air; a step is one merge of two sorted
 * lists.
 *
 * The cost is one exact integer made of four ranks: forbidden places, breaths, breaths outside a wanted set, cost of the
 * places. A lower rank never outweighs one above it.
 */
import { assert } from '../issue.js';
import type { Places } from './candidates.js';
import { LARGEST_SHARE, stillMissing } from './reservoir.js';

/** Times in seconds. */
export type Air = {
  /** Air of full lungs. */
  readonly lungs: number;
  readonly secondsPerWhole: number;
  /** Length of a breath; in time it is cut to the largest share of the note before. */
  readonly breath: number;
  /** The note before gives up the time, rather than the music stopping. */
  readonly inTime: boolean;
};

const OUTSIDE = 2 ** 17;
const SECOND = 2 ** 30;
const FIRST = 2 ** 42;

/** Rounding of sums of seconds must not decide whether the air lasts. */
export const SLACK = 1e-9;

/** Scratch space, grown as needed and free between calls. */
let cost = new Float64Array(256);
let air = new Float64Array(256);
let path = new Int32Array(256);
let nextCost = new Float64Array(256);
let nextAir = new Float64Array(256);
let nextPath = new Int32Array(256);
/** The breaths of every label: a step, and the breath before it. */
let pathStep = new Int32Array(4096);
let pathBack = new Int32Array(4096);

function growLabels(size: number): void {
  const floats = (old: Float64Array): Float64Array<ArrayBuffer> => {
    const grown = new Float64Array(size * 2);
    grown.set(old);
    return grown;
  };
  const ints = (old: Int32Array): Int32Array<ArrayBuffer> => {
    const grown = new Int32Array(size * 2);
    grown.set(old);
    return grown;
  };
  [cost, air, nextCost, nextAir] = [floats(cost), floats(air), floats(nextCost), floats(nextAir)];
  [path, nextPath] = [ints(path), ints(nextPath)];
}

function growPaths(): void {
  const longer = (old: Int32Array): Int32Array<ArrayBuffer> => {
    const grown = new Int32Array(old.length * 2);
    grown.set(old);
    return grown;
  };
  pathStep = longer(pathStep);
  pathBack = longer(pathBack);
}

/** Seconds of a breath at this step. */
export function breathAt(places: Places, step: number, how: Air): number {
  const wanted = how.breath;
  return how.inTime ? Math.min(wanted, LARGEST_SHARE * (places.span[step] as number) * how.secondsPerWhole) : wanted;
}

function search(places: Places, how: Air, withForbidden: boolean, wanted: Uint8Array | undefined, breathWeight: number, forbiddenWeight: number) {
  const { lungs, secondsPerWhole } = how;
  let labels = 1;
  cost[0] = 0;
  air[0] = lungs;
  path[0] = -1;
  let paths = 0;
  let play = 0;
  for (let step = 0; step < places.steps; step++) {
    play += (places.play[step] as number) * secondsPerWhole;
    const rest = places.candidate[step] === -1;
    const forbidden = places.forbidden[step] === 1;
    if (forbidden && !withForbidden) continue;
    if (labels * 2 > cost.length) growLabels(labels * 2);
    if (rest) {
      const missing = stillMissing((places.span[step] as number) * secondsPerWhole);
      let kept = 0;
      for (let i = 0; i < labels; i++) {
        const left = (air[i] as number) - play;
        if (left < -SLACK) continue;
        const filled = lungs - (lungs - left) * missing;
        if (kept > 0 && filled <= (air[kept - 1] as number)) continue;
        cost[kept] = cost[i] as number;
        path[kept] = path[i] as number;
        air[kept++] = filled;
      }
      if (kept === 0) return undefined;
      labels = kept;
      play = 0;
      continue;
    }
    const breath = breathAt(places, step, how);
    const missing = stillMissing(breath);
    const shortened = how.inTime ? play - breath : play;
    const price =
      (places.cost[step] as number) + breathWeight + (forbidden ? forbiddenWeight : 0) + (wanted && wanted[step] === 0 ? OUTSIDE : 0);
    let on = 0;
    while (on < labels && (air[on] as number) - play < -SLACK) on++;
    let breathing = 0;
    while (breathing < labels && (air[breathing] as number) - shortened < -SLACK) breathing++;
    let kept = 0;
    let most = Number.NEGATIVE_INFINITY;
    while (on < labels || breathing < labels) {
      const onCost = on < labels ? (cost[on] as number) : Number.POSITIVE_INFINITY;
      const breathCost = breathing < labels ? (cost[breathing] as number) + price : Number.POSITIVE_INFINITY;
      if (onCost <= breathCost) {
        const left = (air[on] as number) - play;
        if (left > most) {
          most = left;
          nextCost[kept] = onCost;
          nextAir[kept] = left;
          nextPath[kept++] = path[on] as number;
        }
        on++;
      } else {
        const left = lungs - (lungs - (air[breathing] as number) + shortened) * missing;
        if (left > most) {
          most = left;
          if (paths === pathStep.length) growPaths();
          pathStep[paths] = step;
          pathBack[paths] = path[breathing] as number;
          nextCost[kept] = breathCost;
          nextAir[kept] = left;
          nextPath[kept++] = paths++;
        }
        breathing++;
      }
    }
    if (kept === 0) return undefined;
    [cost, nextCost, air, nextAir, path, nextPath] = [nextCost, cost, nextAir, air, nextPath, path];
    labels = kept;
    play = 0;
  }
  play += places.tail * secondsPerWhole;
  for (let i = 0; i < labels; i++) {
    if ((air[i] as number) - play < -SLACK) continue;
    const steps: number[] = [];
    for (let at = path[i] as number; at !== -1; at = pathBack[at] as number) steps.push(pathStep[at] as number);
    return steps.reverse();
  }
  return undefined;
}

/**
 * Steps of `places` at which to breathe, in order: fewest forbidden places, then fewest breaths, then fewest outside
 * `wanted` (1 for each step that is wanted), then the least cost of the places. With `most`, never more breaths than that:
 * where it binds, the number of breaths ranks before the forbidden places. Undefined if the air runs out whatever is done.
 */
export function cheapestBreaths(places: Places, how: Air, wanted?: Uint8Array, most = Number.POSITIVE_INFINITY): readonly number[] | undefined {
  assert(how.lungs > 0 && how.secondsPerWhole > 0 && how.breath > 0, 'lungs, tempo and breath above zero');
  const plain = search(places, how, false, wanted, SECOND, FIRST) ?? (places.anyForbidden ? search(places, how, true, wanted, SECOND, FIRST) : undefined);
  if (!plain || plain.length <= most) return plain;
  return search(places, how, true, wanted, FIRST, SECOND);
}
