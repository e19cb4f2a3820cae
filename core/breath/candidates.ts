/**
 * Where a line can be breathed in, and how well: one candidate after each note that is followed by a note. Before a rest no
 * candidate is needed, for the rest refills by itself. A note held over a barline is one event, so no candidate is inside it.
 */
import type { Line, LineEvent, LineNote } from '../player/line.js';
import { toNumber } from '../theory/fraction.js';
import { tempoBeat } from '../theory/metre.js';
import { midi, sameClass } from '../theory/pitch.js';
import { beamGroups, slurGroups } from './groups.js';

export type BreathReason =
  | 'turnaround'
  | 'end-of-set'
  | 'end-of-key'
  | 'after-long-note'
  | 'before-leap'
  | 'inside-key'
  | 'inside-beam'
  | 'inside-slur';

/**
 * Cost of a breath by its place: the one table, in small whole numbers (few different sums keep the search short). The order is that of common practice (at phrase ends first, after a long
 * note, before a skip rather than a step, in the same places of repeated patterns); the sizes are a house choice. The last
 * two are forbidden: they are used only where the air would run out without them.
 */
export const PLACE_COST: Readonly<Record<BreathReason, number>> = {
  turnaround: 0,
  'end-of-set': 1,
  'end-of-key': 2,
  'after-long-note': 4,
  'before-leap': 5,
  'inside-key': 8,
  'inside-beam': 16,
  'inside-slur': 20,
};

/** Added to the place's cost. (Common practice; sizes a house choice.) */
export const EXTRA_COST = {
  /** The next note is a second away or the same. */
  beforeStep: 1,
  /** Between a leading note and its tonic. */
  leadingNote: 4,
  /** Before the last note of a statement or of the line. */
  beforeLastNote: 4,
} as const;

const FORBIDDEN: ReadonlySet<BreathReason> = new Set(['inside-beam', 'inside-slur']);

/** Semitones of a leap worth breathing before: a fourth. (House choice.) */
const LEAP = 5;

/** How much longer than the line's usual note a long note is. (House choice.) */
const LONG = 1.5;

export type Candidate = {
  /** Index of the note after which the breath is taken. */
  readonly afterEvent: number;
  readonly reason: BreathReason;
  readonly cost: number;
  readonly forbidden: boolean;
};

/** The middle duration of the line's notes, in whole notes. */
function usualDuration(notes: readonly LineNote[]): number {
  const lengths = notes.map((note) => toNumber(note.duration)).sort((a, b) => a - b);
  return lengths[(lengths.length - 1) >> 1] ?? 0;
}

function joinReason(line: Line, note: LineNote, next: LineNote): BreathReason | undefined {
  if (note.statement === next.statement) return undefined;
  if (line.turnaround !== undefined && note.statement < line.turnaround && next.statement >= line.turnaround) return 'turnaround';
  const sets = [line.statements[note.statement]?.set, line.statements[next.statement]?.set];
  return sets[1] !== undefined && sets[0] !== sets[1] ? 'end-of-set' : 'end-of-key';
}

/** A semitone up to the tonic of the same statement. */
function resolves(line: Line, note: LineNote, next: LineNote): boolean {
  const root = line.statements[next.statement]?.root;
  return (
    note.statement === next.statement &&
    root !== undefined &&
    sameClass(next.written, root) &&
    midi(next.written) - midi(note.written) === 1
  );
}

/** Every candidate of a line, in order, with its reason and cost. */
export function breathCandidates(line: Line): readonly Candidate[] {
  const slurs = slurGroups(line);
  const beams = beamGroups(line);
  const notes = line.events.filter((event): event is LineNote => event.kind === 'note');
  const usual = usualDuration(notes);
  const last = notes.at(-1);
  const lastOfStatement = (event: LineEvent): boolean => {
    const after = line.events[event.index + 1];
    return !after || after.statement !== event.statement;
  };
  const found: Candidate[] = [];
  for (let i = 0; i + 1 < line.events.length; i++) {
    const note = line.events[i] as LineEvent;
    const next = line.events[i + 1] as LineEvent;
    if (note.kind === 'rest' || next.kind === 'rest') continue;
    const interval = Math.abs(midi(next.written) - midi(note.written));
    const join = joinReason(line, note, next);
    let reason: BreathReason;
    if (slurs[i] !== -1 && slurs[i] === slurs[i + 1]) reason = 'inside-slur';
    else if (beams[i] !== -1 && beams[i] === beams[i + 1]) reason = 'inside-beam';
    else if (join) reason = join;
    else if (toNumber(note.duration) >= LONG * usual) reason = 'after-long-note';
    else if (interval >= LEAP) reason = 'before-leap';
    else reason = 'inside-key';
    let cost = PLACE_COST[reason];
    if (interval <= 2) cost += EXTRA_COST.beforeStep;
    if (resolves(line, note, next)) cost += EXTRA_COST.leadingNote;
    if (next === last || (!join && lastOfStatement(next))) cost += EXTRA_COST.beforeLastNote;
    found.push({ afterEvent: i, reason, cost, forbidden: FORBIDDEN.has(reason) });
  }
  return found;
}

/**
 * A line as the search sees it, in flat arrays: one step for each candidate and each rest, in order of time. Times are in
 * whole notes and independent of the tempo.
 */
