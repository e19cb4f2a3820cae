/** One system of one staff: from placed bars to a drawing. */
import { at, first, last } from '../../base/list.js';
import { keyText } from '../../theory/key.js';
import type { Drawing, Mark } from '../drawing.js';
import { CLEF_GLYPH, CLEF_LINE, GLYPH, signatureYs, timeDigit } from '../glyphs.js';
import { digitsWidth, headerOf } from '../header.js';
import { drawingOf, type Ink, inkFor } from '../ink.js';
import { type BarShape, cancelled, type ScoreShape } from '../shape.js';
import { courtesyWidth, justify, type PlacedBar, place } from '../spacing.js';
import { STYLE } from '../style.js';
import { drawSlur, drawTie } from './curves.js';
import { drawBar, type NotePlace } from './notes.js';
import { groupInk, obstaclesOf } from './slur-obstacles.js';
import {
  type BreathPlace,
  drawArticulation,
  drawBarNumber,
  drawBreaths,
  drawDegrees,
  drawDynamic,
  drawKeyNames,
  drawTempo,
  drawTuplet,
} from './words.js';

export type SystemSpec = {
  /** Bars [from, to) of the exercise. */
  readonly from: number;
  readonly to: number;
  /** Width to fill; undefined sets the system at natural width. */
  readonly width: number | undefined;
};

function drawStaff(ink: Ink, width: number): void {
  const half = STYLE.staffLine / 2;
  for (let line = 0; line <= 4; line++) ink.rect('staff-line', {}, 0, line - half, width, line + half);
}

/** Signs of a signature from x on, cancelling naturals first. */
function drawSignature(ink: Ink, shape: ScoreShape, fifths: number, cancel: number, before: number, x: number, bar: number): void {
  const owner = { bar };
  if (cancel > 0) {
    signatureYs(before, shape.clef).forEach((y, i) => {
      ink.glyph('key-signature', owner, GLYPH.accidentalNatural, x + i * STYLE.keyStep.natural, y);
    });
    return;
  }
  const step = fifths > 0 ? STYLE.keyStep.sharp : STYLE.keyStep.flat;
  signatureYs(fifths, shape.clef).forEach((y, i) => {
    ink.glyph('key-signature', owner, fifths > 0 ? GLYPH.accidentalSharp : GLYPH.accidentalFlat, x + i * step, y);
  });
}

function drawHeader(ink: Ink, shape: ScoreShape, from: number): void {
  const header = headerOf(shape, from);
  const bar = at(shape.bars, from).bar;
  ink.glyph('clef', { bar: from }, CLEF_GLYPH[shape.clef], header.clefX, CLEF_LINE[shape.clef]);
  if (header.keyX !== undefined) drawSignature(ink, shape, bar.fifths, 0, 0, header.keyX, from);
  if (header.timeX === undefined) return;
  const { beats, unit } = shape.line.exercise.metre;
  for (const [value, y] of [
    [beats, 1],
    [unit, 3],
  ] as const) {
    let x = header.timeX + (header.timeWidth - digitsWidth(shape, value)) / 2;
    for (const d of String(value)) {
      ink.glyph('time-signature', { bar: from }, timeDigit(Number(d)), x, y);
      x += ink.fonts.glyph(timeDigit(Number(d))).advance;
    }
  }
}

function drawBarline(ink: Ink, shape: BarShape, x: number): void {
  const owner = { bar: shape.bar.index };
  const half = STYLE.staffLine / 2;
  const line = (at: number, width: number): void => ink.rect('barline', owner, at, -half, at + width, 4 + half);
  line(x, STYLE.thinBarline);
  if (shape.bar.barline === 'single') return;
  line(x + STYLE.thinBarline + STYLE.barlineSeparation, shape.bar.barline === 'final' ? STYLE.thickBarline : STYLE.thinBarline);
}

