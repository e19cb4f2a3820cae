/**
 * The cheapest set of breaths with which the air never runs out: a shortest path through the candidate places, in two passes.
 *
 * Backward: how little air is enough after each place to reach the end with so many forbidden places and breaths more. It
 * is exact, because more air never hurts, and its first answer is the least possible rank of the whole line.
 * Forward: labels (cost so far, air left) at each place. A label goes when another costs no more and has at least as much
 * air, or when its air is not enough to finish within the least rank. Playing on and breathing both keep the order of air,
 * so what goes can never win, and what is left at the end is the exact minimum. Labels stay sorted by cost and, with it,
 * by air: a step is one merge of two sorted lists.
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

/** Rounding of sums of seconds must not decide whether the air lasts; the backward pass is the stricter one. */
export const SLACK = 1e-9;
const STRICTER = 1e-10;

/**
 * A cost is one exact integer of four ranks: (first and second rank: forbidden places and breaths) × RANK, then breaths
 * outside the wanted places × OUTSIDE, then the cost of the places. A lower rank never outweighs one above it.
 */
const OUTSIDE = 2 ** 17;
const RANK = 2 ** 30;
const FIRST = 2 ** 12;

/** Scratch space, grown as needed and free between calls. */
let size = 256;
let cost = new Float64Array(size);
let air = new Float64Array(size);
let path = new Int32Array(size);
let nextCost = new Float64Array(size);
let nextAir = new Float64Array(size);
let nextPath = new Int32Array(size);
/** The breaths of every label: a step, and the breath before it. */
let pathStep = new Int32Array(4096);
let pathBack = new Int32Array(4096);
/** Backward answers of every step: (rank, least air), rank rising and air falling; `ends[step]` is one past the last. */
let ranks = new Float64Array(4096);
let needs = new Float64Array(4096);
let ends = new Int32Array(512);
/** Of each step, for both passes. */
let breaths = new Float64Array(512);
let missings = new Float64Array(512);

const longer = <T extends Float64Array<ArrayBuffer> | Int32Array<ArrayBuffer>>(old: T, length: number): T => {
  const grown = new (old.constructor as new (length: number) => T)(length);
  grown.set(old);
  return grown;
};

function growLabels(atLeast: number): void {
  while (size < atLeast) size *= 2;
  [cost, air, nextCost, nextAir] = [longer(cost, size), longer(air, size), longer(nextCost, size), longer(nextAir, size)];
  [path, nextPath] = [longer(path, size), longer(nextPath, size)];
}

function growPaths(): void {
  [pathStep, pathBack] = [longer(pathStep, pathStep.length * 2), longer(pathBack, pathBack.length * 2)];
}

/** Seconds of a breath at this step. */
export function breathAt(places: Places, step: number, how: Air): number {
  return how.inTime ? Math.min(how.breath, LARGEST_SHARE * (places.span[step] as number) * how.secondsPerWhole) : how.breath;
}

/** Which places may be used, and what ranks first. */
type Rules = { readonly forbiddenToo: boolean; readonly ofBreath: number; readonly ofForbidden: number };

function prepare(places: Places, how: Air): void {
  if (breaths.length < places.steps + 1) {
    const length = 2 * (places.steps + 1);
    [breaths, missings, ends] = [longer(breaths, length), longer(missings, length), longer(ends, length)];
  }
  const usual = stillMissing(how.breath);
  for (let step = 0; step < places.steps; step++) {
    const rest = places.candidate[step] === -1;
    const seconds = rest ? (places.span[step] as number) * how.secondsPerWhole : breathAt(places, step, how);
    breaths[step] = seconds;
    missings[step] = seconds === how.breath ? usual : stillMissing(seconds);
  }
}

/** Fills the backward answers: those after step s stand from `ends[s + 1]` to `ends[s]`. Returns the least rank, or undefined. */
function leastRank(places: Places, how: Air, rules: Rules): number | undefined {
  const { lungs, secondsPerWhole, inTime } = how;
  const limit = lungs + STRICTER;
  let from = 0;
  let to = 1;
  ranks[0] = 0;
  needs[0] = places.tail * secondsPerWhole;
  if ((needs[0] as number) > limit) return undefined;
  ends[places.steps] = 0;
  for (let step = places.steps - 1; step >= 0; step--) {
    ends[step] = to;
    const play = (places.play[step] as number) * secondsPerWhole;
    const missing = missings[step] as number;
    const rest = places.candidate[step] === -1;
    const forbidden = places.forbidden[step] === 1;
    const mayBreathe = !rest && (!forbidden || rules.forbiddenToo);
    if (ranks.length < to + 2 * (to - from)) [ranks, needs] = [longer(ranks, ranks.length * 2), longer(needs, needs.length * 2)];
    const before = play - (inTime && !rest ? (breaths[step] as number) : 0);
    const price = rest ? 0 : rules.ofBreath + (forbidden ? rules.ofForbidden : 0);
    let on = rest ? to : from;
    let breathing = rest || mayBreathe ? from : to;
    let kept = to;
    let least = limit;
    while (on < to || breathing < to) {
      const onRank = on < to ? (ranks[on] as number) : Number.POSITIVE_INFINITY;
      const breathRank = breathing < to ? (ranks[breathing] as number) + price : Number.POSITIVE_INFINITY;
      let need: number;
      if (onRank <= breathRank) need = (needs[on++] as number) + play;
      else need = Math.max(0, lungs - Math.max(0, lungs - (needs[breathing++] as number)) / missing) + before;
      if (need > limit || (kept > to && need >= least)) continue;
      least = need;
      ranks[kept] = Math.min(onRank, breathRank);
      needs[kept++] = need;
    }
    if (kept === to) return undefined;
    from = to;
    to = kept;
  }
  return ranks[from] as number;
}

