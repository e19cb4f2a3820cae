/** The outline of the ink above and below a staff, in columns of a quarter space, so that each new layer can be set clear of it. */
import type { Box } from './drawing.js';

export type Skyline = {
  add(box: Box): void;
  /** Highest ink (smallest y) between two x; the staff's top line where there is none. */
  top(x0: number, x1: number): number;
  /** Lowest ink (largest y) between two x; the staff's bottom line where there is none. */
  bottom(x0: number, x1: number): number;
  /** Highest and lowest ink, staff lines left out: infinite where there is none. */
  highest(x0: number, x1: number): number;
  lowest(x0: number, x1: number): number;
};

const COLUMNS = 4;
/** Room for ink that stands left of the staff. */
const MARGIN = 12;

export function skyline(width: number): Skyline {
  const count = Math.ceil((width + 2 * MARGIN) * COLUMNS) + 1;
  const tops = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const bottoms = new Float64Array(count).fill(Number.NEGATIVE_INFINITY);
  const first = (x: number): number => Math.max(0, Math.min(count - 1, Math.floor((x + MARGIN) * COLUMNS)));
  const last = (x: number): number => Math.max(0, Math.min(count - 1, Math.ceil((x + MARGIN) * COLUMNS) - 1));
  const highest = (x0: number, x1: number): number => {
    let y = Number.POSITIVE_INFINITY;
    const to = Math.max(first(x0), last(x1));
    for (let i = first(x0); i <= to; i++) y = Math.min(y, tops[i] as number);
    return y;
  };
  const lowest = (x0: number, x1: number): number => {
    let y = Number.NEGATIVE_INFINITY;
    const to = Math.max(first(x0), last(x1));
    for (let i = first(x0); i <= to; i++) y = Math.max(y, bottoms[i] as number);
    return y;
  };
  return {
    add(box) {
      const to = Math.max(first(box.x0), last(box.x1));
      for (let i = first(box.x0); i <= to; i++) {
        if (box.y0 < (tops[i] as number)) tops[i] = box.y0;
        if (box.y1 > (bottoms[i] as number)) bottoms[i] = box.y1;
      }
    },
    highest,
    lowest,
    top: (x0, x1) => Math.min(0, highest(x0, x1)),
    bottom: (x0, x1) => Math.max(4, lowest(x0, x1)),
  };
}
