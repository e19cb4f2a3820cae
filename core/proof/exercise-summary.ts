/** An exercise as one part has it, in short: what is compared between systems, and between the parts of an ensemble. */

import { barsOf } from '../engrave/bars.js';
import type { Fonts } from '../engrave/metrics.js';
import { shapeScore } from '../engrave/shape.js';
import { fixedWidths, measureBars } from '../engrave/spacing.js';
import { breathMarks } from '../layout/matter/breathing-pages.js';
import type { Line } from '../player/line.js';
import { factorOf, ratioOf } from './advances.js';
import type { Spot } from './fault.js';
import type { Bars } from './least-uneven.js';
import { fillsWidth, type PlacedExercise } from './placed-system.js';
import type { Breathing } from './proved-edition.js';

export type SystemSummary = {
  readonly spot: Spot;
  /** Number of bars of the exercise before this system. */
  readonly firstBar: number;
  readonly barCount: number;
  readonly filled: boolean;
  /** How far its springs are opened: 0 natural, -1 tightest, 1 as open as the style likes; undefined where all is set by ink. */
  readonly ratio: number | undefined;
};

export type ExerciseSummary = {
  readonly systems: readonly SystemSummary[];
  /** Its bars as they can be broken. Made anew each time: asked for only where something is uneven. */
  readonly bars: () => Bars;
};

/** The bars of an exercise as they can be broken over a width in staff spaces. */
function barsIn(line: Line, width: number, fonts: Fonts, breathing: Breathing | undefined): Bars {
  const shape = shapeScore(line, barsOf(line, breathMarks(breathing)), fonts);
  return { measures: measureBars(shape), fixed: fixedWidths(shape), width };
}

export function summaryOf({ line, systems }: PlacedExercise, breathing: Breathing | undefined, fonts: Fonts): ExerciseSummary {
  const summaries = systems.map((at): SystemSummary => {
    const factor = factorOf(at.advances);
    const ratio = factor === undefined ? undefined : ratioOf(factor);
    return { spot: at.spot, firstBar: at.firstBar, barCount: at.reading.barlines.length, filled: fillsWidth(at), ratio };
  });
  const [first] = systems;
  const width = first ? (first.right - first.left) / first.scale : 0;
  return { systems: summaries, bars: () => barsIn(line, width, fonts, breathing) };
}
