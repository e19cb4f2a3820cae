/** Line → bars: cut at barlines, written with ties, signed with accidentals, beamed, and marked where statements begin. */
import { at, first } from '../base/list.js';
import type { Exercise } from '../exercise/exercise.js';
import type { Line, LineEvent } from '../player/line.js';
import { add, compare, div, equal, type Fraction, frac, less, min, mod, mul, sub, ZERO } from '../theory/fraction.js';
import { keyFifths } from '../theory/key.js';
import { barLength, type Metre } from '../theory/metre.js';
import { singleValue, split } from '../theory/notate.js';
import { type Altered, signBar } from './accidentals.js';
import type { Bar, BarEvent, Barline, BarTuplet, Score, SlurSpan, StatementStart } from './bar.js';
import { beamGroups } from './beam-groups.js';

type Group = { start: Fraction; end: Fraction; actual: number; normal: number; id: number };

/** A written piece with its absolute onset, before it is put in its bar. */
type Piece = {
  event: LineEvent;
  at: Fraction;
  duration: Fraction;
  base: Fraction;
  dots: number;
  group?: Group;
  tieIn: boolean;
  tieOut: boolean;
};

const barOf = (at: Fraction, bar: Fraction): number => Math.floor((at.n * bar.d) / (at.d * bar.n));

/** Cuts a stretch at barlines. */
function cut(from: Fraction, to: Fraction, bar: Fraction): [Fraction, Fraction][] {
  const parts: [Fraction, Fraction][] = [];
  let at = from;
  while (compare(at, to) < 0) {
    const end = min(to, mul(bar, frac(barOf(at, bar) + 1)));
    parts.push([at, end]);
    at = end;
  }
  return parts;
}

function writtenPieces(
  from: Fraction,
  to: Fraction,
  metre: Metre,
  rest: boolean,
  group: Group | undefined,
): Omit<Piece, 'event' | 'tieIn' | 'tieOut'>[] {
  const bar = barLength(metre);
  return cut(from, to, bar).flatMap(([start, end]) => {
    const duration = sub(end, start);
    if (group) {
      const ratio = frac(group.normal, group.actual);
      const value = singleValue(div(duration, ratio));
      if (value) return [{ at: start, duration, base: value.base, dots: value.dots, group }];
      let at = start;
      return split(ZERO, div(duration, ratio), metre, rest).map((v) => {
        const piece = { at, duration: mul(v.duration, ratio), base: v.base, dots: v.dots, group };
        at = add(at, piece.duration);
        return piece;
      });
    }
    if (rest && equal(duration, bar)) return [{ at: start, duration, base: frac(1), dots: 0 }];
    let at = start;
    return split(mod(start, bar), duration, metre, rest).map((v) => {
      const piece = { at, duration: v.duration, base: v.base, dots: v.dots };
      at = add(at, v.duration);
      return piece;
    });
  });
}

/** A tuplet of nothing but rests is written as the rest it is: its parts become one event of the whole length. */
function withPlainRests(events: readonly LineEvent[]): LineEvent[] {
  const out: LineEvent[] = [];
  for (let i = 0; i < events.length; ) {
    const event = at(events, i);
    const { tuplet } = event.value;
    const close = tuplet && add(event.onset, tuplet.total);
    let next = i + 1;
    if (close) while (next < events.length && compare(at(events, next).onset, close) < 0) next++;
    const group = events.slice(i, next);
    const last = group.at(-1) as LineEvent;
    if (event.kind === 'rest' && close && group.every((one) => one.kind === 'rest') && equal(add(last.onset, last.duration), close)) {
      const duration = sub(close, event.onset);
      out.push({ ...event, duration, value: { base: duration, dots: 0, duration } });
    } else out.push(...group);
    i = next;
  }
  return out;
}

function piecesOf(line: Line): Piece[] {
  const metre = line.exercise.metre;
  const pieces: Piece[] = [];
  let group: Group | undefined;
  let groups = 0;
  for (const event of withPlainRests(line.events)) {
    const end = add(event.onset, event.duration);
    if (group && compare(event.onset, group.end) >= 0) group = undefined;
    if (!group && event.value.tuplet) {
      const { actual, normal, total } = event.value.tuplet;
      const close = add(event.onset, total);
      // A note that fills the whole group and goes on needs no tuplet.
      if (less(end, close)) group = { start: event.onset, end: close, actual, normal, id: groups++ };
    }
    const inside = group ? min(end, group.end) : event.onset;
    const rest = event.kind === 'rest';
    const own = [
      ...(group ? writtenPieces(event.onset, inside, metre, rest, group) : []),
      ...(compare(inside, end) < 0 ? writtenPieces(inside, end, metre, rest, undefined) : []),
    ];
    own.forEach((piece, i) => {
      // Written out, not spread: every piece of a book then has one hidden class, which halves the cost of reading them.
      pieces.push({
        event,
        at: piece.at,
        duration: piece.duration,
        base: piece.base,
        dots: piece.dots,
        group: piece.group,
        tieIn: !rest && i > 0,
        tieOut: !rest && i < own.length - 1,
      });
    });
  }
  return pieces;
}

/** Signatures only where every statement begins at a barline; otherwise accidentals, whatever the exercise wishes. */
export function usesSignatures(line: Line): boolean {
  const bar = barLength(line.exercise.metre);
  return line.exercise.signs === 'signature' && line.statements.every((s) => mod(s.onset, bar).n === 0);
}

