/** Which notes of a line hang together: under a slur, or under a beam. One group number for each event, -1 for none. */
import type { Line, LineEvent } from '../player/line.js';
import { add, compare, type Fraction, frac, min, mod, sub, sum, ZERO } from '../theory/fraction.js';
import { barLength, beatLengths, eighthGroups, type Metre } from '../theory/metre.js';
import { split } from '../theory/notate.js';

/**
 * Slurs of the articulation pattern: sizes in turn from the first note of each statement, started again in the next; a rest
 * ends a slur.
 */
export function slurGroups(line: Line): Int32Array {
  const groups = new Int32Array(line.events.length).fill(-1);
  const sizes = line.exercise.articulation.groups;
  if (sizes !== 'all' && sizes.length === 0) return groups;
  let statement = -1;
  let group = -1;
  let pattern = 0;
  let left = 0;
  for (const event of line.events) {
    if (event.statement !== statement) {
      statement = event.statement;
      pattern = 0;
      left = 0;
    }
    if (event.kind === 'rest') {
      // It also takes the place of the rest of its slur, or of one that would begin here.
      if (left === 0) pattern++;
      left = 0;
      continue;
    }
    if (left === 0) {
      left = sizes === 'all' ? Number.POSITIVE_INFINITY : (sizes[pattern++ % sizes.length] as number);
      group++;
    }
    left--;
    groups[event.index] = group;
  }
  return groups;
}

const EIGHTH = frac(1, 8);

/** Starts of the spans of a bar. */
const starts = (spans: readonly Fraction[]): Fraction[] => spans.map((_, i) => sum(spans.slice(0, i)));

/** Number of the span in which a place of the bar lies. */
function spanAt(place: Fraction, spanStarts: readonly Fraction[]): number {
  let at = 0;
  while (at + 1 < spanStarts.length && compare(spanStarts[at + 1] as Fraction, place) <= 0) at++;
  return at;
}

/** Beats for notes shorter than an eighth: quarters also where the beat is a half note. */
const shortGroups = (metre: Metre): readonly Fraction[] =>
  metre.unit === 2 ? Array.from({ length: metre.beats * 2 }, () => frac(1, 4)) : beatLengths(metre);

/** More than a bar has spans: bar numbers times this, plus a span, number the spans of a line. */
const SPANS = 16;

/** Numbers the tuplet groups of a line: events of one group share a number, others have -1. */
function tupletGroups(events: readonly LineEvent[]): Int32Array {
  const groups = new Int32Array(events.length).fill(-1);
  let group = -1;
  let left = ZERO;
  for (const { index, value, duration } of events) {
    if (!value.tuplet) {
      left = ZERO;
      continue;
    }
    if (left.n <= 0) {
      group++;
      left = value.tuplet.total;
    }
    left = sub(left, duration);
    groups[index] = group;
  }
  return groups;
}

/** A note value as printed: an event, or a part of one that is tied. */
type Piece = { readonly event: LineEvent; readonly onset: Fraction; readonly base: Fraction };

/** The values in which a note is printed: those of a tuplet as they are, others parted at barlines and where the beat must show. */
function piecesOf(event: LineEvent, metre: Metre): Piece[] {
  const { onset, duration, value } = event;
  if (event.kind === 'rest' || value.tuplet) return [{ event, onset, base: value.base }];
  const bar = barLength(metre);
  const pieces: Piece[] = [];
  const end = add(onset, duration);
  for (let at = onset; compare(at, end) < 0; ) {
    const place = mod(at, bar);
    for (const { base, duration: own } of split(place, min(sub(end, at), sub(bar, place)), metre, false)) {
      pieces.push({ event, onset: at, base });
      at = add(at, own);
    }
  }
  return pieces;
}

/**
 * Beams by the metre: eighths and longer by its groups of eighths, a group with anything shorter by its beats, each tuplet
 * by itself; never across a rest, a longer note or a barline. A note that is tied into a beam hangs together with the notes
 * under it, and with those under the beam it comes from. (Gould, Behind Bars, p. 153, second-hand; common practice.)
 */
export function beamGroups(line: Line): Int32Array {
  const { metre } = line.exercise;
  const bar = barLength(metre);
  const wide = starts(eighthGroups(metre));
  const narrow = starts(shortGroups(metre));
  const tuplets = tupletGroups(line.events);
  const pieces = line.events.flatMap((event) => piecesOf(event, metre));
  const tupletOf = ({ event }: Piece): number => tuplets[event.index] as number;
  const places = pieces.map(({ onset }) => mod(onset, bar));
  const spans = pieces.map(
    ({ onset }, i) => SPANS * Math.floor((onset.n * bar.d) / (onset.d * bar.n)) + spanAt(places[i] as Fraction, wide),
  );
  const mixed = new Set(spans.filter((_, i) => tupletOf(pieces[i] as Piece) !== -1 || compare((pieces[i] as Piece).base, EIGHTH) < 0));

  const groups = new Int32Array(line.events.length).fill(-1);
  let group = -1;
  let count = 0;
  let before = -1;
  pieces.forEach((piece, i) => {
    const { event, base } = piece;
    if (event.kind === 'rest' || compare(base, EIGHTH) > 0) {
      before = -1;
      return;
    }
    const span = spans[i] as number;
    const tuplet = tupletOf(piece);
    // Three kinds of group, told apart by their remainder.
    let own = 3 * span;
    if (tuplet !== -1) own = 3 * tuplet + 1;
    else if (mixed.has(span)) own = 3 * (SPANS * span + spanAt(places[i] as Fraction, narrow)) + 2;
    const known = groups[event.index] as number;
    if (own !== before) group = known === -1 ? count++ : known;
    before = own;
    groups[event.index] = group;
  });
  return groups;
}
