/**
 * Widths of bars before anything is drawn. Every note and rest is a column; between columns stands a spring whose
 * ideal length follows the duration, and a rod that keeps the ink apart (springs and rods: Haken & Blostein, ICMC 1995).
 */
import { at } from '../base/list.js';
import type { Line } from '../player/line.js';
import type { Clef } from '../player/player.js';
import { toNumber } from '../theory/fraction.js';
import { stepOf } from '../theory/pitch.js';
import type { Bar, BarEvent, Score } from './bar.js';
import { beamCount } from './beam-groups.js';
import { beamUp, stemUp } from './draw/stems.js';
import { accidentalGlyph, GLYPH, stepY } from './glyphs.js';
import type { Fonts } from './metrics.js';
import { degreeText, signedWidth } from './signed-text.js';
import { idealAdvance, STYLE } from './style.js';

export type Spring = {
  /** Advance at natural setting without the allowance, in spaces. */
  readonly ideal: number;
  /** Added at any setting: room for the next column's accidental. */
  readonly allowance: number;
  /** Least advance. */
  readonly rod: number;
};

export type EventShape = {
  /** y of the head (notes), 2 for rests. */
  readonly y: number;
  readonly up: boolean;
  readonly headWidth: number;
  readonly headGlyph: number;
  /** Ink left of the head's left edge. */
  readonly left: number;
  /** Ink right of the head's left edge. */
  readonly right: number;
  /** First augmentation dot, from the head's left edge. */
  readonly dotX: number;
};

export type BarShape = {
  readonly bar: Bar;
  readonly events: readonly EventShape[];
  /** From the barline (or header) to the first head. */
  readonly lead: number;
  /** Ink of the first event left of its head: decides the gap after a header. */
  readonly firstLeft: number;
  /** One for each event: to the next head, the last to the barline. */
  readonly springs: readonly Spring[];
  /** Change of signature at the bar's start, when it does not start a system. */
  readonly change: number;
  readonly barline: number;
};

export type ScoreShape = {
  readonly line: Line;
  readonly score: Score;
  readonly clef: Clef;
  readonly fonts: Fonts;
  readonly bars: readonly BarShape[];
  readonly labels: ReadonlyMap<number, string>;
};

export function barlineWidth(kind: Bar['barline']): number {
  if (kind === 'final') return STYLE.thinBarline + STYLE.barlineSeparation + STYLE.thickBarline;
  return kind === 'double' ? 2 * STYLE.thinBarline + STYLE.barlineSeparation : STYLE.thinBarline;
}

export function headGlyph(event: BarEvent): number {
  if (event.kind === 'rest') {
    const rests = [GLYPH.restWhole, GLYPH.restHalf, GLYPH.restQuarter, GLYPH.rest8th, GLYPH.rest16th, GLYPH.rest32nd];
    return at(rests, Math.round(Math.log2(event.base.d)));
  }
  return event.base.d === 1 ? GLYPH.noteheadWhole : event.base.d === 2 ? GLYPH.noteheadHalf : GLYPH.noteheadBlack;
}

export function accidentalWidth(alter: number, fonts: Fonts): number {
  const box = fonts.glyph(accidentalGlyph(alter));
  const gap = alter < 0 ? STYLE.accidentalGap.flat : alter === 0 ? STYLE.accidentalGap.natural : STYLE.accidentalGap.sharp;
  return box.x1 - box.x0 + gap;
}

/** Width of the signs of a key signature, with those of the cancelled one that turn to naturals. */
export function signatureWidth(fifths: number, cancel: number, fonts: Fonts): number {
  const signs = Math.abs(fifths) + cancel;
  if (signs === 0) return 0;
  const step = fifths > 0 ? STYLE.keyStep.sharp : fifths < 0 ? STYLE.keyStep.flat : STYLE.keyStep.natural;
  const last = fonts.glyph(fifths > 0 ? GLYPH.accidentalSharp : fifths < 0 ? GLYPH.accidentalFlat : GLYPH.accidentalNatural);
  return step * (signs - 1) + last.x1;
}

/** Naturals are shown only when going to no signs at all (W3C MusicXML 4.0, `cancel`; modern practice). */
export const cancelled = (before: number | undefined, now: number): number => (before !== undefined && now === 0 ? Math.abs(before) : 0);

/** Distance from a dot to the next. */
export const DOT_STEP = 0.7;

/** Room of augmentation dots from the edge they keep their gap to. */
const dotsWidth = (dots: number): number => (dots === 0 ? 0 : STYLE.dotGap + 0.5 + (dots - 1) * DOT_STEP);

