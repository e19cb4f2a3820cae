/**
 * The size of the staves of a score. What a size asks for is set by whoever drives this, on as many threads as there are:
 * the fit says which exercises it wants to see at which size, and is handed their systems.
 */

import { type Mm, type Pt, spaceOf } from '../base/units.js';
import { STYLE } from '../engrave/style.js';
import { fittingScale, type ScoreSystem, systemHeight } from './music/score-block.js';
import { bodyOf, type Setting } from './page/geometry.js';

/** Exercises, by place in the score, at so many points per staff space. */
export type ScoreRequest = { readonly exercises: readonly number[]; readonly scale: Pt };

/** Systems of every exercise of a score, and the points per staff space at which they were set. Plain data. */
export type FittedScore = { readonly scale: Pt; readonly systems: readonly (readonly ScoreSystem[])[] };

/** Sets what is asked for: the systems of each exercise, in the order of the request. */
export type ScoreFit = Generator<ScoreRequest, FittedScore, readonly (readonly ScoreSystem[])[]>;

/** Staff height of a score within which a size is chosen: not below that of a full score (Gould, second-hand: 3.7 mm). */
const STAFF_LIMITS = { least: 3.7, most: 6 } as const;

/** Exercises that are looked at first. */
const SAMPLE = 8;

/** Systems are looked at in one size and set in another, where their bars may break otherwise: room for that. */
const SAFETY = 0.975;

/** A size this near to the one that is wanted is kept. */
const NEAR = 0.99;

/** Times that a size is mended. */
const ROUNDS = 6;

/** Height of a row in points, heading included. */
export const rowHeight = (system: ScoreSystem, heading: Pt, scale: Pt): Pt => heading + (systemHeight(system) + STYLE.wordsToStaff) * scale;

/** So many of them, evenly spread, the first and the last among them. */
function spread(total: number, most: number): number[] {
  const count = Math.min(total, most);
  return Array.from({ length: count }, (_, i) => (count === 1 ? 0 : Math.round((i * (total - 1)) / (count - 1))));
}

/**
 * `headings`: heights over the first system of each exercise; `staves`: how many; `staff`: a height that is asked for. Without
 * one, the largest size at which every system fits the page and the tallest fill it well.
 */
export function* fitScore(headings: readonly Pt[], staves: number, staff: Mm | undefined, { geometry, styles }: Setting): ScoreFit {
  const room = bodyOf(geometry, styles).height;
  const limits = { least: spaceOf(STAFF_LIMITS.least), most: spaceOf(STAFF_LIMITS.most) };
  const heading = Math.max(0, ...headings);

  function sizeFor(exercises: readonly number[], systems: readonly (readonly ScoreSystem[])[], safety: number): Pt {
    let tallest = 0;
    let most: number = limits.most;
    exercises.forEach((exercise, i) => {
      systems[i]?.forEach((system, s) => {
        const height = (systemHeight(system) + STYLE.wordsToStaff) / safety;
        tallest = Math.max(tallest, height);
        most = Math.min(most, (room - (s === 0 ? (headings[exercise] as Pt) : 0)) / height);
      });
    });
    return fittingScale(tallest, staves, room, heading, { least: Math.min(limits.least, most), most });
  }

  const all = headings.map((_, i) => i);
  let scale = staff === undefined ? limits.least : spaceOf(staff);
  if (staff === undefined) {
    const exercises = spread(all.length, SAMPLE);
    scale = sizeFor(exercises, yield { exercises, scale }, SAFETY);
  }
  for (let round = 0; ; round++) {
    const systems = yield { exercises: all, scale };
    const tallest = Math.max(...systems.flatMap((own, i) => own.map((it, s) => rowHeight(it, s === 0 ? (headings[i] as Pt) : 0, scale))));
    // Narrower staves may break otherwise, so it is looked at again.
    const wanted = tallest > room ? (SAFETY * scale * room) / tallest : staff === undefined ? sizeFor(all, systems, 1) : scale;
    if (round === ROUNDS || (tallest <= room && wanted >= NEAR * scale)) return { scale, systems };
    scale = Math.min(scale, wanted);
  }
}
