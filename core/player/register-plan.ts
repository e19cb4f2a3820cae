/**
 * The register plan: the octave of each statement, so that the whole line is the easiest to play.
 *
 * Each statement has a few placements (its root an octave lower or higher). A plan picks one of each; its cost is the
 * sum over the statements of the distance from the wanted contour, and over the joins of the leap between the last note
 * of a statement and the first of the next. The cheapest plan is a shortest path through the placements, found exactly
 * by dynamic programming from the last statement back. Of equal plans the one whose first differing octave is lower is
 * taken.
 */

import { assert } from '../base/issue.js';
import { at } from '../base/list.js';
import type { Contour } from '../exercise/exercise.js';
import type { Interval } from '../theory/interval.js';
import { midi, type Pitch, type PitchClass, transpose } from '../theory/pitch.js';
import { inCompass } from './compass.js';
import type { Compass } from './player.js';

/** One way to place a statement: MIDI key numbers of its notes in the order played. */
export type Placement = readonly number[];

/** Whole numbers, so that equal plans are exactly equal. Leaps are in semitones: across two keys, letters may mislead. */
export const COST = {
  /** Each semitone of the leap between two statements: the smaller, the surer. */
  semitone: 1,
  /** Each semitone of it beyond an octave counts so much more: wide leaps cross registers and break the tone. */
  beyondOctave: 2,
  /** A leap that another octave would have made smaller: the ear takes it for a break in the line. */
  displaced: 3,
  /** Each semitone between the middle of a statement and the height that the contour wants there. */
  contour: 4,
  /** With contour `nearest`: each semitone by which that middle leaves the middle half of the compass. Without it a cycle of rising fourths climbs to the ceiling and stays there. */
  tiring: 1,
} as const;

/** Cost of going from one key number to the next across a join. */
export function leapCost(from: number, to: number): number {
  const size = Math.abs(to - from);
  return COST.semitone * size + COST.beyondOctave * Math.max(0, size - 12);
}

const first = (placement: Placement): number => at(placement, 0);
const last = (placement: Placement): number => at(placement, placement.length - 1);

/** Twice the middle between the lowest and highest note: doubled to stay whole. */
const twiceMiddle = (placement: Placement): number => Math.min(...placement) + Math.max(...placement);

/** How far up the contour wants a statement: 0 its lowest placement, 1 its highest; undefined when it does not care. */
function wantedHeight(contour: Contour, index: number, count: number): number | undefined {
  if (contour === 'nearest') return undefined;
  if (contour === 'low') return 0;
  if (contour === 'high') return 1;
  return count === 1 ? 0 : 1 - Math.abs((2 * index) / (count - 1) - 1);
}

/** Twice the semitones by which a middle (given doubled) lies below or above the middle half of the compass. */
function outsideMiddleHalf(middle: number, compass: Compass): number {
  const low = midi(compass.low);
  const high = midi(compass.high);
  const quarter = Math.floor((high - low) / 4);
  return Math.max(0, 2 * (low + quarter) - middle, middle - 2 * (high - quarter));
}

/** Cost of each placement by itself. */
function contourCosts(choices: readonly Placement[], { contour, compass }: RegisterWish, index: number, count: number): number[] {
  const height = wantedHeight(contour, index, count);
  const middles = choices.map(twiceMiddle);
  if (height === undefined) return middles.map((middle) => (COST.tiring * outsideMiddleHalf(middle, compass)) / 2);
  const low = Math.min(...middles);
  const wanted = Math.round(low + (Math.max(...middles) - low) * height);
  return middles.map((middle) => (COST.contour * Math.abs(middle - wanted)) / 2);
}

/** Costs of going from a last note to each placement of the next statement. */
function joinCosts(from: number, choices: readonly Placement[]): number[] {
  const leaps = choices.map((to) => leapCost(from, first(to)));
  const least = Math.min(...leaps);
  return leaps.map((leap) => leap + (leap > least ? COST.displaced : 0));
}

export type RegisterWish = {
  readonly contour: Contour;
  readonly compass: Compass;
  /** The first statement takes its lowest placement. */
  readonly fromLowest: boolean;
};

/** What the first statement may choose from. */
const opening = (choices: readonly Placement[], wish: RegisterWish): readonly Placement[] =>
  wish.fromLowest ? choices.slice(0, 1) : choices;

/** Cost of a plan: for each statement the index of its placement. */
export function planCost(choices: readonly (readonly Placement[])[], plan: readonly number[], wish: RegisterWish): number {
  let total = 0;
  for (let i = 0; i < plan.length; i++) {
    const here = at(choices, i);
    const chosen = at(plan, i);
    total += at(contourCosts(here, wish, i, plan.length), chosen);
    const before = choices[i - 1]?.[at(plan, i - 1)];
    if (before) total += at(joinCosts(last(before), here), chosen);
  }
  return total;
}

/**
 * For each statement the index of the placement to take. Every statement has at least one placement, lowest first, and
 * each placement at least one note. Time: statements × placements².
 */
export function planRegister(choices: readonly (readonly Placement[])[], wish: RegisterWish): number[] {
  assert(
    choices.every((here) => here.length > 0 && here.every((placement) => placement.length > 0)),
    'each statement has a placement with a note',
  );
  const count = choices.length;
  // toGo[j]: cost from placement j of the current statement to the end; onward[i][j]: the placement that follows it.
  let toGo: number[] = [];
  const onward: number[][] = [];
  for (let i = count - 1; i >= 0; i--) {
    const here = at(choices, i);
    const after = choices[i + 1] ?? [];
    const own = contourCosts(here, wish, i, count);
    const steps: number[] = [];
    const costs = here.map((placement, j) => {
      if (after.length === 0) return at(own, j);
      const costs = joinCosts(last(placement), after).map((cost, k) => cost + at(toGo, k));
      steps[j] = lowestIndex(costs);
      return at(own, j) + at(costs, at(steps, j));
    });
    onward[i] = steps;
    toGo = costs;
  }
  if (count === 0) return [];
  const plan = [lowestIndex(toGo.slice(0, opening(at(choices, 0), wish).length))];
  for (let i = 0; i + 1 < count; i++) plan.push(onward[i]?.[at(plan, i)] as number);
  return plan;
}

/** Index of the smallest; of equals, the first. */
const lowestIndex = (costs: readonly number[]): number => costs.indexOf(Math.min(...costs));

/** Every root of this pitch class, lowest first, above which all these intervals lie in the compass. */
export function placements(root: PitchClass, intervals: readonly Interval[], compass: Compass): Pitch[] {
  return rootsNear(root, compass).filter((at) => intervals.every((interval) => inCompass(transpose(at, interval), compass)));
}

/** The root in every octave from three below the compass to three above: a figure may lie wholly above or below its root. */
export function rootsNear(root: PitchClass, compass: Compass): Pitch[] {
  const roots: Pitch[] = [];
  for (let octave = compass.low.octave - 3; octave <= compass.high.octave + 3; octave++) {
    roots.push({ letter: root.letter, alter: root.alter, octave });
  }
  return roots;
}
