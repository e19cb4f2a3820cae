/** Register plans of an ensemble: each part for itself, but for chairs that are bound in unison or at the octave. */

import { assert, type Issue, warning } from '../base/issue.js';
import type { Exercise } from '../exercise/exercise.js';
import type { Statement } from '../exercise/route.js';
import { listText, type Option } from '../player/fit.js';
import type { Player } from '../player/player.js';
import { keyNumbers } from '../player/realise.js';
import { planRegister } from '../player/register-plan.js';
import { midi, type Pitch } from '../theory/pitch.js';
import type { Bond, Chair } from './ensemble.js';

export type PartPlaces = {
  readonly chair: Chair;
  readonly player: Player;
  readonly stops: readonly { readonly statement: Statement; readonly options: readonly Option[] }[];
};

const sounding = (root: Pitch, player: Player): number => midi(root) + player.instrument.transposition.semitones;

function planAlone(exercise: Exercise, { stops, player }: PartPlaces): Pitch[] {
  const choices = stops.map(({ statement, options }) => options.map((option) => keyNumbers(option, statement)));
  const picks = planRegister(choices, { contour: exercise.contour, compass: player.compass, fromLowest: false });
  return stops.map(({ options }, i) => (options[picks[i] as number] as Option).root);
}

/** Octaves between a follower and its leader, in the order they are tried. */
const OFFSETS: Readonly<Record<Bond['distance'], readonly number[]>> = { unison: [0], octave: [-12, 12, -24, 24, -36, 36] };

/** The follower's option at this distance above a sounding pitch of the leader. */
const at = (part: PartPlaces, stop: number, wanted: number): Option | undefined =>
  part.stops[stop]?.options.find(({ root }) => sounding(root, part.player) === wanted);

/** In how many statements the leader has a place where the follower is so many semitones from him. */
function shared(leader: PartPlaces, follower: PartPlaces, offset: number): number {
  return leader.stops.filter(({ options }, i) => options.some(({ root }) => at(follower, i, sounding(root, leader.player) + offset)))
    .length;
}

/** The offset that serves the most statements; of equals the first. */
function bestOffset(leader: PartPlaces, follower: PartPlaces, distance: Bond['distance']): number {
  const ranked = OFFSETS[distance].map((offset) => ({ offset, count: shared(leader, follower, offset) }));
  return ranked.reduce((a, b) => (b.count > a.count ? b : a)).offset;
}

/**
 * Bound chairs: the leader chooses among those of its places where all others can follow. Where there is none the others
 * take the nearest octave, and a warning `bond-broken` says so.
 */
function planBond(exercise: Exercise, members: readonly PartPlaces[], distance: Bond['distance']): { roots: Pitch[][]; issues: Issue[] } {
  const [leader, ...others] = members;
  assert(leader, 'a bond has a leader');
  const offsets = others.map((other) => bestOffset(leader, other, distance));
  const broken = new Set<number>();
  const stops = leader.stops.map((stop, i) => {
    const options = stop.options.filter(({ root }) =>
      others.every((other, o) => at(other, i, sounding(root, leader.player) + (offsets[o] as number))),
    );
    if (options.length === 0) broken.add(i);
    return { ...stop, options: options.length > 0 ? options : stop.options };
  });
  const lead = planAlone(exercise, { ...leader, stops });
  const followed = others.map((other, o) =>
    other.stops.map(({ options }, i): Pitch => {
      const wanted = sounding(lead[i] as Pitch, leader.player) + (offsets[o] as number);
      const far = ({ root }: Option) => Math.abs(sounding(root, other.player) - wanted);
      return options.reduce((a, b) => (far(b) < far(a) ? b : a)).root;
    }),
  );
  if (broken.size === 0) return { roots: [lead, ...followed], issues: [] };
  const names = listText(members.map(({ chair }) => chair.name));
  const manner = distance === 'unison' ? 'in unison' : 'at one octave';
  const words = `${names} cannot stay ${manner} throughout "${exercise.title || exercise.id}": in ${broken.size} of ${lead.length} statements they are another octave apart. Widen a compass, or take the bond away.`;
  return { roots: [lead, ...followed], issues: [warning('bond-broken', [], words)] };
}

/** Written roots of every part's statements, in the order of the parts. */
export function planRegisters(
  exercise: Exercise,
  parts: readonly PartPlaces[],
  bonds: readonly Bond[],
): { roots: Pitch[][]; issues: Issue[] } {
  const roots: Pitch[][] = [];
  const issues: Issue[] = [];
  for (const { chairs, distance } of bonds) {
    const members = chairs.map((id) => parts.findIndex(({ chair }) => chair.id === id)).filter((i) => i >= 0);
    if (members.length < 2) continue;
    const bound = planBond(
      exercise,
      members.map((i) => parts[i] as PartPlaces),
      distance,
    );
    issues.push(...bound.issues);
    members.forEach((i, m) => {
      roots[i] = bound.roots[m] as Pitch[];
    });
  }
  parts.forEach((part, i) => {
    roots[i] ??= planAlone(exercise, part);
  });
  return { roots, issues };
}
