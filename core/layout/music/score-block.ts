/** An exercise in score: its systems, with the distances between staves that their ink needs. */

import { first, last, mustGet, pairs } from '../../base/list.js';
import type { Pt } from '../../base/units.js';
import { drawScoreSystem, drawStaves, nameWidth, type StackSpec, type StaffSpan } from '../../engrave/draw/score.js';
import type { Drawing } from '../../engrave/drawing.js';
import { inkFor } from '../../engrave/ink.js';
import type { Fonts } from '../../engrave/metrics.js';
import { type PackedDrawing, packDrawing } from '../../engrave/packed.js';
import { type StackShape, stackFixed } from '../../engrave/score-spacing.js';
import { type Measure, measureBar } from '../../engrave/spacing.js';
import { leastStep, profileOf } from './exercise-block.js';
import { barPenalties, breakMeasures, type SystemBreak } from './systems.js';

/** Who stands on which staff of the score. */
export type ScoreStaves = {
  /** Full names before the first system of an exercise, short ones before the others. */
  readonly names: readonly string[];
  readonly shorts: readonly string[];
  readonly sections: readonly StaffSpan[];
  readonly groups: readonly StaffSpan[];
};

/** Distances in staff spaces: least step from staff to staff, air between their ink, more between sections, and how far a step may open (house). */
export const STAFF_AIR = { leastStep: 7, ink: 0.8, section: 1.2, most: 8.5 } as const;

/** Plain data: systems are set and drawn once, on whatever thread, and put together on their page. */
export type ScoreSystem = {
  readonly spec: StackSpec;
  /** From the top down; staves that play the same share one. */
  readonly staves: readonly PackedDrawing[];
  /** Least distances from top line to top line, in spaces. */
  readonly steps: readonly number[];
  /** Ink above the top staff and below the top line of the last one, in spaces, both positive. */
  readonly above: number;
  readonly below: number;
};

/** Least height of a system in spaces. */
export const systemHeight = ({ steps, above, below }: ScoreSystem): number => steps.reduce((a, b) => a + b, 0) + above + below;

/** Room left of the staves before the first system and before the others, in spaces. */
export function indents(staves: ScoreStaves, fonts: Fonts): { readonly first: number; readonly later: number } {
  const ink = inkFor(0, fonts);
  return { first: nameWidth(staves.names, staves.groups, ink), later: nameWidth(staves.shorts, staves.groups, ink) };
}

/** Below this share of the width a system is left at natural width (house). */
const SHORTEST = 0.55;

/** As few systems as the width allows, of like length: so each can fill the width, the last one too. */
function evenBreaks(
  measures: readonly Measure[],
  fixed: (from: number, to: number) => number,
  penalties: readonly number[],
  width: number,
): SystemBreak[] {
  let best = breakMeasures(measures, fixed, penalties, width);
  const count = best.length;
  for (let share = 0.97; share > 0.4 && count > 1; share -= 0.03) {
    const narrower = breakMeasures(measures, fixed, penalties, share * width);
    if (narrower.length > count) break;
    best = narrower;
  }
  return best;
}

/** Systems of an exercise over a width in spaces, names included. */
export function scoreSystems(stack: StackShape, score: ScoreStaves, width: number, fonts: Fonts): ScoreSystem[] {
  const indent = indents(score, fonts);
  const fixed = (from: number, to: number): number => stackFixed(stack, from, to) + (from === 0 ? indent.first - indent.later : 0);
  const sectionStarts = new Set(score.sections.map(({ from }) => from));
  const measures = stack.bars.map(measureBar);
  const naturalOf = (from: number, to: number): number =>
    measures.slice(from, to).reduce((sum, bar) => sum + bar.natural, stackFixed(stack, from, to));
  return evenBreaks(measures, fixed, barPenalties(first(stack.staves)), width - indent.later).map(({ from, to }): ScoreSystem => {
    const own = width - (from === 0 ? indent.first : indent.later);
    const justified = naturalOf(from, to) >= SHORTEST * own;
    const spec: StackSpec = {
      from,
      to,
      width: justified ? own : undefined,
      names: from === 0 ? score.names : score.shorts,
      sections: score.sections,
      groups: score.groups,
    };
    const { drawings } = drawStaves(stack, spec);
    const distinct = [...new Set(drawings)];
    const profiles = new Map(distinct.map((drawing) => [drawing, profileOf(drawing, Math.ceil(own) + 1)]));
    const packed = new Map(distinct.map((drawing) => [drawing, packDrawing(drawing)]));
    const steps = pairs(drawings).map(([upper, lower], i) => {
      const step = leastStep(mustGet(profiles, upper), mustGet(profiles, lower), STAFF_AIR);
      return step + (sectionStarts.has(i + 1) ? STAFF_AIR.section : 0);
    });
    const staves = drawings.map((drawing) => mustGet(packed, drawing));
    return { spec, staves, steps, above: -first(drawings).top, below: last(drawings).bottom };
  });
}

/** The system with its steps opened by so many spaces each. */
export function drawSystemOpened({ spec, staves, steps }: ScoreSystem, opened: number, fonts: Fonts): Drawing {
  const offsets = [0];
  for (const step of steps) offsets.push(last(offsets) + step + opened);
  return drawScoreSystem(staves, spec, offsets, fonts);
}

/** A staff height at which whole systems of this height fill a page: the largest within the limits, in points per space. */
export function fittingScale(system: number, staves: number, room: Pt, heading: Pt, limits: { readonly least: Pt; readonly most: Pt }): Pt {
  for (let systems = 1; systems <= 8; systems++) {
    const scale = Math.min(limits.most, (room - heading) / (systems * (system + 2)));
    if (scale < limits.least) return systems === 1 ? scale : limits.least;
    const spare = room - heading - systems * (system + 2) * scale;
    const gaps = systems * (staves - 1) + (systems - 1);
    if (spare <= gaps * STAFF_AIR.most * scale) return scale;
  }
  return limits.most;
}
