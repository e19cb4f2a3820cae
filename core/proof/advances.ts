/** How far the columns of a system stand apart, and how far that opens its springs: what the rules of spacing compare. */

import type { Drawing, Mark } from '../engrave/drawing.js';
import type { Fonts } from '../engrave/metrics.js';
import { idealAdvance, STYLE } from '../engrave/style.js';
import type { Line } from '../player/line.js';
import { toNumber } from '../theory/fraction.js';
import { barLength } from '../theory/metre.js';
import { inkOf, whiteBetween } from './ink-shape.js';
import type { ReadEvent, SystemReading } from './read-system.js';
import { drawnDuration, ratiosOf } from './replay.js';
import { LIMIT } from './tolerance.js';

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
function columnInk(event: ReadEvent, { marks }: Drawing, right: number): Mark[] {
  const centre = (event.head.box.x0 + event.head.box.x1) / 2;
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

/** `line` is that of the exercise: its metre and tuplets say how long what is drawn lasts. */
export function advancesOf({ drawing, events }: SystemReading, line: Line, fonts: Fonts): Advance[] {
  const length = barLength(line.exercise.metre);
  const ratios = ratiosOf(line);
  const ink = events.map((e, i) =>
    columnInk(e, drawing, events[i + 1]?.head.box.x0 ?? Number.POSITIVE_INFINITY).flatMap((m) => inkOf(m, fonts)),
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
          drawing.marks.some(
            (m) => m.role === 'breath' && m.kind === 'glyph' && m.box.x0 >= event.head.box.x0 && m.box.x1 <= next.head.box.x0,
          ),
      },
    ];
  });
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
