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
import { assert } from '../base/issue.js';
import type { Places, Steps } from './candidates.js';
import { stillMissing, stolenFrom } from './reservoir.js';

/** Times in seconds. */
export type Air = {
  /** Air of full lungs. */
  readonly lungs: number;
  readonly secondsPerWhole: number;
  /** Length of a breath; in time the longest, which the note before may cut. */
  readonly breath: number;
  /** Length of a quick breath in time. */
  readonly quick: number;
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
export function breathAt(steps: Steps, step: number, how: Air): number {
  return how.inTime ? stolenFrom((steps.span[step] as number) * how.secondsPerWhole, how.breath, how.quick) : how.breath;
}

/** What a breath and a forbidden place add to the rank. */
type Rules = { readonly ofBreath: number; readonly ofForbidden: number };

function prepare(steps: Steps, how: Air): void {
  if (breaths.length < steps.count + 1) {
    const length = 2 * (steps.count + 1);
    [breaths, missings, ends] = [longer(breaths, length), longer(missings, length), longer(ends, length)];
  }
  const usual = stillMissing(how.breath);
  for (let step = 0; step < steps.count; step++) {
    const rest = steps.candidate[step] === -1;
    const seconds = rest ? (steps.span[step] as number) * how.secondsPerWhole : breathAt(steps, step, how);
    breaths[step] = seconds;
    missings[step] = seconds === how.breath ? usual : stillMissing(seconds);
  }
}

/** Fills the backward answers: those after step s stand from `ends[s + 1]` to `ends[s]`. Returns the least rank, or undefined. */
function leastRank(steps: Steps, how: Air, rules: Rules): number | undefined {
  const { lungs, secondsPerWhole, inTime } = how;
  const limit = lungs + STRICTER;
  let from = 0;
  let to = 1;
  ranks[0] = 0;
  needs[0] = steps.tail * secondsPerWhole;
  if ((needs[0] as number) > limit) return undefined;
  ends[steps.count] = 0;
  for (let step = steps.count - 1; step >= 0; step--) {
    ends[step] = to;
    const play = (steps.play[step] as number) * secondsPerWhole;
    const missing = missings[step] as number;
    const rest = steps.candidate[step] === -1;
    const forbidden = steps.forbidden[step] === 1;
    if (ranks.length < to + 2 * (to - from)) [ranks, needs] = [longer(ranks, ranks.length * 2), longer(needs, needs.length * 2)];
    const before = play - (inTime && !rest ? (breaths[step] as number) : 0);
    const price = rest ? 0 : rules.ofBreath + (forbidden ? rules.ofForbidden : 0);
    let on = rest ? to : from;
    let breathing = from;
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
      const rank = Math.min(onRank, breathRank);
      if (kept > to && ranks[kept - 1] === rank) kept--;
      ranks[kept] = rank;
      needs[kept++] = need;
    }
    if (kept === to) return undefined;
    from = to;
    to = kept;
  }
  return ranks[from] as number;
}

/** The steps of the best path of exactly the least rank. */
function cheapestOf(steps: Steps, how: Air, rules: Rules, least: number, wanted: Uint8Array | undefined): readonly number[] | undefined {
  const { lungs, secondsPerWhole, inTime } = how;
  let labels = 1;
  cost[0] = 0;
  air[0] = lungs;
  path[0] = -1;
  let paths = 0;
  for (let step = 0; step < steps.count; step++) {
    const play = (steps.play[step] as number) * secondsPerWhole;
    const missing = missings[step] as number;
    const rest = steps.candidate[step] === -1;
    const forbidden = steps.forbidden[step] === 1;
    const before = play - (inTime && !rest ? (breaths[step] as number) : 0);
    const price =
      RANK * (rules.ofBreath + (forbidden ? rules.ofForbidden : 0)) +
      (steps.cost[step] as number) +
      (wanted && wanted[steps.event[step] as number] === 0 ? OUTSIDE : 0);
    if (labels * 2 > size) growLabels(labels * 2);
    const lowest = ends[step + 1] as number;
    let need = (ends[step] as number) - 1;
    let on = rest ? labels : 0;
    let breathing = 0;
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
      if (kept > 0 && nextCost[kept - 1] === at) kept--;
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
  const taken: number[] = [];
  for (let at = path[0] as number; at !== -1; at = pathBack[at] as number) taken.push(pathStep[at] as number);
  return taken.reverse();
}

/** The steps that the search went through, and which of them are breaths, in order. */
export type Found = { readonly steps: Steps; readonly taken: readonly number[] };

function best(steps: Steps, how: Air, rules: Rules, wanted: Uint8Array | undefined): Found | undefined {
  prepare(steps, how);
  const least = leastRank(steps, how, rules);
  const taken = least === undefined ? undefined : cheapestOf(steps, how, rules, least, wanted);
  return taken && { steps, taken };
}

/**
 * Where to breathe: fewest forbidden places and none within a beat of a better one where that can be had, then fewest
 * breaths, then fewest outside `wanted` (1 for each event after which a breath is wanted), then the least cost of the
 * places. With `most`, never more breaths than that: where it binds, the number of breaths ranks before the forbidden
 * places. Undefined if the air runs out whatever is done.
 */
export function cheapestBreaths(places: Places, how: Air, wanted?: Uint8Array, most = Number.POSITIVE_INFINITY): Found | undefined {
  assert(how.lungs > 0 && how.secondsPerWhole > 0 && how.breath > 0, 'lungs, tempo and breath above zero');
  const placesFirst = { ofBreath: 1, ofForbidden: FIRST };
  let found: Found | undefined;
  for (const steps of places.choices()) {
    found = best(steps, how, placesFirst, wanted);
    if (found) break;
  }
  if (!found || found.taken.length <= most) return found;
  return best(places.all, how, { ofBreath: FIRST, ofForbidden: 1 }, wanted);
}
