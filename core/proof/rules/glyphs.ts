/** Rules 1 to 3 and 16: signs and columns. */
import { zip } from '../../base/list.js';
import type { Mark, Role } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { Finding } from '../fault.js';
import { fineInk, inkOf, overlapOf, sharedDepth, whiteBetween } from '../ink-shape.js';
import { barAtX, nameOf, type PlacedDrawing, type PlacedSystem, round, systemFinding } from '../placed-system.js';
import type { ReadEvent, ReadNote, SystemReading } from '../read-system.js';
import type { Rule } from '../rule.js';
import { LIMIT } from '../tolerance.js';

type Ink = ReturnType<typeof inkOf>;

/** For each mark the notes it belongs to, as indices into the system's events. */
export function ownersOf(reading: SystemReading): Map<Mark, readonly number[]> {
  const owners = new Map<Mark, readonly number[]>();
  const own = (mark: Mark | undefined, i: number): void => {
    if (mark) owners.set(mark, [...(owners.get(mark) ?? []), i]);
  };
  reading.events.forEach((event, i) => {
    own(event.head, i);
    if (event.kind === 'rest') return;
    own(event.stem?.mark, i);
    own(event.flag, i);
    own(event.accidental, i);
    for (const ledger of event.ledgers) own(ledger, i);
  });
  for (const group of reading.groups) for (const beam of group.beams) owners.set(beam, group.notes);
  for (const tie of reading.ties)
    owners.set(
      tie.mark,
      [tie.from, tie.to].flatMap((i) => (i === undefined ? [] : [i])),
    );
  return owners;
}

/** Signs that may touch when they belong to the same note. A ledger line is a piece of staff for its own note. */
const JOINED: readonly (readonly [Role, Role])[] = [
  ['notehead', 'stem'],
  ['notehead', 'ledger'],
  ['stem', 'flag'],
  ['stem', 'beam'],
  ['stem', 'ledger'],
  ['flag', 'ledger'],
  ['beam', 'beam'],
  ['accidental', 'ledger'],
  ['tie', 'ledger'],
  ['ledger', 'ledger'],
];
const WORDS: readonly Role[] = ['key-name', 'degree', 'tempo', 'label', 'bar-number', 'dynamic', 'text', 'breath', 'tuplet-number'];
/** Parts of one sign. */
const PARTS: readonly Role[] = ['tuplet-bracket', 'time-signature', 'barline', 'staff-line'];
/** Curves run over white, barlines and staff lines. */
const CURVES: readonly Role[] = ['slur', 'tie'];

function mayTouch(a: Mark, b: Mark, owners: ReadonlyMap<Mark, readonly number[]>): boolean {
  const pair = (x: Role, y: Role): boolean => (a.role === x && b.role === y) || (a.role === y && b.role === x);
  if (a.role === 'staff-line' || b.role === 'staff-line') return !WORDS.includes(a.role) && !WORDS.includes(b.role);
  if (a.role === b.role && (PARTS.includes(a.role) || (WORDS.includes(a.role) && a.owner.event === b.owner.event))) return true;
  if ((CURVES.includes(a.role) && b.role === 'barline') || (CURVES.includes(b.role) && a.role === 'barline')) return true;
  if (!JOINED.some(([x, y]) => pair(x, y))) return false;
  const other = owners.get(b) ?? [];
  return (owners.get(a) ?? []).some((i) => other.includes(i));
}