export type Steps = {
  readonly count: number;
  /** Number of the candidate, or -1 for a rest. */
  readonly candidate: Int32Array;
  /** Sounding time since the step before, up to this step. */
  readonly play: Float64Array;
  /** Duration of the note before a candidate; of a rest, its own. */
  readonly span: Float64Array;
  readonly cost: Float64Array;
  readonly forbidden: Uint8Array;
  /** Index of the note before a candidate, or of the rest. */
  readonly event: Int32Array;
  /** Sounding time after the last step. */
  readonly tail: number;
};

export type Places = {
  readonly candidates: readonly Candidate[];
  /** Steps at every candidate and rest. */
  readonly all: Steps;
  /**
   * What the search tries in turn: without the forbidden candidates and none within a beat of a better one, then at any
   * distance, then the forbidden ones too, a beat apart, then all. A set that equals the one before it is left out. Each is
   * made when it is asked for: most lines need the first alone.
   */
  readonly choices: () => Iterable<Steps>;
};

function stepsOf(line: Line, candidates: readonly Candidate[]): Steps {
  const count = candidates.length + line.events.filter((event) => event.kind === 'rest').length;
  const candidateOf = new Int32Array(count).fill(-1);
  const play = new Float64Array(count);
  const span = new Float64Array(count);
  const cost = new Float64Array(count);
  const forbidden = new Uint8Array(count);
  const events = new Int32Array(count);
  let sounding = 0;
  let step = 0;
  let next = 0;
  for (const event of line.events) {
    const length = toNumber(event.duration);
    const candidate = candidates[next];
    if (event.kind === 'note') {
      sounding += length;
      if (candidate?.afterEvent !== event.index) continue;
      candidateOf[step] = next++;
      cost[step] = candidate.cost;
      forbidden[step] = candidate.forbidden ? 1 : 0;
    }
    play[step] = sounding;
    span[step] = length;
    events[step++] = event.index;
    sounding = 0;
  }
  return { count, candidate: candidateOf, play, span, cost, forbidden, event: events, tail: sounding };
}

/**
 * Marks the steps to keep so that no two candidates stand within a beat of each other: the better place stays, the earlier of
 * two equal ones. Two breaths after hardly a note are no way to play. Independent of the tempo, so that a breath which
 * serves at one tempo may serve at a faster one.
 */
function spaced(steps: Steps, beat: number): Uint8Array {
  const ends = new Float64Array(steps.count);
  let now = 0;
  for (let step = 0; step < steps.count; step++) {
    now += steps.play[step] as number;
    ends[step] = now;
    if (steps.candidate[step] === -1) now += steps.span[step] as number;
  }
  const rank = (step: number): number => (steps.forbidden[step] as number) * 1e9 + (steps.cost[step] as number);
  const order = Array.from({ length: steps.count }, (_, step) => step).sort((a, b) => rank(a) - rank(b) || a - b);
  const kept = new Uint8Array(steps.count);
  const taken = new Map<number, number[]>();
  for (const step of order) {
    if (steps.candidate[step] === -1) {
      kept[step] = 1;
      continue;
    }
    const at = ends[step] as number;
    const cell = Math.floor(at / beat);
    const near = [cell - 1, cell, cell + 1].some((c) => taken.get(c)?.some((other) => Math.abs(other - at) < beat - 1e-9));
    if (near) continue;
    kept[step] = 1;
    taken.set(cell, [...(taken.get(cell) ?? []), at]);
  }
  return kept;
}

/** The steps marked in `kept`; the same object where all are. */
function only(all: Steps, kept: Uint8Array): Steps {
  const count = kept.reduce((sum, one) => sum + one, 0);
  if (count === all.count) return all;
  const [candidate, event] = [new Int32Array(count), new Int32Array(count)];
  const forbidden = new Uint8Array(count);
  const [play, span, cost] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  let sounding = 0;
  let to = 0;
  for (let step = 0; step < all.count; step++) {
    sounding += all.play[step] as number;
    if (kept[step] === 0) continue;
    candidate[to] = all.candidate[step] as number;
    event[to] = all.event[step] as number;
    span[to] = all.span[step] as number;
    cost[to] = all.cost[step] as number;
    forbidden[to] = all.forbidden[step] as number;
    play[to++] = sounding;
    sounding = 0;
  }
  return { count, candidate, play, span, cost, forbidden, event, tail: sounding + all.tail };
}

/** `made` holds what was asked for before. */
function* choicesOf(all: Steps, beat: number, made: (Steps | undefined)[]): Generator<Steps> {
  const at = (i: number, make: () => Steps): Steps => {
    made[i] ??= make();
    return made[i];
  };
  const allowed = at(0, () =>
    only(
      all,
      all.forbidden.map((one) => 1 - one),
    ),
  );
  const apart = at(1, () => only(allowed, spaced(allowed, beat)));
  yield apart;
  if (allowed !== apart) yield allowed;
  const allApart = at(2, () => only(all, spaced(all, beat)));
  if (allApart !== allowed) yield allApart;
  if (all !== allApart) yield all;
}

/** A line is planned at several tempos, one after another: what depends on the line alone is worked out once and soon let go. */
const known = new Map<Line, Places>();
const KEPT = 2;

export function placesOf(line: Line): Places {
  const found = known.get(line);
  if (found) return found;
  const candidates = breathCandidates(line);
  const all = stepsOf(line, candidates);
  const beat = toNumber(line.exercise.tempo?.beat ?? tempoBeat(line.exercise.metre));
  const made: (Steps | undefined)[] = [];
  const places = { candidates, all, choices: () => choicesOf(all, beat, made) };
  if (known.size >= KEPT) known.delete(known.keys().next().value as Line);
  known.set(line, places);
  return places;
}
