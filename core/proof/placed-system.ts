/** Systems in their places on the pages, as the rules see them, and the systems of one exercise with its line. */

import type { Pt } from '../base/units.js';
import type { Mark } from '../engrave/drawing.js';
import type { Line } from '../player/line.js';
import type { Advance } from './advances.js';
import { type Finding, finding, type Measured, type Spot } from './fault.js';
import type { SystemReading } from './read-system.js';
import { LIMIT } from './tolerance.js';

/** A drawing of music in its place: a system of an exercise, or an example in a text. */
export type PlacedDrawing = {
  readonly spot: Spot;
  readonly reading: SystemReading;
  /** Number of bars of the exercise before this system. */
  readonly firstBar: number;
  /** Left end of the top staff line on the page, and points per staff space. */
  readonly x: Pt;
  readonly y: Pt;
  readonly scale: Pt;
  /** Left and right edge of the text block of its page. */
  readonly left: Pt;
  readonly right: Pt;
};

export type PlacedSystem = PlacedDrawing & { readonly advances: readonly Advance[] };

export type PlacedExercise = {
  /** Keys of its order that were not wanted. */
  readonly unwanted?: number | undefined;
  readonly spot: Spot;
  readonly line: Line;
  readonly systems: readonly PlacedSystem[];
};

/** What is wrong in a system; `bar` counts the barlines left of it in the system. */
export function systemFinding(
  at: Pick<PlacedDrawing, 'spot' | 'firstBar'>,
  bar: number | undefined,
  what: string,
  measured?: Measured,
): Finding {
  return finding(bar === undefined ? at.spot : { ...at.spot, bar: at.firstBar + bar + 1 }, what, measured);
}

/** The system fills the width. */
export const fillsWidth = ({ x, reading, scale, right }: PlacedDrawing): boolean =>
  Math.abs(x + reading.staffRight * scale - right) <= LIMIT.width;

/** Bar of the system in which this x lies. */
export const barAtX = (at: PlacedDrawing, x: number): number => at.reading.barlines.filter((b) => b.x1 <= x).length;

/** What a mark is called in a sentence. */
export const nameOf = (mark: Mark): string => (mark.kind === 'text' ? `${mark.role} "${mark.text}"` : mark.role);

export const round = (value: number, digits = 2): number => Math.round(value * 10 ** digits) / 10 ** digits;
