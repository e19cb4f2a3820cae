/** Register plans of an ensemble: each part for itself, but for chairs that are bound in unison or at the octave. */

import { type Issue, warning } from '../base/issue.js';
import { at, first, zip } from '../base/list.js';
import type { Exercise } from '../exercise/exercise.js';
import type { Statement } from '../exercise/route.js';
import { listText, type Option } from '../player/fit.js';
import type { Player } from '../player/player.js';
import { keyNumbers } from '../player/realise.js';
import { planRegister } from '../player/register-plan.js';
import { midi, type Pitch } from '../theory/pitch.js';
import type { Bond, Chair } from './ensemble.js';

/** One statement, and the places where a part can play it. */
type Stop = { readonly statement: Statement; readonly options: readonly Option[] };

/** A part before its octaves are chosen. */
export type PartPlaces = { readonly chair: Chair; readonly player: Player; readonly stops: readonly Stop[] };

const sounding = (root: Pitch, player: Player): number => midi(root) + player.instrument.transposition.semitones;

function planAlone(exercise: Exercise, { stops, player }: PartPlaces): Pitch[] {
  const choices = stops.map(({ statement, options }) => options.map((option) => keyNumbers(option, statement)));
  const picks = planRegister(choices, { contour: exercise.contour, compass: player.compass, fromLowest: false });
  return zip(stops, picks).map(([{ options }, pick]) => at(options, pick).root);
}

/** Octaves between a follower and its leader, in the order they are tried. */
const OFFSETS: Readonly<Record<Bond['distance'], readonly number[]>> = { unison: [0], octave: [-12, 12, -24, 24, -36, 36] };

/** A chair bound to a leader: so many semitones above the leader's sounding pitch, with its stops beside the leader's. */
type Follower = { readonly part: PartPlaces; readonly offset: number };

/** The part can sound the pitch in this statement. */
const canSound = ({ player }: PartPlaces, { options }: Stop, wanted: number): boolean =>
  options.some(({ root }) => sounding(root, player) === wanted);

/** In how many statements the leader has a place where the follower is so many semitones from him. */
const shared = (leader: PartPlaces, follower: PartPlaces, offset: number): number =>
  zip(leader.stops, follower.stops).filter(([{ options }, stop]) =>
    options.some(({ root }) => canSound(follower, stop, sounding(root, leader.player) + offset)),
  ).length;

/** The offset that serves the most statements; of equals the first. */
function bestOffset(leader: PartPlaces, follower: PartPlaces, distance: Bond['distance']): number {
  const ranked = OFFSETS[distance].map((offset) => ({ offset, count: shared(leader, follower, offset) }));
  return ranked.reduce((a, b) => (b.count > a.count ? b : a)).offset;
}

/** The follower's places nearest to where the leader puts it. */
function follow({ part, offset }: Follower, leader: PartPlaces, lead: readonly Pitch[]): Pitch[] {
  return zip(part.stops, lead).map(([{ options }, root]): Pitch => {
    const wanted = sounding(root, leader.player) + offset;
    const far = (option: Option) => Math.abs(sounding(option.root, part.player) - wanted);
    return options.reduce((a, b) => (far(b) < far(a) ? b : a)).root;
  });
}

type Bound = { readonly roots: readonly (readonly [PartPlaces, readonly Pitch[]])[]; readonly issues: readonly Issue[] };

/**
 * Bound chairs: the leader chooses among those of its places where all others can follow. Where there is none the others
 * take the nearest octave, and a warning `bond-broken` says so.
 */
function planBond(exercise: Exercise, members: readonly PartPlaces[], distance: Bond['distance']): Bound {
  const leader = first(members);
  const followers = members.slice(1).map((part): Follower => ({ part, offset: bestOffset(leader, part, distance) }));
  let broken = 0;
  const stops = leader.stops.map((stop, i): Stop => {
    const options = stop.options.filter(({ root }) =>
      followers.every(({ part, offset }) => canSound(part, at(part.stops, i), sounding(root, leader.player) + offset)),
    );
    if (options.length > 0) return { ...stop, options };
    broken++;
    return stop;
  });
  const lead = planAlone(exercise, { ...leader, stops });
  const roots = [[leader, lead] as const, ...followers.map((one) => [one.part, follow(one, leader, lead)] as const)];
  if (broken === 0) return { roots, issues: [] };
  const names = listText(members.map(({ chair }) => chair.name));
  const manner = distance === 'unison' ? 'in unison' : 'at one octave';
  const words = `${names} cannot stay ${manner} throughout "${exercise.title || exercise.id}": in ${broken} of ${lead.length} statements they are another octave apart. Widen a compass, or take the bond away.`;
  return { roots, issues: [warning('bond-broken', [], words)] };
}

/** The parts with the written roots of their statements. */
export function planRegisters<Part extends PartPlaces>(
  exercise: Exercise,
  parts: readonly Part[],
  bonds: readonly Bond[],
): { readonly parts: readonly (Part & { readonly roots: readonly Pitch[] })[]; readonly issues: readonly Issue[] } {
  const bound = bonds.flatMap(({ chairs, distance }): Bound[] => {
    const members = chairs.flatMap((id) => parts.find(({ chair }) => chair.id === id) ?? []);
    return members.length < 2 ? [] : [planBond(exercise, members, distance)];
  });
  const roots = new Map(bound.flatMap((bond) => bond.roots));
  return {
    parts: parts.map((part) => ({ ...part, roots: roots.get(part) ?? planAlone(exercise, part) })),
    issues: bound.flatMap(({ issues }) => issues),
  };
}