/** The steps of the best path of exactly the least rank. */
function cheapestOf(places: Places, how: Air, rules: Rules, least: number, wanted: Uint8Array | undefined): readonly number[] | undefined {
  const { lungs, secondsPerWhole, inTime } = how;
  let labels = 1;
  cost[0] = 0;
  air[0] = lungs;
  path[0] = -1;
  let paths = 0;
  for (let step = 0; step < places.steps; step++) {
    const play = (places.play[step] as number) * secondsPerWhole;
    const missing = missings[step] as number;
    const rest = places.candidate[step] === -1;
    const forbidden = places.forbidden[step] === 1;
    const mayBreathe = !rest && (!forbidden || rules.forbiddenToo);
    const before = play - (inTime && !rest ? (breaths[step] as number) : 0);
    const price =
      RANK * (rules.ofBreath + (forbidden ? rules.ofForbidden : 0)) + (places.cost[step] as number) + (wanted && wanted[step] === 0 ? OUTSIDE : 0);
    if (labels * 2 > size) growLabels(labels * 2);
    const lowest = ends[step + 1] as number;
    let need = (ends[step] as number) - 1;
    let on = rest ? labels : 0;
    let breathing = rest || mayBreathe ? 0 : labels;
    let kept = 0;
    let most = Number.NEGATIVE_INFINITY;
    while (on < labels || breathing < labels) {
      const onCost = on < labels ? (cost[on] as number) : Number.POSITIVE_INFINITY;
      const breathCost = breathing < labels ? (cost[breathing] as number) + (rest ? 0 : price) : Number.POSITIVE_INFINITY;
      const plays = onCost <= breathCost;
      const from = plays ? on++ : breathing++;
      const at = plays ? onCost : breathCost;
      const left = (air[from] as number) - (plays ? play : before);
      if (left < -SLACK) continue;
      const has = plays ? left : lungs - (lungs - left) * missing;
      if (has <= most) continue;
      const remaining = least - Math.floor(at / RANK);
      while (need >= lowest && (ranks[need] as number) > remaining) need--;
      if (need < lowest) break;
      if (has < (needs[need] as number) - SLACK) continue;
      most = has;
      nextCost[kept] = at;
      nextAir[kept] = has;
      if (plays || rest) nextPath[kept++] = path[from] as number;
      else {
        if (paths === pathStep.length) growPaths();
        pathStep[paths] = step;
        pathBack[paths] = path[from] as number;
        nextPath[kept++] = paths++;
      }
    }
    if (kept === 0) return undefined;
    [cost, nextCost, air, nextAir, path, nextPath] = [nextCost, cost, nextAir, air, nextPath, path];
    labels = kept;
  }
  const steps: number[] = [];
  for (let at = path[0] as number; at !== -1; at = pathBack[at] as number) steps.push(pathStep[at] as number);
  return steps.reverse();
}

/**
 * Steps of `places` at which to breathe, in order: fewest forbidden places, then fewest breaths, then fewest outside
 * `wanted` (1 for each step that is wanted), then the least cost of the places. With `most`, never more breaths than that:
 * where it binds, the number of breaths ranks before the forbidden places. Undefined if the air runs out whatever is done.
 */
export function cheapestBreaths(places: Places, how: Air, wanted?: Uint8Array, most = Number.POSITIVE_INFINITY): readonly number[] | undefined {
  assert(how.lungs > 0 && how.secondsPerWhole > 0 && how.breath > 0, 'lungs, tempo and breath above zero');
  prepare(places, how);
  const best = (rules: Rules): readonly number[] | undefined => {
    const least = leastRank(places, how, rules);
    return least === undefined ? undefined : cheapestOf(places, how, rules, least, wanted);
  };
  const found =
    best({ forbiddenToo: false, ofBreath: 1, ofForbidden: FIRST }) ??
    (places.anyForbidden ? best({ forbiddenToo: true, ofBreath: 1, ofForbidden: FIRST }) : undefined);
  if (!found || found.length <= most) return found;
  return best({ forbiddenToo: true, ofBreath: FIRST, ofForbidden: 1 });
}