/** Ties inside the system, and halves of ties that cross its ends. */
function drawTies(
  ink: Ink,
  shape: ScoreShape,
  spec: SystemSpec,
  placed: readonly PlacedBar[],
  places: readonly NotePlace[],
  end: number,
): void {
  let n = 0;
  let open: NotePlace | undefined;
  for (let b = spec.from; b < spec.to; b++) {
    for (const event of at(shape.bars, b).bar.events) {
      if (event.kind === 'rest') continue;
      const note = at(places, n++);
      if (event.tieIn) drawTie(ink, open ?? first(placed).x + 0.6, note);
      open = event.tieOut ? note : undefined;
    }
  }
  if (open) drawTie(ink, open, end - 0.3);
}

function drawSlurs(
  ink: Ink,
  shape: ScoreShape,
  spec: SystemSpec,
  placed: readonly PlacedBar[],
  places: readonly NotePlace[],
  end: number,
): void {
  const first = places[0]?.event;
  const last = places.at(-1)?.event;
  if (first === undefined || last === undefined) return;
  const firstTied = at(shape.bars, spec.from).bar.events.some((e) => e.kind === 'note' && e.tieIn && e.event === first);
  const lastOpen =
    at(shape.bars, spec.to - 1).bar.events.some((e) => e.kind === 'note' && e.tieOut && e.event === last) &&
    spec.to < shape.bars.length &&
    tiedOn(shape, spec.to, last);
  const inkByEvent = shape.score.slurs.length > 0 ? groupInk(ink) : new Map<number, Mark[]>();
  for (const slur of shape.score.slurs) {
    if (slur.to < first || slur.from > last) continue;
    const inner = places.filter((p) => p.event >= slur.from && p.event <= slur.to);
    const a = slur.from < first || (slur.from === first && firstTied) ? at(placed, 0).x + 0.8 : at(inner, 0);
    const b = slur.to > last || (slur.to === last && lastOpen) ? end - 0.3 : (inner.at(-1) as NotePlace);
    if (typeof a !== 'number' && typeof b !== 'number' && a === b) continue;
    drawSlur(ink, { from: a, to: b, inner, obstacles: obstaclesOf(inkByEvent, slur, a, b) });
  }
}

const tiedOn = (shape: ScoreShape, bar: number, event: number): boolean =>
  at(shape.bars, bar).bar.events.some((e) => e.kind === 'note' && e.tieIn && e.event === event);

function drawTuplets(ink: Ink, shape: ScoreShape, spec: SystemSpec, placed: readonly PlacedBar[], places: readonly NotePlace[]): void {
  const byX = new Map(places.map((p) => [p.x, p]));
  for (let b = spec.from; b < spec.to; b++) {
    const bar = shape.bars[b] as BarShape;
    const at = placed[b - spec.from] as PlacedBar;
    for (const tuplet of bar.bar.tuplets) {
      const notes = tuplet.events.flatMap((i) => byX.get(at.heads[i] as number) ?? []);
      const first = tuplet.events[0] as number;
      const last = tuplet.events.at(-1) as number;
      drawTuplet(ink, tuplet, notes, at.heads[first] as number, (at.heads[last] as number) + (bar.events[last]?.headWidth ?? 1.2));
    }
  }
}

/** Breath marks of the system: each after the last printed note of its event. */
function breathPlaces(
  shape: ScoreShape,
  spec: SystemSpec,
  placed: readonly PlacedBar[],
  places: readonly NotePlace[],
  end: number,
): BreathPlace[] {
  const found: BreathPlace[] = [];
  let n = 0;
  for (let b = spec.from; b < spec.to; b++) {
    const bar = shape.bars[b] as BarShape;
    const at = placed[b - spec.from] as PlacedBar;
    bar.bar.events.forEach((event, i) => {
      if (event.kind === 'rest') return;
      const note = places[n++] as NotePlace;
      const breath = shape.score.breaths.get(event.event);
      if (!breath || event.tieOut) return;
      const next = bar.events[i + 1];
      const until = next ? (at.heads[i + 1] as number) - next.left : at.barlineX;
      found.push({ note, until, most: end, parenthesised: breath.parenthesised });
    });
  }
  return found;
}