function eventShape(event: BarEvent, up: boolean, beamed: boolean, clef: Clef, fonts: Fonts, label: string | undefined): EventShape {
  const glyph = headGlyph(event);
  const box = fonts.glyph(glyph);
  const labelHalf = label ? signedWidth(fonts, 'roman', STYLE.size.degree, degreeText(label)) / 2 - 0.08 : 0;
  if (event.kind === 'rest')
    return {
      y: 2,
      up: false,
      headWidth: box.x1,
      headGlyph: glyph,
      left: 0,
      right: box.x1 + dotsWidth(event.dots),
      dotX: box.x1 + STYLE.dotGap,
    };
  const y = stepY(stepOf(event.pitch), clef);
  const ledger = y <= -1 || y >= 5 ? STYLE.ledgerTight + STYLE.ledgerApart / 2 - STYLE.gap / 2 : 0;
  const flagged = !beamed && up && beamCount(event.base) > 0;
  const flagEnd = flagged ? box.x1 - STYLE.stem + fonts.glyph(GLYPH.flag8thUp).x1 : 0;
  // The dot of a note with an upward flag stands clear of the flag.
  const dotX = Math.max(box.x1 + STYLE.dotGap, flagged ? flagEnd + STYLE.dotGap / 2 : 0);
  const dotEnd = event.dots > 0 ? dotX - STYLE.dotGap + dotsWidth(event.dots) : 0;
  const left = Math.max(event.sign ? accidentalWidth(event.sign.alter, fonts) : 0, ledger, labelHalf - box.x1 / 2);
  return {
    y,
    up,
    headWidth: box.x1,
    headGlyph: glyph,
    left,
    right: Math.max(box.x1 + ledger, flagEnd, dotEnd, box.x1 / 2 + labelHalf),
    dotX,
  };
}

/** Direction of each note's stem: shared under a beam. */
function directions(bar: Bar, clef: Clef): { up: boolean[]; beamed: boolean[] } {
  const ys = bar.events.map((e) => (e.kind === 'note' ? stepY(stepOf(e.pitch), clef) : 2));
  const up = ys.map((y) => stemUp(y));
  const beamed = ys.map(() => false);
  for (const group of bar.beams) {
    const shared = beamUp(group.map((i) => at(ys, i)));
    for (const i of group) {
      up[i] = shared;
      beamed[i] = true;
    }
  }
  return { up, beamed };
}

/** A comma stands after its note and before the next sign, so there must be room for it. */
const breathWidth = (fonts: Fonts): number => fonts.glyph(GLYPH.breathMarkComma).x1 * STYLE.breath.size + 0.1;

export function shapeBar(
  bar: Bar,
  clef: Clef,
  fonts: Fonts,
  labels: ReadonlyMap<number, string>,
  breaths: Score['breaths'] = new Map(),
): BarShape {
  const { up, beamed } = directions(bar, clef);
  const events = bar.events.map((e, i) =>
    eventShape(e, at(up, i), at(beamed, i), clef, fonts, e.kind === 'note' && !e.tieIn ? labels.get(e.event) : undefined),
  );
  const springs = bar.events.map((event, i): Spring => {
    const shape = at(events, i);
    const next = events[i + 1];
    const advance = idealAdvance(toNumber(event.duration)) * STYLE.openness;
    const sign = bar.events[i + 1];
    const allowance = sign?.kind === 'note' && sign.sign ? STYLE.accidentalAllowance : 0;
    const comma = breaths.has(event.event) ? shape.headWidth + breathWidth(fonts) : 0;
    if (next) return { ideal: advance, allowance, rod: Math.max(shape.right + STYLE.gap, comma) + next.left };
    // At the end of a system parentheses may not stand out over the margin.
    const closing = breaths.get(event.event)?.parenthesised ? comma + fonts.width('roman', ')') * STYLE.breath.parenthesis : comma;
    return { ideal: advance, allowance: -0.4, rod: Math.max(shape.right + STYLE.noteToBarline, closing) };
  });
  const firstLeft = events[0]?.left ?? 0;
  const lead = Math.max(STYLE.barlineToNote, firstLeft > 0 ? STYLE.barlineToAccidental + firstLeft : 0);
  const change =
    bar.fifthsBefore === undefined
      ? 0
      : 1 + signatureWidth(bar.fifths, cancelled(bar.fifthsBefore, bar.fifths), fonts) + STYLE.afterMidKey - STYLE.barlineToNote;
  return { bar, events, lead, firstLeft, springs, change, barline: barlineWidth(bar.barline) };
}

/** Degree numbers under the first statement, by event index. */
function degreeLabels(line: Line): Map<number, string> {
  const labels = new Map<number, string>();
  if (line.exercise.degreeNumbers) for (const e of line.events) if (e.kind === 'note' && e.statement === 0) labels.set(e.index, e.degree);
  return labels;
}

export function shapeScore(line: Line, score: Score, fonts: Fonts): ScoreShape {
  const clef = line.player.instrument.clef;
  const labels = degreeLabels(line);
  return { line, score, clef, fonts, labels, bars: score.bars.map((bar) => shapeBar(bar, clef, fonts, labels, score.breaths)) };
}
