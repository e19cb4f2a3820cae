/** The inputs of the rules: a drawn system in its place, and the systems of one exercise with its line. */

import type { Pt } from '../base/units.js';
import type { Mark } from '../engrave/drawing.js';
import type { Fonts } from '../engrave/metrics.js';
import type { Line } from '../player/line.js';
import type { Fault, Measured, RuleNumber, Spot } from './fault.js';
import { fault } from './fault.js';
import type { SystemReading } from './read-system.js';

export type PlacedSystem = {
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
  /** Index of its page in the document. */
  readonly page: number;
};

export type PlacedExercise = {
  /** Keys of its order that were not wanted. */
  readonly unwanted?: number | undefined;
  readonly spot: Spot;
  readonly line: Line;
  readonly systems: readonly PlacedSystem[];
};

/** A fault of a system; `bar` counts the barlines left of it in the system. */
export function systemFault(rule: RuleNumber, at: PlacedSystem, bar: number | undefined, what: string, measured?: Measured): Fault {
  return fault(rule, bar === undefined ? at.spot : { ...at.spot, bar: at.firstBar + bar + 1 }, what, measured);
}

/** Bar of the system in which this x lies. */
export const barAtX = (at: PlacedSystem, x: number): number => at.reading.barlines.filter((b) => b.x1 <= x).length;

/** What a mark is called in a sentence. */
export const nameOf = (mark: Mark): string => (mark.kind === 'text' ? `${mark.role} "${mark.text}"` : mark.role);

export type SystemRule = (at: PlacedSystem, fonts: Fonts) => Fault[];
export type ExerciseRule = (exercise: PlacedExercise) => Fault[];

export const round = (value: number, digits = 2): number => Math.round(value * 10 ** digits) / 10 ** digits;
