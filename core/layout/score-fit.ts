/**
 * The size of the staves of a score. What a size asks for is set by whoever drives this, on as many threads as there are:
 * the fit says which exercises it wants to see at which size, and is handed their systems.
 */

import { at, mustGet } from '../base/list.js';
import { type Mm, type Pt, spaceOf } from '../base/units.js';
import { STYLE } from '../engrave/style.js';
import { fittingScale, type ScoreSystem, systemHeight } from './music/score-block.js';
import { bodyOf, type Setting } from './page/geometry.js';

/** Ids of exercises that are wanted at so many points per staff space. */
export type ScoreRequest = { readonly exercises: readonly string[]; readonly scale: Pt };

/** Systems by the exercise's id. Plain data. */
export type SystemsById = ReadonlyMap<string, readonly ScoreSystem[]>;

/** An exercise, and the height of the heading over its first system. */
export type ScoreHeading = { readonly id: string; readonly height: Pt };

/** Systems of every exercise of a score, and the points per staff space at which they were set. Plain data. */
export type FittedScore = { readonly scale: Pt; readonly systems: SystemsById };

/** Sets what is asked for: the systems of each exercise of the request. */
export type ScoreFit = Generator<ScoreRequest, FittedScore, SystemsById>;

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
function spread<T extends object>(items: readonly T[], most: number): T[] {
  const count = Math.min(items.length, most);
  return Array.from({ length: count }, (_, i) => at(items, count === 1 ? 0 : Math.round((i * (items.length - 1)) / (count - 1))));
}

const idsOf = (headings: readonly ScoreHeading[]): string[] => headings.map(({ id }) => id);

/**
 * `headings`: those of all exercises; `staves`: how many; `staff`: a height that is asked for. Without one, the largest size at which every system fits the page and the tallest fill it well.
 */
export function* fitScore(
  headings: readonly ScoreHeading[],
  staves: number,
  staff: Mm | undefined,
  { geometry, styles }: Setting,
): ScoreFit {
  const room = bodyOf(geometry, styles).height;
  const limits = { least: spaceOf(STAFF_LIMITS.least), most: spaceOf(STAFF_LIMITS.most) };
  const heading = Math.max(0, ...headings.map(({ height }) => height));

  function sizeFor(exercises: readonly ScoreHeading[], systems: SystemsById, safety: number): Pt {
    let tallest = 0;
    let most: number = limits.most;
    for (const exercise of exercises)
      for (const [s, system] of mustGet(systems, exercise.id).entries()) {
        const height = (systemHeight(system) + STYLE.wordsToStaff) / safety;
        tallest = Math.max(tallest, height);
        most = Math.min(most, (room - (s === 0 ? exercise.height : 0)) / height);
      }
    return fittingScale(tallest, staves, room, heading, { least: Math.min(limits.least, most), most });
  }

  let scale = staff === undefined ? limits.least : spaceOf(staff);
  if (staff === undefined) {
    const some = spread(headings, SAMPLE);
    scale = sizeFor(some, yield { exercises: idsOf(some), scale }, SAFETY);
  }
  for (let round = 0; ; round++) {
    const systems = yield { exercises: idsOf(headings), scale };
    const tallest = Math.max(
      ...headings.flatMap(({ id, height }) => mustGet(systems, id).map((it, s) => rowHeight(it, s === 0 ? height : 0, scale))),
    );
    // Narrower staves may break otherwise, so it is looked at again.
    const wanted = tallest > room ? (SAFETY * scale * room) / tallest : staff === undefined ? sizeFor(headings, systems, 1) : scale;
    if (round === ROUNDS || (tallest <= room && wanted >= NEAR * scale)) return { scale, systems };
    scale = Math.min(scale, wanted);
  }
}
