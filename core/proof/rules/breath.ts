/** Rule 24: breath marks, the air between them, and the reach of the instrument. */
import type { Mark } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { BreathPlan } from '../../breath/plan.js';
import type { Line } from '../../player/line.js';
import { add, toNumber } from '../../theory/fraction.js';
import { midi, pitchName } from '../../theory/pitch.js';
import { type Fault, fault, type Spot } from '../fault.js';
import { inkOf } from '../ink-shape.js';
import { barAtX, type PlacedSystem, round, systemFault } from '../placed-system.js';
import { LIMIT } from '../tolerance.js';

type Ink = ReturnType<typeof inkOf>;

/** White between two inks in the direction in which it is widest, as a square of half a space would feel it. */
function whiteAround(a: Ink, b: Ink): number {
  let least = Number.POSITIVE_INFINITY;
  for (const p of a) {
    for (const q of b) least = Math.min(least, Math.max(p.x0 - q.x1, q.x0 - p.x1, p.y0 - q.y1, q.y0 - p.y1));
  }
  return least;
}

/** Where breath marks stand: above the staff, between two symbols, clear of ink, not inside a tie, slur or beam. */
export function breathMarks(at: PlacedSystem, fonts: Fonts): Fault[] {
  const { drawing, events, groups } = at.reading;
  const faults: Fault[] = [];
  const others = drawing.marks.filter((m) => m.role !== 'breath' && m.role !== 'staff-line');
  for (const mark of drawing.marks.filter((m) => m.role === 'breath')) {
    const bar = barAtX(at, mark.box.x0);
    const tell = (what: string, amount?: number, limit?: number) =>
      faults.push(systemFault(24, at, bar, what, amount === undefined ? undefined : { amount: round(amount), limit: limit ?? 0, unit: 'sp' }));
    if (mark.box.y1 > 0) tell('A breath mark does not stand above the staff.', mark.box.y1, 0);
    const [left, right] = [mark.box.x0, mark.box.x1];
    const before = events.findLast((e) => e.head.box.x1 <= left);
    const next = events.find((e) => e.head.box.x0 > (before?.head.box.x0 ?? 0));
    if (before?.kind !== 'note') tell('A breath mark follows no note.');
    else if (next && next.head.box.x0 < right - LIMIT.same) tell('A breath mark does not stand between its note and the next symbol.');
    const ink = inkOf(mark, fonts);
    const near = others.map((other) => ({ other, white: whiteAround(ink, inkOf(other, fonts)) })).sort((a, b) => a.white - b.white)[0];
    if (near && near.white < LIMIT.breathClear - LIMIT.same) tell(`A breath mark stands too near to a ${near.other.role}.`, near.white, LIMIT.breathClear);
    const within = (x0: number, x1: number): boolean => x0 < left && right < x1;
    const curve = drawing.marks.find((m: Mark) => (m.role === 'tie' || m.role === 'slur') && within(m.box.x0, m.box.x1));
    if (curve) tell(`A breath mark stands inside a ${curve.role}.`);
    if (groups.some((g) => g.beams.some((b) => within(b.box.x0, b.box.x1)))) tell('A breath mark stands inside a beam.');
  }
  return faults;
}

/** Every written pitch is inside the player's compass. */
export function withinCompass(line: Line, spot: Spot): Fault[] {
  const { low, high } = line.player.compass;
  const wrong = line.events.find((e) => e.kind === 'note' && (midi(e.written) < midi(low) || midi(e.written) > midi(high)));
  if (wrong?.kind !== 'note') return [];
  return [fault(24, spot, `${pitchName(wrong.written)} is outside the compass ${pitchName(low)} to ${pitchName(high)}.`)];
}

/** The air of a plan: no stretch of sound between breaths and rests lasts longer than the lungs do. */
export function airLasts(line: Line, plan: BreathPlan, spot: Spot): Fault[] {
  const perWhole = (60 / plan.tempo.bpm) * (plan.tempo.beat.d / plan.tempo.beat.n);
  const breathed = new Set(plan.breaths.map((b) => b.afterEvent));
  let since = 0;
  for (const event of line.events) {
    if (event.kind === 'rest') {
      since = 0;
      continue;
    }
    since += toNumber(event.duration) * perWhole;
    const taken = plan.breaths.find((b) => b.afterEvent === event.index);
    const sounded = taken && plan.manner === 'in-time' ? since - taken.seconds : since;
    if (sounded > plan.lung.seconds + LIMIT.breathSeconds) {
      const end = add(event.onset, event.duration);
      const what = `No breath comes for too long, up to ${toNumber(end)} whole notes from the start.`;
      return [fault(24, spot, what, { amount: round(sounded), limit: round(plan.lung.seconds), unit: 's' })];
    }
    if (breathed.has(event.index)) since = 0;
  }
  return [];
}
