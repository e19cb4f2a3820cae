/** Rules 17 and 18: spacing and width of systems. */

import type { Mark } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import { idealAdvance, STYLE } from '../../engrave/style.js';
import { toNumber } from '../../theory/fraction.js';
import { barLength } from '../../theory/metre.js';
import type { Fault } from '../fault.js';
import { inkOf, whiteBetween } from '../ink-shape.js';
import { type PlacedExercise, type PlacedSystem, round, systemFault } from '../placed-system.js';
import type { ReadEvent } from '../read-system.js';
import { drawnDuration } from '../replay.js';
import { LIMIT } from '../tolerance.js';
import { ratiosOf } from './reading.js';

/** Distance from one head to the next in the bar. */
export type Advance = {
  readonly bar: number;
  readonly duration: number;
  readonly width: number;
  /** The next column carries an accidental, which takes room of its own. */
  readonly signed: boolean;
  /** The ink leaves no more room to close up: the spring is not what sets this distance. */
  readonly bound: boolean;
};

/** Ink that can hold two columns apart: the signs of the notes, and the words centred on them. */
function columnInk(event: ReadEvent, at: PlacedSystem, right: number): Mark[] {
  const centre = (event.head.box.x0 + event.head.box.x1) / 2;
  const { marks } = at.reading.drawing;
  const own = event.kind === 'note' ? [event.stem?.mark, event.flag, event.accidental, ...event.ledgers] : [];
  const dots = marks.filter((m) => m.role === 'dot' && m.box.x0 > event.head.box.x1 - 0.01 && m.box.x1 < right);
  return [
    event.head,
    ...own,
    ...dots,
    ...marks.filter((m) => m.role === 'degree' && Math.abs((m.box.x0 + m.box.x1) / 2 - centre) < 1.5),
  ].filter((m): m is Mark => m !== undefined);
}

/** Where a glyph is set; the ink of some rests begins a little before it. */
const originOf = (mark: Mark): number => (mark.kind === 'glyph' ? mark.x : mark.box.x0);

export function advancesOf(exercise: PlacedExercise, at: PlacedSystem, fonts: Fonts): Advance[] {
  const { events } = at.reading;
  const length = barLength(exercise.line.exercise.metre);
  const ratios = ratiosOf(exercise.line);
  const ink = events.map((e, i) =>
    columnInk(e, at, events[i + 1]?.head.box.x0 ?? Number.POSITIVE_INFINITY).flatMap((m) => inkOf(m, fonts)),
  );
  return events.flatMap((event, i): Advance[] => {
    const next = events[i + 1];
    if (!next || next.bar !== event.bar) return [];
    const whole = (boxes: ReturnType<typeof inkOf>) => [Math.min(...boxes.map((b) => b.x0)), Math.max(...boxes.map((b) => b.x1))] as const;
    const white = Math.min(whiteBetween(ink[i] ?? [], ink[i + 1] ?? []), whole(ink[i + 1] ?? [])[0] - whole(ink[i] ?? [])[1]);
    return [
      {
        bar: event.bar,
        duration: toNumber(drawnDuration(event, false, length, ratios)),
        width: originOf(next.head) - originOf(event.head),
        signed: next.kind === 'note' && next.accidental !== undefined,
        // A comma between them, as much as ink, may hold two notes apart.
        bound:
          white < LIMIT.rodBound ||
          at.reading.drawing.marks.some(
            (m) => m.role === 'breath' && m.kind === 'glyph' && m.box.x0 >= event.head.box.x0 && m.box.x1 <= next.head.box.x0,
          ),
      },
    ];
  });
}