/** Rule 1. */
export function noOverlap(at: PlacedDrawing, fonts: Fonts): Finding[] {
  const owners = ownersOf(at.reading);
  const marks = at.reading.drawing.marks
    .map((mark) => {
      const ink = inkOf(mark, fonts);
      return { mark, ink, x0: Math.min(...ink.map((b) => b.x0)), x1: Math.max(...ink.map((b) => b.x1)) };
    })
    .sort((a, b) => a.x0 - b.x0);
  const findings: Finding[] = [];
  let open: typeof marks = [];
  for (const one of marks) {
    open = open.filter((other) => other.x1 > one.x0 + LIMIT.overlap);
    for (const other of open) {
      if (mayTouch(one.mark, other.mark, owners)) continue;
      if (!meet(one.ink, other.ink)) continue;
      const depth = sharedDepth(fineInk(one.mark, fonts), fineInk(other.mark, fonts));
      const curved = one.mark.kind === 'lens' || other.mark.kind === 'lens';
      if (depth <= (curved ? LIMIT.graze : LIMIT.overlap)) continue;
      const what = `The ${nameOf(other.mark)} and the ${nameOf(one.mark)} overlap.`;
      findings.push(systemFinding(at, barAtX(at, one.x0), what, { amount: round(depth), limit: 0, unit: 'sp' }));
    }
    open.push(one);
  }
  return findings;
}

const meet = (a: Ink, b: Ink): boolean => a.some((x) => b.some((y) => overlapOf(x, y) > 0));

/** Marks of a column that keep apart from the next: ledger lines have their own rule (16). */
function columnMarks(event: ReadEvent, dots: readonly Mark[]): Mark[] {
  if (event.kind === 'rest') return [event.head, ...dots];
  return [event.head, event.stem?.mark, event.flag, event.accidental, ...dots].filter((m): m is Mark => m !== undefined);
}

/** Rule 2. Columns are notes and rests with all their signs; distances over barlines are those to the barline. */
export function halfSpace(at: PlacedSystem, fonts: Fonts): Finding[] {
  const { reading } = at;
  const findings: Finding[] = [];
  const dots = reading.drawing.marks.filter((m) => m.role === 'dot');
  const columns = reading.events.map((event, i) => {
    const next = reading.events[i + 1]?.head.box.x0 ?? Number.POSITIVE_INFINITY;
    const own = dots.filter((d) => d.box.x0 > event.head.box.x1 - 0.01 && d.box.x1 < next);
    const marks = columnMarks(event, own);
    return { event, marks, ink: marks.flatMap((m) => inkOf(m, fonts)) };
  });
  columns.forEach((column, i) => {
    const next = columns[i + 1];
    if (next && next.event.bar === column.event.bar) {
      const white = whiteBetween(column.ink, next.ink);
      if (white < LIMIT.columnGap - LIMIT.same) {
        const what = `Note or rest ${i + 1} of the system stands too near to the next.`;
        findings.push(systemFinding(at, column.event.bar, what, { amount: round(white), limit: LIMIT.columnGap, unit: 'sp' }));
      }
    }
  });
  for (const { event, marks } of columns) {
    const before = reading.barlines[event.bar - 1];
    const after = reading.barlines[event.bar];
    for (const mark of marks) {
      const limit =
        mark.role === 'accidental' || mark.role === 'dot' || mark.role === 'flag' ? LIMIT.accidentalToBarline : LIMIT.stemToBarline;
      const ink = inkOf(mark, fonts);
      const left = before ? Math.min(...ink.map((b) => b.x0)) - before.x1 : Number.POSITIVE_INFINITY;
      const right = after ? after.x0 - Math.max(...ink.map((b) => b.x1)) : Number.POSITIVE_INFINITY;
      const white = Math.min(left, right);
      if (white >= limit - LIMIT.same) continue;
      const what = `The ${nameOf(mark)} stands too near to the barline ${left < right ? 'before' : 'after'} it.`;
      findings.push(systemFinding(at, event.bar, what, { amount: round(white), limit, unit: 'sp' }));
    }
  }
  return findings;
}

/** Rule 3. */
export function accidentalFit(at: PlacedSystem): Finding[] {
  const findings: Finding[] = [];
  const [least, most] = LIMIT.accidentalGap;
  const used = new Set<Mark>();
  for (const event of at.reading.events) {
    if (event.kind === 'rest' || !event.accidental) continue;
    used.add(event.accidental);
    const gap = event.head.box.x0 - event.accidental.box.x1;
    if (gap < least || gap > most) {
      const far = gap > most;
      const what = `The accidental stands too ${far ? 'far from' : 'near to'} its head.`;
      findings.push(systemFinding(at, event.bar, what, { amount: round(gap), limit: far ? most : least, unit: 'sp' }));
    }
    const drop = Math.abs(event.accidental.y - event.y);
    if (drop > LIMIT.same) {
      const what = 'The accidental is not level with its head.';
      findings.push(systemFinding(at, event.bar, what, { amount: round(drop), limit: LIMIT.same, unit: 'sp' }));
    }
  }
  for (const sign of at.reading.accidentals) {
    if (!used.has(sign)) findings.push(systemFinding(at, barAtX(at, sign.box.x0), 'An accidental stands before no head.'));
  }
  return findings;
}

