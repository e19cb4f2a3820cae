/** Rule 24: breath marks, the air between them, and the reach of the instrument. */

import { beamGroups, slurGroups } from '../../breath/groups.js';
import type { Mark } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { Line } from '../../player/line.js';
import { type Fraction, toNumber } from '../../theory/fraction.js';
import { midi, pitchName } from '../../theory/pitch.js';
import { type Finding, finding } from '../fault.js';
import { inkOf } from '../ink-shape.js';
import { barAtX, type PlacedExercise, type PlacedSystem, round, systemFinding } from '../placed-system.js';
import type { Breathing, ProvedPlan } from '../proved-edition.js';
import type { ReadEvent } from '../read-system.js';
import type { PlayedBar } from '../replay.js';
import type { Rule } from '../rule.js';
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

/**
 * Where breath marks stand: above the staff, clear of ink, the comma between its note and the next sign. Parentheses round
 * it may reach over the note, which in quick notes leaves them no other room.
 */
export function breathMarks(at: PlacedSystem, fonts: Fonts): Finding[] {
  const { drawing, events } = at.reading;
  const findings: Finding[] = [];
  const others = drawing.marks.filter((m) => m.role !== 'breath' && m.role !== 'staff-line');
  const inks = new Map(others.map((m) => [m, inkOf(m, fonts)]));
  for (const mark of drawing.marks.filter((m) => m.role === 'breath')) {
    const bar = barAtX(at, mark.box.x0);
    const tell = (what: string, amount?: number, limit?: number) =>
      findings.push(
        systemFinding(at, bar, what, amount === undefined ? undefined : { amount: round(amount), limit: limit ?? 0, unit: 'sp' }),
      );
    if (mark.box.y1 > 0) tell('A breath mark does not stand above the staff.', mark.box.y1, 0);
    const before = noteBefore(events, mark);
    const next = events.find((e) => e.head.box.x0 > mark.box.x0);
    const barline = before && at.reading.barlines[before.bar];
    const until = Math.min(next?.head.box.x0 ?? Number.POSITIVE_INFINITY, barline?.x0 ?? Number.POSITIVE_INFINITY);
    if (mark.kind === 'glyph') {
      if (before?.kind !== 'note') tell('A breath mark follows no note.');
      else if (before.head.box.x1 > mark.box.x0 + LIMIT.same || until < mark.box.x1 - LIMIT.same)
        tell('A breath mark does not stand between its note and the next sign.');
    }
    const ink = inkOf(mark, fonts);
    const near = others
      .filter((o) => o.box.x0 < mark.box.x1 + 1 && mark.box.x0 - 1 < o.box.x1)
      .map((other) => ({ other, white: whiteAround(ink, inks.get(other) ?? []) }))
      .sort((a, b) => a.white - b.white)[0];
    if (near && near.white < LIMIT.breathClear - LIMIT.same)
      tell(`A breath mark stands too near to other ink (${near.other.role}).`, near.white, LIMIT.breathClear);
  }
  return findings;
}

/** The last note or rest that begins left of a mark. */
const noteBefore = (events: readonly ReadEvent[], mark: Mark): ReadEvent | undefined => events.findLast((e) => e.head.box.x0 < mark.box.x0);

/** Notes of the line, by system and event of the reading. */
function lineNotes(bars: readonly PlayedBar[], line: Line): Map<string, number> {
  const notes = line.events.filter((e) => e.kind === 'note');
  let n = -1;
  const found = new Map<string, number>();
  for (const event of bars.flatMap((b) => b.events)) {
    if (event.kind === 'rest') continue;
    if (!event.tiedFrom) n++;
    const note = notes[n];
    if (note) found.set(`${event.system} ${event.event}`, note.index);
  }
  return found;
}

/** Seconds that the notes under one slur or beam with this event last. */
function groupSeconds(groups: Int32Array, event: number, line: Line, perWhole: number): number {
  if (groups[event] === -1) return 0;
  return line.events.reduce((sum, e, i) => (groups[i] === groups[event] ? sum + toNumber(e.duration) * perWhole : sum), 0);
}

const secondsPerWhole = (beat: Fraction, bpm: number): number => (60 / bpm) * (beat.d / beat.n);

/** Lungs and pace of the slowest plan, or of the exercise where there is none. */
function workingAir({ lung, plans }: Breathing, { exercise }: Line): { seconds: number; perWhole: number } | undefined {
  const [plan] = plans;
  if (plan) return { seconds: plan.lung.seconds, perWhole: secondsPerWhole(plan.tempo.beat, plan.tempo.bpm) };
  return exercise.tempo && { seconds: lung.seconds, perWhole: secondsPerWhole(exercise.tempo.beat, exercise.tempo.from) };
}

/** Seconds in which a breath moves all but 1/e of the missing air, as the breath plans assume; followed here on its own. */
const REFILL = 0.7;

/** The air runs out somewhere when the breath after this note is left away and all others are taken. */
function isNeeded(event: number, plan: ProvedPlan, line: Line): boolean {
  const perWhole = secondsPerWhole(plan.tempo.beat, plan.tempo.bpm);
  const lungs = plan.lung.seconds;
  const seconds = new Map(plan.breaths.filter((b) => b.afterEvent !== event).map((b) => [b.afterEvent, b.seconds]));
  let air = lungs;
  for (const { kind, index, duration } of line.events) {
    const length = toNumber(duration) * perWhole;
    const breath = kind === 'rest' ? length : (seconds.get(index) ?? 0);
    if (kind === 'note') air -= plan.manner === 'in-time' ? length - breath : length;
    if (air < -1e-9) return true;
    air = lungs - (lungs - air) * Math.exp(-breath / REFILL);
  }
  return false;
}

