/** How high an exercise stands in one part or edition, as plain data: what its pages are filled and cut by. */

import { at } from '../../base/list.js';
import type { Pt } from '../../base/units.js';
import { STYLE } from '../../engrave/style.js';
import type { ExerciseBlock } from './exercise-block.js';
import type { ExerciseHeading } from './exercise-heading.js';

/** Heights of one exercise, in points. */
export type BlockHeights = {
  readonly heading: Pt;
  readonly foot: Pt;
  /** White under the last line of its foot, which a page may end without. */
  readonly tail: Pt;
  /** By system: ink above its top line; from its top line to below it. */
  readonly above: readonly Pt[];
  readonly below: readonly Pt[];
  /** Least distances from each top line to the next. */
  readonly steps: readonly Pt[];
  /** Points per staff space. */
  readonly scale: Pt;
};

/** Systems [from, to) of an exercise, which stand on one page. */
export type Cut = { readonly from: number; readonly to: number };

type Measured = {
  readonly block: Pick<ExerciseBlock, 'systems' | 'steps' | 'scale'>;
  readonly heading: Pick<ExerciseHeading, 'height'>;
  readonly foot?: Pick<ExerciseHeading, 'height' | 'tail'>;
};

export function blockHeights({ block, heading, foot }: Measured): BlockHeights {
  const least = (4 + STYLE.wordsToStaff) * block.scale;
  return {
    heading: heading.height,
    foot: foot?.height ?? 0,
    tail: foot?.tail ?? 0,
    above: block.systems.map((system) => system.above),
    below: block.systems.map((system) => Math.max(system.below, least)),
    steps: block.steps,
    scale: block.scale,
  };
}

export const wholeOf = ({ above }: BlockHeights): Cut => ({ from: 0, to: above.length });

/** Height of these systems at least distances, with the heading or the foot that goes with them. */
export function heightOf({ heading, foot, above, below, steps }: BlockHeights, { from, to }: Cut): Pt {
  const own = steps.slice(from, to - 1).reduce((sum, step) => sum + step, 0);
  const stack = at(above, from) + own + at(below, to - 1);
  return (from === 0 ? heading : 0) + stack + (to === above.length ? foot : 0);
}

/** White at the foot of these systems. */
export const tailOf = ({ above, tail }: BlockHeights, { to }: Cut): Pt => (to === above.length ? tail : 0);

/** How much more height these systems take at this distance in staff spaces. */
export function opensBy({ steps, scale }: BlockHeights, { from, to }: Cut, step: number): Pt {
  return steps.slice(from, to - 1).reduce((sum, least) => sum + Math.max(0, step * scale - least), 0);
}
