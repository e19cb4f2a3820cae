/** The route: every statement of an exercise in the order it is played. */
import type { ConcertKey } from '../theory/key.js';
import type { Direction, Directions, Exercise } from './exercise.js';

/** The figure once, in one key, in one direction. */
export type Statement = {
  readonly index: number;
  readonly pass: 1 | 2;
  readonly key: ConcertKey;
  readonly direction: Direction;
  /** Number of the key in the key order, from 0; the same in both passes. */
  readonly keyIndex: number;
  /** Number of the set that the key belongs to, from 0. */
  readonly set: number;
};

export type Route = {
  readonly statements: readonly Statement[];
  /** Index of the first statement of the second pass; undefined with one pass. */
  readonly turnaround: number | undefined;
  /** Key of the closing note, when there is one. */
  readonly endingKey: ConcertKey | undefined;
};

export type RoutePlan = Pick<Exercise, 'order' | 'directions' | 'passes' | 'turnaround' | 'ending'>;

/** Name of a key in a set of keys to be left out: `10major`. */
export const keyId = (key: ConcertKey): string => `${key.chroma}${key.mode}`;

export const opposite = (direction: Direction): Direction => (direction === 'up' ? 'down' : 'up');

/** Direction of the statement at this place (from 0) of the first pass. */
function directionAt(directions: Directions, place: number): Direction {
  if (directions === 'up' || directions === 'down') return directions;
  const first: Direction = directions === 'alternate-from-up' ? 'up' : 'down';
  return place % 2 === 0 ? first : opposite(first);
}

/**
 * Lays out the statements. Directions go by the place in the first pass, after keys are left out; the second pass
 * plays each key the other way. `restart` begins it at the first key; `repeat-last-key` begins it on the key that
 * ended the first pass and goes on from the first key. `firstChroma` (0 to 11 above C) is the key that the order
 * begins on; `leftOut` names keys by `keyId`. When every key is left out, the route is empty.
 */
export function planRoute(plan: RoutePlan, firstChroma: number, leftOut: ReadonlySet<string> = new Set()): Route {
  const { order } = plan;
  const first = order.keys
    .map(({ chroma, mode }, keyIndex) => ({
      key: { chroma: (((firstChroma + chroma) % 12) + 12) % 12, mode },
      keyIndex,
      set: Math.floor(keyIndex / order.setSize),
    }))
    .filter(({ key }) => !leftOut.has(keyId(key)))
    .map((stop, place) => ({ ...stop, pass: 1 as 1 | 2, direction: directionAt(plan.directions, place) }));
  const returning = first.map((stop) => ({ ...stop, pass: 2 as const, direction: opposite(stop.direction) }));
  const second = plan.turnaround === 'repeat-last-key' ? [...returning.slice(-1), ...returning.slice(0, -1)] : returning;
  const stops = plan.passes === 2 ? [...first, ...second] : first;
  const statements = stops.map((stop, index) => ({ index, ...stop }));
  const ending = { none: undefined, 'long-root': statements.at(-1)?.key, 'back-to-first-root': statements[0]?.key };
  return {
    statements,
    turnaround: plan.passes === 2 && first.length > 0 ? first.length : undefined,
    endingKey: ending[plan.ending],
  };
}
