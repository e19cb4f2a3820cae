/** Systems that all parts of a set share: each bar as wide as in the part that needs the most room for it. */

import { fullHeaderWidth } from '../engrave/header.js';
import type { ScoreShape } from '../engrave/shape.js';
import { courtesyWidth, type Measure, measureBars } from '../engrave/spacing.js';
import { assert } from '../issue.js';
import { barPenalties, breakMeasures, type SystemBreak } from './systems.js';

/** A part and the width of its systems in its own staff spaces. */
export type PartShape = { readonly shape: ScoreShape; readonly spaces: number };

/** Widths of a part's bars as shares of its line, so that parts of different staff sizes can be compared. */
type Shares = {
  readonly bars: readonly Measure[];
  /** Header of a system that begins with this bar, without the bar's own lead. */
  readonly header: readonly number[];
  readonly change: readonly number[];
  /** Courtesy signature at the end of a system before this bar; one more than there are bars. */
  readonly courtesy: readonly number[];
};

function sharesOf({ shape, spaces }: PartShape): Shares {
  const { bars } = shape;
  return {
    bars: measureBars(shape).map((measure) => eachWidth((name) => measure[name] / spaces)),
    header: bars.map((bar, i) => (fullHeaderWidth(shape, i) - bar.lead) / spaces),
    change: bars.map((bar) => bar.change / spaces),
    courtesy: Array.from({ length: bars.length + 1 }, (_, i) => courtesyWidth(shape, i) / spaces),
  };
}

const eachWidth = (width: (name: keyof Measure) => number): Measure => ({
  natural: width('natural'),
  open: width('open'),
  tight: width('tight'),
  halfOpen: width('halfOpen'),
  halfTight: width('halfTight'),
  wideOpen: width('wideOpen'),
  least: width('least'),
});

const widest = (a: Measure, b: Measure): Measure => eachWidth((name) => Math.max(a[name], b[name]));

const most = (a: readonly number[], b: readonly number[]): number[] => a.map((value, i) => Math.max(value, b[i] as number));

/** The systems of one exercise for all its parts. Every part has the same bars. */
export function matchedBreaks(parts: readonly PartShape[]): SystemBreak[] {
  const [first, ...others] = parts.map(sharesOf);
  assert(first, 'a set has a part');
  assert(
    others.every((other) => other.bars.length === first.bars.length),
    'all parts of a set have the same bars',
  );
  const { bars, header, change, courtesy } = others.reduce(
    (a, b): Shares => ({
      bars: a.bars.map((bar, i) => widest(bar, b.bars[i] as Measure)),
      header: most(a.header, b.header),
      change: most(a.change, b.change),
      courtesy: most(a.courtesy, b.courtesy),
    }),
    first,
  );
  const fixed = (from: number, to: number): number => {
    let width = (header[from] as number) + (courtesy[to] as number);
    for (let i = from + 1; i < to; i++) width += change[i] as number;
    return width;
  };
  return breakMeasures(bars, fixed, barPenalties((parts[0] as PartShape).shape), 1);
}
