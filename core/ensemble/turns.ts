/** Breathing by turns: within a group no two players breathe at one place, with as few breaths as can be. */

import { breathCandidates } from '../breath/candidates.js';
import type { BreathMark } from '../breath/ladder.js';
import type { Beats } from '../breath/tempo.js';
import type { LineEvent } from '../player/line.js';
import { add } from '../theory/fraction.js';
import { after, type Breathing, type Moment, type Runner, reach, runnersOf } from './runner.js';
import { type Found, searchAlone, searchTurns } from './turns-search.js';

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

/** Players one after another, each as well as what is left allows, then again and again while that helps. */
function oneByOne(runners: readonly Runner[], sharing: number, order: readonly number[]): Found | undefined {
  const count = runners[0]?.moments.length ?? 0;
  const room = new Array<number>(count).fill(sharing);
  const plans: (readonly number[])[] = runners.map(() => []);
  const costs = runners.map(() => 0);
  const alone = (i: number): boolean => {
    for (const m of plans[i] as readonly number[]) room[m] = (room[m] as number) + 1;
    const found = searchAlone(runners[i] as Runner, room);
    if (!found) return false;
    plans[i] = found.breaths;
    costs[i] = found.cost;
    for (const m of plans[i] as readonly number[]) room[m] = (room[m] as number) - 1;
    return true;
  };
  if (!order.every(alone)) return undefined;
  const total = () => costs.reduce((a, b) => a + b, 0);
  for (let before = Number.POSITIVE_INFINITY; total() < before; ) {
    before = total();
    order.forEach(alone);
  }
  return { cost: total(), breaths: plans };
}

/** The best of a few orders: shortest lungs first, longest first, and each player in front once. */
function nearBest(runners: readonly Runner[], sharing: number, enough: number): Found | undefined {
  const byLungs = runners.map((_, i) => i).sort((a, b) => (runners[a] as Runner).lungs - (runners[b] as Runner).lungs || a - b);
  const orders = [byLungs, [...byLungs].reverse(), ...byLungs.slice(1, 4).map((first) => [first, ...byLungs.filter((i) => i !== first)])];
  let best: Found | undefined;
  for (const order of orders) {
    const found = oneByOne(runners, sharing, order);
    if (found && (!best || found.cost < best.cost)) best = found;
    if (best && breathsOf(best) <= enough) break;
  }
  return best;
}

/** The fewest breaths that each needs alone; undefined for a player whose air lasts nowhere. */
const leastAlone = (runners: readonly Runner[]): (number | undefined)[] =>
  runners.map((runner) => {
    const rows = reach(runner);
    return rows && rows.length - 1;
  });

type Solved = { readonly found: Found; readonly exact: boolean; readonly sharing: number };

function solve(runners: readonly Runner[], atLeast: number): Solved | undefined {
  const count = runners[0]?.moments.length ?? 0;
  const near = nearBest(runners, 1, atLeast);
  if (near && breathsOf(near) === atLeast) return { found: near, exact: true, sharing: 1 };
  if (runners.length <= SMALL.players && count <= SMALL.moments) {
    const room = new Array<number>(count).fill(1);
    const exact = searchTurns(runners, { room, limit: SMALL.labels, ...(near ? { known: near.cost } : {}) });
    if (typeof exact !== 'string') return { found: exact, exact: true, sharing: 1 };
    if (exact === 'none' && near) return { found: near, exact: true, sharing: 1 };
  }
  if (near) return { found: near, exact: false, sharing: 1 };
  for (let sharing = 2; sharing < runners.length; sharing++) {
    const found = nearBest(runners, sharing, atLeast);
    if (found) return { found, exact: false, sharing };
  }
  return undefined;
}

const breathsOf = ({ breaths }: Found): number => breaths.reduce((sum, own) => sum + own.length, 0);

/** Marks of one player, with what is known of his air at each. */
function marksOf(runner: Runner, moments: readonly number[], { line }: Breathing): BreathMark[] {
  const reasons = new Map(breathCandidates(line).map((candidate) => [candidate.afterEvent, candidate.reason]));
  const chosen = new Set(moments);
  const marks: BreathMark[] = [];
  let missing = 0;
  let since = 0;
  runner.moments.forEach((moment: Moment | undefined, m) => {
    if (!moment) return;
    const breathes = chosen.has(m);
    since += moment.play - (breathes ? moment.seconds : 0);
    if (breathes) {
      const note = line.events[moment.event] as LineEvent;
      const airLeft = Math.max(0, runner.lungs - missing - moment.play + moment.seconds);
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
    missing = after(missing, moment, runner.lungs, breathes) ?? runner.lungs;
    if (breathes || moment.rest) since = 0;
  });
  return marks;
}

/** Why a group has no plan: somebody's air lasts at no set of places, or there are too few places for all. */
export type TurnsFault = 'air-runs-out' | 'too-few-places';

/** A plan for the players of one group; each place serves one of them, or a few where there are too few places. */
export function breatheByTurns(group: readonly Breathing[], tempo: Beats): Turns | TurnsFault {
  const runners = runnersOf(group, tempo);
  const counts = leastAlone(runners);
  if (counts.includes(undefined)) return 'air-runs-out';
  const atLeast = counts.reduce<number>((sum, count) => sum + (count ?? 0), 0);
  const solved = solve(runners, atLeast);
  if (!solved) return 'too-few-places';
  const { found, exact, sharing } = solved;
  const marks = runners.map((runner, i) => marksOf(runner, found.breaths[i] as readonly number[], group[i] as Breathing));
  return { marks, breaths: breathsOf(found), atLeast, exact, sharing };
}
