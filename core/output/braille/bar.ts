/** One bar in music braille: a word of cells for each note or rest, with the octave marks that its place asks for. */
import { at as itemAt } from '../../base/list.js';
import type { Bar, BarNote, SlurSpan } from '../../engrave/bar.js';
import type { Line } from '../../player/line.js';
import { stepOf } from '../../theory/pitch.js';
import type { NotatedStaff } from '../notated-exercise.js';
import { accidentalCells, cells, lowerDigits, noteCell, repeated, restCell, SIGN, signatureCells, wordCells } from './cells.js';
import { barValues } from './values.js';

/**
 * Does a note need an octave mark? The first of a passage always; then none for a second or third, one for a sixth or more,
 * and one for a fourth or fifth that crosses into another octave. (Music Braille Code, BANA 1997, 2.1.2 to 2.1.5.)
 */
export function needsOctave(before: BarNote['pitch'] | undefined, now: BarNote['pitch']): boolean {
  if (!before) return true;
  const distance = Math.abs(stepOf(now) - stepOf(before));
  if (distance <= 2) return false;
  return distance >= 5 || now.octave !== before.octave;
}

/**
 * The slur signs behind a note: after every note but the last of a slur over two to four notes; over more, doubled after the
 * first and single after the last but one. (Music Braille Code, BANA 1997, 12.1 and 12.2 a.)
 */
function slurAfter(event: BarNote, { line, score }: NotatedStaff): string {
  if (event.tieOut) return '';
  const slur = score.slurs.find((one) => one.from <= event.event && event.event < one.to);
  if (!slur) return '';
  const notes = notesOf(slur, line);
  const place = notes.indexOf(event.event);
  if (notes.length <= 4) return SIGN.slur;
  if (place === 0) return SIGN.slur + SIGN.slur;
  return place === notes.length - 2 ? SIGN.slur : '';
}

const notesOf = (slur: SlurSpan, line: Line): number[] =>
  line.events.filter((event) => event.kind === 'note' && event.index >= slur.from && event.index <= slur.to).map((event) => event.index);

function tupletBefore(bar: Bar, at: number): string {
  const tuplet = bar.tuplets.find((one) => one.events[0] === at);
  if (!tuplet) return '';
  return tuplet.actual === 3 && tuplet.normal === 2 ? SIGN.triplet : SIGN.tupletFrom + lowerDigits(tuplet.actual) + SIGN.tupletTo;
}

/** One event: what stands before its octave mark, the note itself, and what follows it. */
export type Token = {
  readonly before: string;
  readonly pitch: BarNote['pitch'] | undefined;
  /** An octave mark must stand, whatever the interval. */
  readonly marked: boolean;
  readonly note: string;
};

/** What may not be parted by the end of a line: one event, or a group of short notes. */
export type Unit = {
  readonly tokens: readonly Token[];
  /** The same with every value written out, for a line that has no room for the group. */
  readonly plain: readonly Token[];
};

const dynamicCells = (line: Line, event: number): string => {
  const { dynamic } = line.exercise;
  const first = line.events.find((one) => one.kind === 'note');
  return dynamic && first?.index === event ? SIGN.word + wordCells(dynamic) : '';
};

const LEFT_DOTS = 0b111;

/** `eighth`: the note is one of a group and looks like an eighth. */
function tokenOf(bar: Bar, at: number, sign: string, eighth: boolean, context: NotatedStaff): Token {
  const event = itemAt(bar.events, at);
  const value = sign + tupletBefore(bar, at);
  const dots = SIGN.dot.repeat(event.kind === 'rest' && event.full ? 0 : event.dots);
  if (event.kind === 'rest') {
    return { before: value, pitch: undefined, marked: false, note: (event.full ? restCell(1) : restCell(event.base.d)) + dots };
  }
  const mark = event.tieIn ? undefined : context.score.marks.get(event.event);
  const lead = value + (mark ? SIGN[mark] : '') + (event.sign ? accidentalCells(event.sign.alter) : '');
  const word = event.tieIn ? '' : dynamicCells(context.line, event.event);
  // After words a sign with dots on its left needs a separator, and the note an octave mark. (New International Manual of
  // Braille Music Notation, 1996, 10-3 and 10-4.)
  const separator = word && lead && (lead.charCodeAt(0) - 0x2800) & LEFT_DOTS ? SIGN.separator : '';
  return {
    before: word + separator + lead,
    pitch: event.pitch,
    marked: word !== '',
    note: [
      noteCell(event.pitch.letter, eighth ? 8 : event.base.d),
      dots,
      event.tieOut ? SIGN.tie : '',
      slurAfter(event, context),
      !event.tieOut && context.score.breaths.has(event.event) ? SIGN.breath : '',
    ].join(''),
  };
}

export function barUnits(bar: Bar, context: NotatedStaff): Unit[] {
  const { signs, groups } = barValues(bar, context.line.exercise.metre);
  const token = (at: number, eighth: boolean): Token => tokenOf(bar, at, itemAt(signs, at), eighth, context);
  const inGroup = new Map(groups.flatMap((group) => group.map((at) => [at, group] as const)));
  return bar.events.flatMap((_, at): Unit[] => {
    const group = inGroup.get(at) ?? [at];
    if (group[0] !== at) return [];
    return [{ tokens: group.map((one, i) => token(one, i > 0)), plain: group.map((one) => token(one, false)) }];
  });
}

/** A change of signature, between spaces (New International Manual, 3-9): as many naturals as signs are given up when none are left, the new signs otherwise. */
export function signatureChange(bar: Bar): string {
  if (bar.fifthsBefore === undefined) return '';
  return bar.fifths === 0 ? repeated(SIGN.natural, Math.abs(bar.fifthsBefore)) : signatureCells(bar.fifths);
}

export const barEnd = (bar: Bar): string => ({ single: '', double: SIGN.doubleBar, final: SIGN.finalBar })[bar.barline];

export const BLANK = cells('0');