/** Rule 17. */
export function spacing(at: PlacedSystem, advances: readonly Advance[]): Fault[] {
  const faults: Fault[] = [];
  const free = advances.filter((a) => !a.signed && !a.bound);
  const widths = new Map<number, number>();
  for (const one of free) {
    const known = widths.get(one.duration);
    if (known === undefined) widths.set(one.duration, one.width);
    else if (Math.abs(one.width / known - 1) > LIMIT.equalAdvance) {
      const what = 'A note takes another width than an equal one of its system.';
      faults.push(
        systemFault(17, at, one.bar, what, {
          amount: round(100 * Math.abs(one.width / known - 1), 1),
          limit: 100 * LIMIT.equalAdvance,
          unit: '%',
        }),
      );
    }
  }
  for (const one of advances) {
    for (const [duration, width] of widths) {
      if (duration >= one.duration || one.width >= width * (1 - LIMIT.equalAdvance)) continue;
      faults.push(
        systemFault(17, at, one.bar, 'A longer note takes less room than a shorter one.', {
          amount: round(one.width),
          limit: round(width),
          unit: 'sp',
        }),
      );
    }
  }
  const [quarter, eighth] = [widths.get(1 / 4), widths.get(1 / 8)];
  if (quarter !== undefined && eighth !== undefined) {
    const ratio = quarter / eighth;
    const [least, most] = LIMIT.quarterToEighth;
    if (ratio < least || ratio > most) {
      const what = 'Quarters and eighths are out of proportion.';
      faults.push(systemFault(17, at, 0, what, { amount: round(ratio), limit: ratio < least ? least : most, unit: 'ratio' }));
    }
  }
  return faults;
}

/** How far the springs of a system are opened: 1 natural; undefined where every distance is set by ink. */
export function factorOf(advances: readonly Advance[]): number | undefined {
  const factors = advances
    .filter((a) => !a.signed && !a.bound && a.duration > 0)
    .map((a) => a.width / (idealAdvance(a.duration) * STYLE.openness))
    .sort((a, b) => a - b);
  return factors[Math.floor(factors.length / 2)];
}

/** Adjustment ratio: 0 natural, -1 as tight and 1 as open as the style likes. */
export const ratioOf = (factor: number): number => (factor >= 1 ? (factor - 1) / STYLE.stretch : (factor - 1) / STYLE.shrink);

/** The system fills the width. */
export const justified = (at: PlacedSystem): boolean => Math.abs(at.x + at.reading.staffRight * at.scale - at.right) <= LIMIT.width;

/** Rule 18. `advances` are those of each system. */
export function systemWidth(exercise: PlacedExercise, advances: readonly (readonly Advance[])[]): Fault[] {
  const faults: Fault[] = [];
  exercise.systems.forEach((at, i) => {
    const { reading } = at;
    const off = Math.abs(at.x + reading.staffLeft * at.scale - at.left);
    if (off > LIMIT.width)
      faults.push(
        systemFault(18, at, undefined, 'The system does not begin at the edge of the text block.', {
          amount: round(off),
          limit: LIMIT.width,
          unit: 'pt',
        }),
      );
    const lastLine = reading.barlines.at(-1);
    const courtesy = reading.signatures.some((s) => s.after === reading.barlines.length);
    if (!lastLine) faults.push(systemFault(18, at, undefined, 'The system has no barline at its end.'));
    else if (!courtesy && Math.abs(lastLine.x1 - reading.staffRight) * at.scale > LIMIT.width) {
      const gap = Math.abs(lastLine.x1 - reading.staffRight) * at.scale;
      faults.push(
        systemFault(18, at, reading.barlines.length - 1, 'The staff does not end at the last barline.', {
          amount: round(gap),
          limit: LIMIT.width,
          unit: 'pt',
        }),
      );
    }
    if (justified(at)) return;
    const over = at.x + reading.staffRight * at.scale - at.right;
    const last = i === exercise.systems.length - 1;
    if (over > 0 || !last) {
      const what = over > 0 ? 'The system is wider than the text block.' : 'The system does not reach the right edge of the text block.';
      faults.push(systemFault(18, at, undefined, what, { amount: round(Math.abs(over)), limit: LIMIT.width, unit: 'pt' }));
      return;
    }
    const factor = factorOf(advances[i] as readonly Advance[]);
    if (factor !== undefined && Math.abs(factor - 1) > LIMIT.natural) {
      const what = 'A last system that does not fill the width is not at natural spacing.';
      faults.push(systemFault(18, at, undefined, what, { amount: round(factor), limit: 1, unit: 'ratio' }));
    }
  });
  return faults;
}
