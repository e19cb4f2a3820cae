/** Rules 8 to 11: stems. Heights run down from the top line, so the middle line is at 2. */
import type { Finding } from '../fault.js';
import { type PlacedSystem, round, systemFinding } from '../placed-system.js';
import type { ReadNote, ReadStem, SystemReading } from '../read-system.js';
import type { Rule } from '../rule.js';
import { LIMIT } from '../tolerance.js';

type Stemmed = ReadNote & { readonly stem: ReadStem };

const MIDDLE = 2;

const stemmed = (reading: SystemReading): Stemmed[] =>
  reading.events.filter((e): e is Stemmed => e.kind === 'note' && e.stem !== undefined);
const lengthOf = (note: Stemmed): number => Math.abs(note.stem.end - note.y);

/** Rule 8. Three and more flags lengthen a stem by the pitch of a beam each (Gould p. 15 ff., second-hand). */
export function stemLength(at: PlacedSystem): Finding[] {
  const findings: Finding[] = [];
  for (const event of at.reading.events) {
    if (event.kind === 'note' && event.value > 1 && !event.stem) findings.push(systemFinding(at, event.bar, 'A note has no stem.'));
  }
  for (const note of stemmed(at.reading)) {
    if (note.beams > 0) continue;
    const length = lengthOf(note);
    const floor = note.flags > 0 ? LIMIT.flaggedFloor : LIMIT.stemFloor;
    // Two flags of a downward stem would cut its head at the normal length.
    const clear = note.flags >= 2 && !note.stem.up ? LIMIT.flagsClear : 0;
    const extra = Math.max(0, note.flags - 2) * LIMIT.beamPitch + clear;
    if (length < floor - 1e-6) {
      const what = 'The stem is too short.';
      findings.push(systemFinding(at, note.bar, what, { amount: round(length), limit: floor, unit: 'sp' }));
    } else if (Math.abs(note.y - MIDDLE) <= LIMIT.stemNormalWithin && Math.abs(length - LIMIT.stem - extra) > LIMIT.stemSlack) {
      const what = `The stem is ${length < LIMIT.stem ? 'shorter' : 'longer'} than its normal length.`;
      findings.push(systemFinding(at, note.bar, what, { amount: round(length), limit: LIMIT.stem + extra, unit: 'sp' }));
    }
  }
  return findings;
}

/** Rule 9. Heads on or beyond the second ledger line: at 6 and -2. */
export function middleLine(at: PlacedSystem): Finding[] {
  return stemmed(at.reading).flatMap((note) => {
    if (Math.abs(note.y - MIDDLE) < 4 - 1e-6) return [];
    const short = note.stem.up ? note.stem.end - MIDDLE : MIDDLE - note.stem.end;
    const off = note.beams > 0 ? short : Math.abs(short);
    if (off <= LIMIT.same) return [];
    const what = `The stem of a head beyond the second ledger line does not end ${note.beams > 0 ? 'at or past' : 'at'} the middle line.`;
    return [systemFinding(at, note.bar, what, { amount: round(off), limit: LIMIT.same, unit: 'sp' })];
  });
}

/** Which way stems of these heads point: the head farthest from the middle line decides, a tie goes down. */
export function shouldPointUp(ys: readonly number[]): boolean {
  const below = Math.max(...ys.map((y) => y - MIDDLE));
  const above = Math.max(...ys.map((y) => MIDDLE - y));
  return below > above + 1e-6;
}

/** Rule 10. */
export function stemDirection(at: PlacedSystem): Finding[] {
  const findings: Finding[] = [];
  const { events, groups } = at.reading;
  const way = (up: boolean): string => (up ? 'up' : 'down');
  for (const note of stemmed(at.reading)) {
    if (note.beams === 0 && note.stem.up !== shouldPointUp([note.y])) {
      findings.push(systemFinding(at, note.bar, `A stem points ${way(note.stem.up)} and should point ${way(!note.stem.up)}.`));
    }
  }
  for (const group of groups) {
    const notes = group.notes.map((i) => events[i]).filter((e): e is Stemmed => e?.kind === 'note' && e.stem !== undefined);
    const first = notes[0];
    if (!first) continue;
    const wanted = shouldPointUp(notes.map((n) => n.y));
    const wrong = notes.filter((n) => n.stem.up !== wanted);
    if (wrong.length === 0) continue;
    const what =
      wrong.length < notes.length
        ? 'The stems of a beam point both ways.'
        : `The stems of a beam point ${way(!wanted)} and should point ${way(wanted)}.`;
    findings.push(systemFinding(at, first.bar, what));
  }
  return findings;
}

/** Rule 11. */
export function stemAnchor(at: PlacedSystem): Finding[] {
  return stemmed(at.reading).flatMap((note) => {
    const { box } = note.stem.mark;
    const off = note.stem.up ? Math.abs(box.x1 - note.head.box.x1) : Math.abs(box.x0 - note.head.box.x0);
    if (off <= LIMIT.stemAnchor) return [];
    const what = `The stem does not touch the ${note.stem.up ? 'right' : 'left'} edge of its head.`;
    return [systemFinding(at, note.bar, what, { amount: round(off), limit: LIMIT.stemAnchor, unit: 'sp' })];
  });
}

export const STEM_LENGTH: Rule = {
  number: 8,
  id: 'stem-length',
  title: 'Stems have their length',
  check: { system: ({ at }) => stemLength(at) },
};

export const MIDDLE_LINE: Rule = {
  number: 9,
  id: 'middle-line',
  title: 'Stems of far heads reach the middle line',
  check: { system: ({ at }) => middleLine(at) },
};

export const STEM_DIRECTION: Rule = {
  number: 10,
  id: 'stem-direction',
  title: 'Stems point the right way',
  check: { system: ({ at }) => stemDirection(at) },
};

export const STEM_ANCHOR: Rule = {
  number: 11,
  id: 'stem-anchor',
  title: 'Stems touch the edge of their heads',
  check: { system: ({ at }) => stemAnchor(at) },
};