function tupletsOf(pieces: readonly Piece[]): BarTuplet[] {
  const ids = [...new Set(pieces.flatMap((p) => (p.group ? [p.group.id] : [])))];
  return ids.map((id) => {
    const events = pieces.flatMap((p, i) => (p.group?.id === id ? [i] : []));
    const { actual, normal } = at(pieces, first(events)).group as Group;
    return { actual, normal, events };
  });
}

function barEvent(piece: Piece, start: Fraction, bar: Fraction, tuplets: readonly number[]): BarEvent {
  const { event, duration, base, dots, tieIn, tieOut } = piece;
  const onset = sub(piece.at, start);
  const tuplet = piece.group ? tuplets.indexOf(piece.group.id) : undefined;
  if (event.kind === 'rest') return { kind: 'rest', event: event.index, onset, duration, base, dots, tuplet, full: equal(duration, bar) };
  return { kind: 'note', event: event.index, onset, duration, base, dots, tuplet, pitch: event.written, tieIn, tieOut, sign: undefined };
}

/** Events of each statement; the closing note, which belongs to none, is left out. */
function byStatement(line: Line): LineEvent[][] {
  const all: LineEvent[][] = line.statements.map(() => []);
  for (const event of line.events) all[event.statement]?.push(event);
  return all;
}

/** Slurs over the notes of each statement, by the exercise's groups; a rest ends a slur. */
export function slurSpans(line: Line): SlurSpan[] {
  const { groups } = line.exercise.articulation;
  if (groups !== 'all' && groups.every((g) => g < 2)) return [];
  const spans: SlurSpan[] = [];
  for (const events of byStatement(line)) {
    let at = 0;
    for (let g = 0; at < events.length; g++) {
      const size = groups === 'all' ? events.length : (groups[g % groups.length] as number);
      const members = events.slice(at, at + size);
      const rest = members.findIndex((e) => e.kind === 'rest');
      const slurred = rest < 0 ? members : members.slice(0, rest);
      if (slurred.length > 1) spans.push({ from: slurred[0]?.index as number, to: slurred.at(-1)?.index as number });
      at += rest < 0 ? size : rest + 1;
    }
  }
  return spans;
}

function articulationMarks(line: Line, slurs: readonly SlurSpan[]): Score['marks'] {
  const { mark } = line.exercise.articulation;
  const marks = new Map<number, 'staccato' | 'accent' | 'tenuto'>();
  if (!mark) return marks;
  let s = 0;
  for (const event of line.events) {
    while (s < slurs.length && at(slurs, s).to < event.index) s++;
    const slur = slurs[s];
    if (event.kind === 'note' && !(slur && slur.from <= event.index) && event.statement < line.statements.length)
      marks.set(event.index, mark);
  }
  return marks;
}

function barlineAfter(index: number, last: number, turnaround: boolean, keyChange: boolean): Barline {
  if (index === last) return 'final';
  return turnaround || keyChange ? 'double' : 'single';
}

/** `breaths`: where the player breathes, by the event before. */
export function barsOf(line: Line, breaths: Score['breaths'] = new Map()): Score {
  const exercise: Exercise = line.exercise;
  const metre = exercise.metre;
  const length = barLength(metre);
  const count = barOf(line.duration, length);
  const signatures = usesSignatures(line);
  const byBar: Piece[][] = Array.from({ length: count }, () => []);
  for (const piece of piecesOf(line)) byBar[barOf(piece.at, length)]?.push(piece);
  const starts: StatementStart[][] = Array.from({ length: count }, () => []);
  // A statement that begins with a rest is named over its first note.
  const firstNote = new Map<number, LineEvent>();
  for (const event of line.events) if (event.kind === 'note' && !firstNote.has(event.statement)) firstNote.set(event.statement, event);
  const keyAt = new Map<number, number>();
  for (const s of line.statements) {
    const note = firstNote.get(s.index);
    if (note) starts[barOf(note.onset, length)]?.push({ statement: s.index, event: note.index, key: s.writtenKey });
    keyAt.set(barOf(s.onset, length), keyFifths(s.writtenKey));
  }
  const boundaries = new Set(line.statements.map((s) => `${s.onset.n}/${s.onset.d}`));
  const turn = line.turnaround === undefined ? undefined : line.statements[line.turnaround]?.onset;

  let fifths = signatures ? keyFifths(first(line.statements).writtenKey) : 0;
  let altered: Altered = new Set();
  const fifthsOf = byBar.map((_, i) => {
    if (signatures) fifths = keyAt.get(i) ?? fifths;
    return fifths;
  });
  const bars = byBar.map((pieces, index): Bar => {
    const start = mul(length, frac(index));
    const end = add(start, length);
    const tuplets = tupletsOf(pieces);
    const ids = [...new Set(pieces.flatMap((p) => (p.group ? [p.group.id] : [])))];
    const own = at(fifthsOf, index);
    const before = fifthsOf[index - 1];
    if (before !== undefined && before !== own) altered = new Set();
    const signed = signBar(
      pieces.map((p) => barEvent(p, start, length, ids)),
      own,
      altered,
    );
    altered = signed.altered;
    const turnaround = turn !== undefined && equal(turn, end);
    return {
      index,
      length,
      events: signed.events,
      fifths: own,
      ...(before !== undefined && before !== own ? { fifthsBefore: before } : {}),
      tuplets,
      beams: beamGroups(signed.events, metre),
      barline: barlineAfter(index, count - 1, turnaround, (fifthsOf[index + 1] ?? own) !== own),
      starts: at(starts, index),
      cutsStatement: index < count - 1 && !boundaries.has(`${end.n}/${end.d}`),
      turnaround,
    };
  });
  const slurs = slurSpans(line);
  return { bars, slurs, marks: articulationMarks(line, slurs), breaths };
}
