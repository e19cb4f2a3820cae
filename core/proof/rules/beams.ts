/** Rules 12 to 14: beams. */
import { first, last, pairs } from '../../base/list.js';
import type { PolygonMark } from '../../engrave/drawing.js';
import type { Finding } from '../fault.js';
import { heightsAt } from '../ink-shape.js';
import { type PlacedSystem, round, systemFinding } from '../placed-system.js';
import type { ReadGroup, ReadNote, ReadStem, SystemReading } from '../read-system.js';
import type { Rule } from '../rule.js';
import { LIMIT } from '../tolerance.js';

type Stemmed = ReadNote & { readonly stem: ReadStem };

type Group = { readonly notes: readonly Stemmed[]; readonly beams: readonly PolygonMark[]; readonly up: boolean };

function groupsOf(reading: SystemReading): Group[] {
  return reading.groups.flatMap((group: ReadGroup) => {
    const notes = group.notes.map((i) => reading.events[i]).filter((e): e is Stemmed => e?.kind === 'note' && e.stem !== undefined);
    return notes.length > 1 ? [{ notes, beams: group.beams, up: first(notes).stem.up }] : [];
  });
}

/** Upper and lower edge of a beam at x, held to its ends. */
function edges(beam: PolygonMark, x: number): readonly [number, number] {
  const ys = heightsAt(beam.points, Math.min(beam.box.x1, Math.max(beam.box.x0, x)));
  return [Math.min(...ys), Math.max(...ys)];
}

/** Beams that cross a stem, outermost first. */
function beamsAt(group: Group, note: Stemmed): PolygonMark[] {
  const { x } = note.stem;
  const here = group.beams.filter((b) => x > b.box.x0 - 0.15 && x < b.box.x1 + 0.15);
  return here.sort((a, b) => (group.up ? edges(a, x)[0] - edges(b, x)[0] : edges(b, x)[1] - edges(a, x)[1]));
}

/** Rule 12. */
export function beamInk(at: PlacedSystem): Finding[] {
  const findings: Finding[] = [];
  for (const group of groupsOf(at.reading)) {
    const { bar } = first(group.notes);
    for (const beam of group.beams) {
      const middle = (beam.box.x0 + beam.box.x1) / 2;
      const [top, bottom] = edges(beam, middle);
      const thick = bottom - top;
      if (Math.abs(thick - LIMIT.beam) <= LIMIT.beamSlack) continue;
      findings.push(systemFinding(at, bar, 'A beam has the wrong thickness.', { amount: round(thick), limit: LIMIT.beam, unit: 'sp' }));
    }
    for (const note of group.notes) {
      const tops = beamsAt(group, note).map((b) => edges(b, note.stem.x)[0]);
      const pitches = pairs(tops).map(([outer, inner]) => Math.abs(inner - outer));
      const wide = tops.length >= 3;
      const wrong = pitches.find(
        (p) => Math.abs(p - LIMIT.beamPitch) > LIMIT.beamSlack && !(wide && Math.abs(p - LIMIT.beamPitchWide) <= LIMIT.beamSlack),
      );
      if (wrong === undefined) continue;
      findings.push(
        systemFinding(at, bar, 'Beams are at the wrong distance.', { amount: round(wrong), limit: LIMIT.beamPitch, unit: 'sp' }),
      );
      break;
    }
  }
  return findings;
}

/** An inner head is nearer to the beam than both outer ones, or the second half repeats the first. */
function asksForFlat({ notes, up }: Group): boolean {
  const far = notes.map((n) => (up ? n.y : -n.y));
  const [start, end] = [first(far), last(far)];
  if (start === end || far.slice(1, -1).some((y) => y < Math.min(start, end) - 1e-6)) return true;
  const half = far.length / 2;
  return far.length >= 4 && Number.isInteger(half) && far.slice(0, half).every((y, i) => y === far[half + i]);
}