/** First printed note of each event: tied continuations carry no words. */
function leading(places: readonly NotePlace[], shape: ScoreShape, spec: SystemSpec): NotePlace[] {
  const found: NotePlace[] = [];
  let n = 0;
  for (let b = spec.from; b < spec.to; b++) {
    for (const event of at(shape.bars, b).bar.events) {
      if (event.kind === 'rest') continue;
      const place = at(places, n++);
      if (!event.tieIn) found.push(place);
    }
  }
  return found;
}

/** `notes`: the first printed note of each event. */
function drawWords(ink: Ink, shape: ScoreShape, spec: SystemSpec, notes: readonly NotePlace[], width: number): void {
  const { exercise } = shape.line;
  drawDegrees(ink, notes, (event) => shape.labels.get(event));
  const first = notes[0];
  if (exercise.dynamic && spec.from === 0 && first) drawDynamic(ink, first, exercise.dynamic);
  if (exercise.keyNames) {
    const starts = new Map(shape.bars.slice(spec.from, spec.to).flatMap((b) => b.bar.starts.map((s) => [s.event, s.key] as const)));
    const firstOf = notes.flatMap((note) => {
      const key = starts.get(note.event);
      return key ? [{ note, text: keyText(key) }] : [];
    });
    drawKeyNames(ink, firstOf, width);
  }
  if (spec.from > 0) drawBarNumber(ink, spec.from + 1);
  if (exercise.tempo && spec.from === 0) drawTempo(ink, exercise.tempo, headerOf(shape, 0).timeX ?? 0);
}

/** Draws bars [from, to) over the width. Pure: the same spec gives the same marks in the same order. */
export function drawSystem(shape: ScoreShape, spec: SystemSpec): Drawing {
  const factor = spec.width === undefined ? 1 : justify(shape, spec.from, spec.to, spec.width);
  const { bars, width } = place(shape, spec.from, spec.to, factor);
  return drawPlaced(shape, spec, bars, width);
}

/** Draws bars whose places are known: in a score they are shared with the other staves. */
export function drawPlaced(shape: ScoreShape, spec: SystemSpec, placed: readonly PlacedBar[], width: number): Drawing {
  const ink = inkFor(width, shape.fonts);
  drawStaff(ink, width);
  drawHeader(ink, shape, spec.from);
  const places: NotePlace[] = [];
  placed.forEach((at, i) => {
    const bar = shape.bars[spec.from + i] as BarShape;
    if (i > 0 && bar.bar.fifthsBefore !== undefined) {
      drawSignature(
        ink,
        shape,
        bar.bar.fifths,
        cancelled(bar.bar.fifthsBefore, bar.bar.fifths),
        bar.bar.fifthsBefore,
        at.x + 1,
        bar.bar.index,
      );
    }
    places.push(...drawBar(ink, bar, at));
    drawBarline(ink, bar, at.barlineX);
  });
  const courtesy = courtesyWidth(shape, spec.to);
  const end = last(placed).barlineX + (shape.bars[spec.to - 1] as BarShape).barline;
  if (courtesy > 0) {
    const next = (shape.bars[spec.to] as BarShape).bar;
    drawSignature(ink, shape, next.fifths, cancelled(next.fifthsBefore, next.fifths), next.fifthsBefore as number, end + 0.8, next.index);
  }
  drawTies(ink, shape, spec, placed, places, last(placed).barlineX);
  const notes = leading(places, shape, spec);
  for (const note of notes) {
    const mark = shape.score.marks.get(note.event);
    if (mark) drawArticulation(ink, note, mark);
  }
  drawSlurs(ink, shape, spec, placed, places, last(placed).barlineX);
  drawTuplets(ink, shape, spec, placed, places);
  drawBreaths(ink, breathPlaces(shape, spec, placed, places, end));
  drawWords(ink, shape, spec, notes, width);
  return drawingOf(ink, width);
}
