/** Breathing by turns: within a group no two players breathe at one place, with as few breaths as can be. */

import { at, mustGet } from '../base/list.js';
import { breathCandidates } from '../breath/candidates.js';
import type { BreathMark } from '../breath/ladder.js';
import type { Beats } from '../exercise/tempo.js';
import { add } from '../theory/fraction.js';
import { type AirTimeline, airAfter, airTimelines, type BreathingPlayer, mostMissing } from './air-timeline.js';
import { type Alone, type Found, searchAlone, searchTurns } from './by-turns-search.js';

export type Turns = {
  /** By player, in the order given. */
  readonly marks: readonly (readonly BreathMark[])[];
  readonly breaths: number;
  /** No plan has fewer breaths than this: the sum of what each player alone would need. */
  readonly atLeast: number;
  /** The number of breaths is proved to be the least. */
  readonly exact: boolean;
  /** How many players share a place at most: 1 unless the music has too few places. */
  readonly sharing: number;
};

/** Up to here every plan is looked at; beyond, the result is near the least and its distance from it is stated. */
const SMALL = { players: 4, moments: 48, labels: 300 } as const;

const momentCount = (timelines: readonly AirTimeline[]): number => timelines[0]?.moments.length ?? 0;

/** Players one after another, each as well as what is left allows, then again and again while that helps. */
function oneByOne(order: readonly AirTimeline[], sharing: number): Found | undefined {
  const room = new Array<number>(momentCount(order)).fill(sharing);
  const give = (moments: readonly number[], places: number): void => {
    for (const m of moments) room[m] = (room[m] ?? 0) + places;
  };
  const plans = new Map<AirTimeline, Alone>();
  const alone = (timeline: AirTimeline): boolean => {
    give(plans.get(timeline)?.breaths ?? [], 1);
    const found = searchAlone(timeline, room);
    if (!found) return false;
    plans.set(timeline, found);
    give(found.breaths, -1);
    return true;
  };
  if (!order.every(alone)) return undefined;
  const total = () => order.reduce((sum, timeline) => sum + mustGet(plans, timeline).cost, 0);
  for (let before = Number.POSITIVE_INFINITY; total() < before; ) {
    before = total();
    order.forEach(alone);
  }
  return { cost: total(), breaths: new Map([...plans].map(([timeline, { breaths }]) => [timeline, breaths])) };
}

/** The best of a few orders: shortest lungs first, longest first, and each player in front once. */
function nearBest(timelines: readonly AirTimeline[], sharing: number, enough: number): Found | undefined {
  const byLungs = [...timelines].sort((a, b) => a.lungs - b.lungs);
  const inFront = byLungs.slice(1, 4).map((one) => [one, ...byLungs.filter((other) => other !== one)]);
  let best: Found | undefined;
  for (const order of [byLungs, [...byLungs].reverse(), ...inFront]) {
    const found = oneByOne(order, sharing);
    if (found && (!best || found.cost < best.cost)) best = found;
    if (best && breathsOf(best) <= enough) break;
  }
  return best;
}

/** The fewest breaths that each needs alone; undefined for a player whose air lasts nowhere. */
const leastAlone = (timelines: readonly AirTimeline[]): (number | undefined)[] =>
  timelines.map((timeline) => {
    const rows = mostMissing(timeline);
    return rows && rows.length - 1;
  });

type Solved = { readonly found: Found; readonly exact: boolean; readonly sharing: number };

function solve(timelines: readonly AirTimeline[], atLeast: number): Solved | undefined {
  const count = momentCount(timelines);
  const near = nearBest(timelines, 1, atLeast);
  if (near && breathsOf(near) === atLeast) return { found: near, exact: true, sharing: 1 };
  if (timelines.length <= SMALL.players && count <= SMALL.moments) {
    const room = new Array<number>(count).fill(1);
    const exact = searchTurns(timelines, { room, limit: SMALL.labels, ...(near ? { known: near.cost } : {}) });
    if (typeof exact !== 'string') return { found: exact, exact: true, sharing: 1 };
    if (exact === 'none' && near) return { found: near, exact: true, sharing: 1 };
  }
  if (near) return { found: near, exact: false, sharing: 1 };
  for (let sharing = 2; sharing < timelines.length; sharing++) {
    const found = nearBest(timelines, sharing, atLeast);
    if (found) return { found, exact: false, sharing };
  }
  return undefined;
}

const breathsOf = ({ breaths }: Found): number => [...breaths.values()].reduce((sum, own) => sum + own.length, 0);

/** Marks of one player, with what is known of his air at each. */
function marksOf(timeline: AirTimeline, moments: readonly number[]): BreathMark[] {
  const { line } = timeline;
  const reasons = new Map(breathCandidates(line).map((candidate) => [candidate.afterEvent, candidate.reason]));
  const chosen = new Set(moments);
  const marks: BreathMark[] = [];
  let missing = 0;
  let since = 0;
  for (const [m, moment] of timeline.moments.entries()) {
    if (!moment) continue;
    const breathes = chosen.has(m);
    since += moment.play - (breathes ? moment.seconds : 0);
    if (breathes) {
      const note = at(line.events, moment.event);
      const airLeft = Math.max(0, timeline.lungs - missing - moment.play + moment.seconds);
      const reason = reasons.get(moment.event) ?? 'inside-key';
      marks.push({
        afterEvent: moment.event,
        onset: add(note.onset, note.duration),
        reason,
        secondsSinceLast: since,
        airLeft,
        seconds: moment.seconds,
        fallsAway: false,
      });
    }
    missing = airAfter(missing, moment, timeline.lungs, breathes) ?? timeline.lungs;
    if (breathes || moment.rest) since = 0;
  }
  return marks;
}

/** Why a group has no plan: somebody's air lasts at no set of places, or there are too few places for all. */
export type TurnsFault = 'air-runs-out' | 'too-few-places';

/** A plan for the players of one group; each place serves one of them, or a few where there are too few places. */
export function breatheByTurns(group: readonly BreathingPlayer[], tempo: Beats): Turns | TurnsFault {
  const timelines = airTimelines(group, tempo);
  const counts = leastAlone(timelines);
  if (counts.includes(undefined)) return 'air-runs-out';
  const atLeast = counts.reduce<number>((sum, count) => sum + (count ?? 0), 0);
  const solved = solve(timelines, atLeast);
  if (!solved) return 'too-few-places';
  const { found, exact, sharing } = solved;
  const marks = timelines.map((timeline) => marksOf(timeline, mustGet(found.breaths, timeline)));
  return { marks, breaths: breathsOf(found), atLeast, exact, sharing };
}