function riseLimit(group: Group): number {
  const { notes } = group;
  const steps = Math.round(2 * Math.abs(last(notes).y - first(notes).y));
  const limit = LIMIT.beamRise;
  if (steps <= 1) return limit.second;
  const white = Math.min(...pairs(notes).map(([left, right]) => right.head.box.x0 - left.head.box.x1));
  const beyond = notes.every((n) => n.y <= -1.5) || notes.every((n) => n.y >= 5.5);
  if (white < LIMIT.beamClose - LIMIT.drawn || beyond) return limit.close;
  if (steps === 2) return limit.third;
  if (steps === 3) return limit.fourth;
  return notes.length <= LIMIT.beamShortGroup ? limit.wideShort : limit.wideLong;
}

/** Rule 13. The rise is that of the outermost beam from the first stem to the last. */
export function beamRise(at: PlacedSystem): Finding[] {
  return groupsOf(at.reading).flatMap((group) => {
    const [start, end] = [first(group.notes), last(group.notes)];
    const outer = beamsAt(group, start)[0];
    if (!outer) return [];
    const rise = edges(outer, end.stem.x)[0] - edges(outer, start.stem.x)[0];
    const measured = (limit: number) => ({ amount: round(Math.abs(rise)), limit, unit: 'sp' as const });
    if (asksForFlat(group)) {
      if (Math.abs(rise) <= LIMIT.same) return [];
      return [systemFinding(at, start.bar, 'A beam slants where its notes ask for a level one.', measured(0))];
    }
    if (Math.abs(rise) > LIMIT.same && Math.sign(rise) !== Math.sign(end.y - start.y))
      return [systemFinding(at, start.bar, 'A beam slants against its notes.', measured(0))];
    const limit = riseLimit(group);
    return Math.abs(rise) <= limit + LIMIT.same ? [] : [systemFinding(at, start.bar, 'A beam rises too much.', measured(limit))];
  });
}

/** Rule 14. */
export function beamClearance(at: PlacedSystem): Finding[] {
  const findings: Finding[] = [];
  for (const group of groupsOf(at.reading)) {
    const { bar } = first(group.notes);
    for (const note of group.notes) {
      const beams = beamsAt(group, note);
      const inner = beams.at(-1);
      if (!inner) continue;
      const [top, bottom] = edges(inner, note.stem.x);
      const length = group.up ? note.y - note.stem.end : note.stem.end - note.y;
      // Three and more beams fill the stem inward; their innermost may come nearer by the pitch of each beyond two.
      const reach = (group.up ? note.y - top : bottom - note.y) + Math.max(0, beams.length - 2) * LIMIT.beamPitch;
      const white = Math.min(length, reach);
      if (white < LIMIT.beamClear - LIMIT.same) {
        const what = 'A beam comes too near to its heads.';
        findings.push(systemFinding(at, bar, what, { amount: round(white), limit: LIMIT.beamClear, unit: 'sp' }));
        break;
      }
    }
    // One staff line stays clear between the innermost beam and the first ledger line.
    const ledger = group.notes.find((n) => (group.up ? n.y >= 5 : n.y <= -1));
    if (!ledger) continue;
    const hidden = group.notes
      .filter((n) => (group.up ? n.y >= 5 : n.y <= -1))
      .flatMap((n) => {
        const inner = beamsAt(group, n).at(-1);
        if (!inner) return [];
        const [top, bottom] = edges(inner, n.stem.x);
        return group.up ? bottom - 4 : 0 - top;
      });
    const deep = Math.max(...hidden);
    if (deep > LIMIT.same) {
      const what = 'A beam covers the staff line next to the ledger lines.';
      findings.push(systemFinding(at, bar, what, { amount: round(deep), limit: 0, unit: 'sp' }));
    }
  }
  return findings;
}

export const BEAM_INK: Rule = {
  number: 12,
  id: 'beam-ink',
  title: 'Beams have their thickness and distance',
  check: { system: ({ at }) => beamInk(at) },
};

export const BEAM_RISE: Rule = {
  number: 13,
  id: 'beam-rise',
  title: 'Beams rise no more than their notes ask',
  check: { system: ({ at }) => beamRise(at) },
};

export const BEAM_CLEARANCE: Rule = {
  number: 14,
  id: 'beam-clearance',
  title: 'Beams keep clear of heads and ledger lines',
  check: { system: ({ at }) => beamClearance(at) },
};
