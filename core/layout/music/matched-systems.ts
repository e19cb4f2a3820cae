/** Systems that all parts of an ensemble share: broken where every part fits, as evenly as can be over all of them. */

import { assert, type Issue, warning } from '../../base/issue.js';
import { first, zip } from '../../base/list.js';
import type { ScoreShape } from '../../engrave/shape.js';
import { fixedWidths, measureBars } from '../../engrave/spacing.js';
import { listText } from '../../player/fit.js';
import { barPenalties, breakTogether, type PartBars, type SystemBreak } from './systems.js';

/** A part and the width of its systems in its own staff spaces. */
export type PartShape = { readonly shape: ScoreShape; readonly spaces: number };

const barsIn = ({ shape, spaces }: PartShape): PartBars => ({ measures: measureBars(shape), fixed: fixedWidths(shape), width: spaces });

/**
 * The parts with their systems of one exercise: the same bars in each, and each part's own spacing of them. Every part has
 * the same bars, and statements end in the same ones.
 */
export function matchedBreaks<Part extends PartShape>(parts: readonly Part[]): (Part & { readonly breaks: readonly SystemBreak[] })[] {
  const { shape } = first(parts);
  assert(
    parts.every((part) => part.shape.bars.length === shape.bars.length),
    'all parts of an ensemble have the same bars',
  );
  return zip(parts, breakTogether(parts.map(barsIn), barPenalties(shape))).map(([part, breaks]) => ({ ...part, breaks }));
}

/**
 * One warning `uneven-systems` for all parts, with the systems of each that are uneven; none where all are even. `title` is
 * that of the exercise, and `name` says whose the part is. A bar wider than its page is told of with the part itself.
 */
export function unevenIssues(title: string, parts: readonly { readonly name: string; readonly breaks: readonly SystemBreak[] }[]): Issue[] {
  const byName = new Map<string, Set<number>>();
  for (const { name, breaks } of parts) {
    const own = byName.get(name) ?? new Set();
    breaks.forEach(({ uneven = [] }, i) => {
      if (uneven.length > 0 && !uneven.includes('overfull')) own.add(i + 1);
    });
    if (own.size > 0) byName.set(name, own);
  }
  if (byName.size === 0) return [];
  const where = [...byName].map(([name, systems]) => `${name} (${[...systems].sort((a, b) => a - b).join(', ')})`);
  const words = `All parts of "${title}" break at the same bars, and no breaking is even in each. More open or tighter than is good, or than the one before, are these systems: ${listText(where)}. A smaller staff or a wider page for all chairs may help.`;
  return [warning('uneven-systems', [], words)];
}