/** Heights of the ledger lines that a head at y needs. */
export function neededLedgers(y: number): number[] {
  const lines: number[] = [];
  for (let line = -1; line >= y - 0.01; line--) lines.push(line);
  for (let line = 5; line <= y + 0.01; line++) lines.push(line);
  return lines;
}

/** Rule 16. */
export function ledgerLines(at: PlacedSystem): Finding[] {
  const findings: Finding[] = [];
  const { events, drawing } = at.reading;
  const notes = events.filter((e): e is ReadNote => e.kind === 'note');
  const [least, most] = LIMIT.ledgerOverhang;
  for (const note of notes) {
    const heights = note.ledgers.map((l) => (l.box.y0 + l.box.y1) / 2).sort((a, b) => Math.abs(a - 2) - Math.abs(b - 2));
    const needed = neededLedgers(note.y);
    if (heights.length !== needed.length || zip(heights, needed).some(([height, due]) => Math.abs(height - due) > LIMIT.same)) {
      const what = `A head ${round(note.y, 1)} below the top line has ledger lines at ${heights.map((y) => round(y)).join(', ') || 'no height'}.`;
      findings.push(systemFinding(at, note.bar, what, { amount: heights.length, limit: needed.length, unit: 'count' }));
    }
    for (const { box } of note.ledgers) {
      const sides = [note.head.box.x0 - box.x0, box.x1 - note.head.box.x1];
      const worst = sides.find((s) => s < least - 1e-6 || s > most + 1e-6);
      if (worst === undefined) continue;
      const what = `A ledger line projects too ${worst < least ? 'little' : 'much'} beside its head.`;
      findings.push(systemFinding(at, note.bar, what, { amount: round(worst), limit: worst < least ? least : most, unit: 'sp' }));
      break;
    }
  }
  const ledgers = notes.flatMap((note) => note.ledgers.map((l) => ({ box: l.box, note })));
  ledgers.forEach((a, i) => {
    const b = ledgers.slice(i + 1).find((l) => l.note !== a.note && Math.abs(l.box.y0 - a.box.y0) < 0.3 && overlapOf(a.box, l.box) > -0.02);
    if (b) findings.push(systemFinding(at, a.note.bar, 'Ledger lines of neighbouring notes touch.', { amount: 0, limit: 0, unit: 'sp' }));
  });
  const used = new Set<Mark>(notes.flatMap((n) => n.ledgers));
  for (const mark of drawing.marks) {
    if (mark.role === 'ledger' && !used.has(mark))
      findings.push(systemFinding(at, barAtX(at, mark.box.x0), 'A ledger line belongs to no head.'));
  }
  return findings;
}

export const NO_OVERLAP: Rule = {
  number: 1,
  id: 'no-overlap',
  title: 'No two marks overlap',
  check: { drawing: ({ at, fonts }) => noOverlap(at, fonts) },
};

export const HALF_SPACE: Rule = {
  number: 2,
  id: 'half-space',
  title: 'Neighbouring columns keep half a space apart',
  check: { system: ({ at, fonts }) => halfSpace(at, fonts) },
};

export const ACCIDENTAL_FIT: Rule = {
  number: 3,
  id: 'accidental-fit',
  title: 'Accidentals stand close before their heads',
  check: { system: ({ at }) => accidentalFit(at) },
};

export const LEDGER_LINES: Rule = {
  number: 16,
  id: 'ledger-lines',
  title: 'Ledger lines are those needed, at their places',
  check: { system: ({ at }) => ledgerLines(at) },
};
