/**
 * What is planned for the parts of an exercise. Plans are plain data, small enough to be sent from one thread to another; a
 * line is made of the plan of its part and the chair's player.
 */

import type { Exercise, Level } from '../exercise/exercise.js';
import { planRoute, type Route } from '../exercise/route.js';
import type { Sung } from '../player/fit.js';
import type { Player } from '../player/player.js';
import type { Chair } from './ensemble.js';

/** What all parts of an exercise have in common. */
export type SharedPlan = {
  /** Chroma above concert C of the first key. */
  readonly from: number;
  /** Ids of the keys that nobody plays. */
  readonly leftOut: readonly string[];
  /** The figure as all play it in keys where it turns at a limit, by key id. */
  readonly turned: Readonly<Record<string, readonly Sung[]>>;
  /** Sentences for every part and the score: what was left out or turned for all, and why. */
  readonly notes: readonly string[];
};

/** What one chair plays. */
export type PartPlan = {
  readonly shared: SharedPlan;
  /** MIDI key number of the written root of each statement. */
  readonly roots: readonly number[];
  /** Ids of the keys in which the part holds the root instead of playing the figure. */
  readonly held: readonly string[];
  /** Level whose compass the part takes for this exercise, where the exercise's remedy is another level. */
  readonly level: Level | undefined;
};

/** A chair and what it plays in one exercise. */
export type PlannedPart = { readonly chair: Chair; readonly plan: PartPlan };

/** All that is played of a figure where the root is held. */
export const ROOT: readonly Sung[] = [{ interval: { steps: 0, semitones: 0 }, degree: '1' }];

/** The route of all parts in concert pitch, without the keys that are left out. */
export const sharedRoute = (exercise: Exercise, { from, leftOut }: Pick<SharedPlan, 'from' | 'leftOut'>): Route =>
  planRoute(exercise, from, new Set(leftOut));

/** The player as the plan has him: with the compass of another level if that is the exercise's remedy. */
export const plannedPlayer = (player: Player, { level }: Pick<PartPlan, 'level'>): Player =>
  level ? { ...player, compass: player.instrument.compass[level] } : player;