/**
 * Breaths inside a slur, a beam or a tie, and breaths that are not those of the plan. A breath inside is excused where
 * the air would run out without it; where there is no plan, where the notes under the slur or beam last as long as the lungs
 * do or longer.
 */
export function breathPlaces(exercise: PlacedExercise, bars: readonly PlayedBar[], breathing: Breathing | undefined): Finding[] {
  const { line, systems, spot } = exercise;
  const findings: Finding[] = [];
  const notes = lineNotes(bars, line);
  const printed: number[] = [];
  const air = breathing && workingAir(breathing, line);
  const groups = { slur: slurGroups(line), beam: beamGroups(line), tie: new Int32Array(line.events.length).fill(-1) };
  systems.forEach((at, system) => {
    const { drawing, events } = at.reading;
    for (const mark of drawing.marks.filter((m) => m.role === 'breath' && m.kind === 'glyph')) {
      const before = noteBefore(events, mark);
      const event = notes.get(`${system} ${before ? events.indexOf(before) : -1}`);
      if (event !== undefined) printed.push(event);
      const inside = (['slur', 'beam', 'tie'] as const).filter((role) =>
        drawing.marks.some((m) => m.role === role && m.box.x0 < mark.box.x0 && mark.box.x1 < m.box.x1),
      );
      const lasts = Math.max(
        0,
        ...inside.map((role) => (event === undefined ? 0 : groupSeconds(groups[role], event, line, air?.perWhole ?? 0))),
      );
      const role = inside[0];
      const [plan] = breathing?.plans ?? [];
      if (!role || (plan && event !== undefined ? isNeeded(event, plan, line) : air && lasts >= air.seconds)) continue;
      const measured = air && lasts > 0 ? ({ amount: round(lasts), limit: round(air.seconds), unit: 's' } as const) : undefined;
      findings.push(systemFinding(at, barAtX(at, mark.box.x0), `A breath mark stands inside a ${role}.`, measured));
    }
  });
  if (!breathing) return printed.length > 0 ? [...findings, finding(spot, 'Breath marks are printed where none were planned.')] : findings;
  const planned = breathing.marks.map((m) => m.afterEvent);
  if (printed.length !== planned.length || printed.some((event, i) => event !== planned[i])) {
    findings.push(
      finding(spot, `${printed.length} breath marks are printed and ${planned.length} are planned, or one stands after another note.`),
    );
  }
  return findings;
}

/** Every written pitch is inside the player's compass. */
export function withinCompass({ line, spot }: PlacedExercise): Finding[] {
  const { low, high } = line.player.compass;
  const wrong = line.events.find((e) => e.kind === 'note' && (midi(e.written) < midi(low) || midi(e.written) > midi(high)));
  if (wrong?.kind !== 'note') return [];
  return [finding(spot, `${pitchName(wrong.written)} is outside the compass ${pitchName(low)} to ${pitchName(high)}.`)];
}

/** The air of a plan: no stretch of sound between breaths and rests lasts longer than the lungs do, and none is a gasp. */
export function airLasts({ line, spot }: PlacedExercise, plan: ProvedPlan): Finding[] {
  const perWhole = secondsPerWhole(plan.tempo.beat, plan.tempo.bpm);
  // Two breaths less than a beat apart are gasps.
  const beat = 60 / plan.tempo.bpm;
  const findings: Finding[] = [];
  const breaths = new Map(plan.breaths.map((b) => [b.afterEvent, b]));
  const at = `at ${plan.tempo.bpm} beats a minute`;
  let since = 0;
  let sinceBreath = false;
  let gasps = 0;
  let shortest = Number.POSITIVE_INFINITY;
  for (const event of line.events) {
    if (event.kind === 'rest') {
      since = 0;
      sinceBreath = false;
      continue;
    }
    since += toNumber(event.duration) * perWhole;
    const breath = breaths.get(event.index);
    const sounding = breath && plan.manner === 'in-time' ? since - breath.seconds : since;
    if (sounding > plan.lung.seconds + LIMIT.breathSeconds) {
      const what = `No breath comes for too long before the end of note ${event.index + 1} ${at}.`;
      findings.push(finding(spot, what, { amount: round(sounding), limit: round(plan.lung.seconds), unit: 's' }));
      break;
    }
    if (!breath) continue;
    if (sinceBreath && since < beat - LIMIT.breathSeconds && !isNeeded(event.index, plan, line)) {
      gasps++;
      shortest = Math.min(shortest, since);
    }
    since = 0;
    sinceBreath = true;
  }
  if (gasps > 0) {
    const what = `${gasps} of ${plan.breaths.length} breaths follow the one before after hardly a note ${at}.`;
    findings.push(finding(spot, what, { amount: round(shortest), limit: round(beat), unit: 's' }));
  }
  return findings;
}

export const BREATH: Rule = {
  number: 24,
  id: 'breath',
  title: 'Breaths stand clear, and every note is within reach',
  check: {
    system: ({ at, fonts }) => breathMarks(at, fonts),
    exercise: ({ exercise, bars, breathing }) => [
      ...withinCompass(exercise),
      ...breathPlaces(exercise, bars, breathing),
      ...(breathing?.plans.flatMap((plan) => airLasts(exercise, plan)) ?? []),
    ],
  },
};
