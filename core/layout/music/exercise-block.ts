/** An exercise as a block to be put on pages: its heading, and its systems with the ink they need above and below. */

import { at, pairs } from '../../base/list.js';
import type { Pt } from '../../base/units.js';
import type { Score } from '../../engrave/bar.js';
import { barsOf } from '../../engrave/bars.js';
import { drawSystem, type SystemSpec } from '../../engrave/draw/system.js';
import type { Drawing } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import { type PackedDrawing, packDrawing, unpackDrawing } from '../../engrave/packed.js';
import { type ScoreShape, shapeScore } from '../../engrave/shape.js';
import { STYLE } from '../../engrave/style.js';
import type { Line } from '../../player/line.js';
import { breakSystems, type SystemBreak } from './systems.js';

export type SystemPlan = {
  readonly spec: SystemSpec;
  readonly breaks: SystemBreak;
  /** Ink above the top staff line and below it, in points, both positive. */
  readonly above: Pt;
  readonly below: Pt;
};

export type ExerciseBlock = {
  /** Points per staff space. */
  readonly scale: Pt;
  readonly systems: readonly SystemPlan[];
  /** Least distance from top line to top line, between each system and the next. */
  readonly steps: readonly Pt[];
  /** Of each system. */
  readonly drawings: readonly PackedDrawing[];
  draw(system: number): Drawing;
};

/** Outline of the ink, column by column: y in spaces from the top line. */
export type Profile = { readonly tops: Float64Array; readonly bottoms: Float64Array };

/** Width of a column of the outline in staff spaces. */
const COLUMN = 1;

export function profileOf(drawing: Drawing, columns: number): Profile {
  const tops = new Float64Array(columns);
  const bottoms = new Float64Array(columns).fill(4);
  for (const { box } of drawing.marks) {
    // One column more on each side: ink of two systems keeps its distance sideways too.
    const to = Math.min(columns - 1, Math.floor(box.x1 / COLUMN) + 1);
    for (let i = Math.max(0, Math.floor(box.x0 / COLUMN) - 1); i <= to; i++) {
      if (box.y0 < (tops[i] ?? 0)) tops[i] = box.y0;
      if (box.y1 > (bottoms[i] ?? 4)) bottoms[i] = box.y1;
    }
  }
  return { tops, bottoms };
}

/** Least step from top line to top line and least air between ink, in spaces. */
export type Air = { readonly leastStep: number; readonly ink: number };

/** Least distance in spaces from top line to top line at which the ink of two systems keeps its air. */
export function leastStep(upper: Profile, lower: Profile, { leastStep: least, ink }: Air = SYSTEM_AIR): number {
  let step: number = least;
  upper.bottoms.forEach((bottom, i) => {
    step = Math.max(step, bottom - (lower.tops[i] ?? 0) + ink);
  });
  return step;
}

/** Distances between systems in staff spaces (air: Ross pp. 64–68; staff to staff at least 4, Gould p. 488; the rest house). */
export const SYSTEM_AIR = { ink: 1, leastStep: 8.6, most: 5 } as const;

/** Shapes are cheap to make again and large to keep: only the last is held, for systems drawn in order. */
export function shapeCache(fonts: Fonts, breathsOf: (line: Line) => Score['breaths']): (line: Line) => ScoreShape {
  let last: ScoreShape | undefined;
  return (line) => {
    if (last?.line !== line) last = shapeScore(line, barsOf(line, breathsOf(line)), fonts);
    return last;
  };
}

/** On its own, so that no closure of the block keeps the shape alive. */
function planSystems(shape: ScoreShape, width: Pt, scale: Pt, told: readonly SystemBreak[] | undefined): SetSystems {
  const spaces = width / scale;
  const profiles: Profile[] = [];
  const drawings: PackedDrawing[] = [];
  const systems = (told ?? breakSystems(shape, spaces)).map((breaks): SystemPlan => {
    const spec = { from: breaks.from, to: breaks.to, width: breaks.justified ? spaces : undefined };
    const drawing = drawSystem(shape, spec);
    profiles.push(profileOf(drawing, Math.ceil(spaces / COLUMN) + 1));
    drawings.push(packDrawing(drawing));
    return { spec, breaks, above: -drawing.top * scale, below: drawing.bottom * scale };
  });
  const steps = pairs(profiles).map(([upper, lower]): Pt => leastStep(upper, lower) * scale);
  return { systems, steps, drawings };
}

/** Systems that are planned and drawn already: plain data. */
export type SetSystems = Pick<ExerciseBlock, 'systems' | 'steps' | 'drawings'>;

/** Breaks or whole systems that an exercise is told to take. */
export type Told = readonly SystemBreak[] | SetSystems;

/** Sets an exercise over a width in points, as told or as is best. Pure but for the cache it is handed. */
export function exerciseBlock(
  line: Line,
  width: Pt,
  scale: Pt,
  shapeOf: (line: Line) => ScoreShape,
  fonts: Fonts,
  told?: Told,
): ExerciseBlock {
  const set = told && 'systems' in told ? told : planSystems(shapeOf(line), width, scale, told);
  return packedBlock(set, scale, fonts);
}

/** On its own too: a long book is not to hold its lines. */
const packedBlock = ({ systems, steps, drawings }: SetSystems, scale: Pt, fonts: Fonts): ExerciseBlock => ({
  scale,
  systems,
  steps,
  drawings,
  draw: (i) => unpackDrawing(at(drawings, i), fonts),
});

/** Heights of systems [from, to) from the first top line to below the last bottom line, at least distances. */
export function stackHeight(block: ExerciseBlock, from = 0, to = block.systems.length): Pt {
  const steps = block.steps.slice(from, to - 1).reduce((a, b) => a + b, 0);
  return at(block.systems, from).above + steps + Math.max(at(block.systems, to - 1).below, (4 + STYLE.wordsToStaff) * block.scale);
}
