/** Heads, ledger lines, accidentals, dots, stems, flags, beams and rests of one placed bar. */
import { assert } from '../../base/issue.js';
import { at, first } from '../../base/list.js';
import { toNumber } from '../../theory/fraction.js';
import type { BarNote } from '../bar.js';
import { beamCount } from '../beam-groups.js';
import type { Box, Owner } from '../drawing.js';
import { accidentalGlyph, GLYPH } from '../glyphs.js';
import { glyphInk, type Ink } from '../ink.js';
import { accidentalWidth, type BarShape, DOT_STEP, type EventShape } from '../shape.js';
import type { PlacedBar } from '../spacing.js';
import { STYLE } from '../style.js';
import { type BeamHead, type BeamLine, beamLine } from './beam-shape.js';
import { stemEnd } from './stems.js';

/** Where a drawn note is, for what hangs on it: curves, articulations, words. */
export type NotePlace = {
  readonly event: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly up: boolean;
  /** y of the stem's free end; the head's y for a whole note. */
  readonly stemY: number;
  readonly stemX: number;
  readonly beamed: boolean;
};

/** Attachment of stems to heads, from the font's anchors (Sebastian 1.1: stemUpSE, stemDownNW). */
const STEM_UP_Y = -0.172;
const STEM_DOWN_Y = 0.176;

function drawHead(ink: Ink, note: BarNote, shape: EventShape, x: number, owner: Owner, white: number): void {
  const { y } = shape;
  const extension = white < 2 * STYLE.ledgerExtension + STYLE.ledgerApart ? STYLE.ledgerTight : STYLE.ledgerExtension;
  for (let line = -1; line >= y; line--) ledger(ink, owner, x, shape.headWidth, line, extension);
  for (let line = 5; line <= y; line++) ledger(ink, owner, x, shape.headWidth, line, extension);
  if (note.sign) {
    const left = x - accidentalWidth(note.sign.alter, ink.fonts);
    ink.glyph('accidental', owner, accidentalGlyph(note.sign.alter), left, y);
  }
  ink.glyph('notehead', owner, shape.headGlyph, x, y);
  for (let d = 0; d < note.dots; d++) {
    const dotY = Number.isInteger(y) ? y - 0.5 : y;
    ink.glyph('dot', owner, GLYPH.augmentationDot, x + shape.dotX + d * DOT_STEP, dotY);
  }
}

function signInk({ fonts }: Ink, alter: number, x: number, y: number): Box {
  return glyphInk(fonts, accidentalGlyph(alter), x - accidentalWidth(alter, fonts), y, 1);
}

function ledger(ink: Ink, owner: Owner, x: number, width: number, y: number, extension: number): void {
  const half = STYLE.ledger / 2;
  ink.rect('ledger', owner, x - extension, y - half, x + width + extension, y + half);
}

/** Rests keep to the middle of the staff; a whole rest hangs from the line above it. */
function drawRest(ink: Ink, shape: EventShape, full: boolean, dots: number, x: number, placed: PlacedBar, owner: Owner): void {
  const y = shape.headGlyph === GLYPH.restWhole ? 1 : 2;
  const at = full ? (placed.x + placed.barlineX - shape.headWidth) / 2 : x;
  ink.glyph('rest', owner, shape.headGlyph, at, y);
  for (let d = 0; d < dots; d++) ink.glyph('dot', owner, GLYPH.augmentationDot, at + shape.dotX + d * DOT_STEP, 1.5);
}

function stemX(x: number, shape: EventShape): number {
  return shape.up ? x + Math.min(shape.headWidth, 1.28) - STYLE.stem : x;
}

function drawStem(ink: Ink, shape: EventShape, x: number, end: number, owner: Owner): void {
  const left = stemX(x, shape);
  const start = shape.y + (shape.up ? STEM_UP_Y : STEM_DOWN_Y);
  ink.rect('stem', owner, left, Math.min(start, end), left + STYLE.stem, Math.max(start, end));
}

function drawFlag(ink: Ink, shape: EventShape, x: number, end: number, flags: number, owner: Owner): void {
  const codes = shape.up
    ? [GLYPH.flag8thUp, GLYPH.flag16thUp, GLYPH.flag32ndUp]
    : [GLYPH.flag8thDown, GLYPH.flag16thDown, GLYPH.flag32ndDown];
  const code = codes[flags - 1];
  if (code !== undefined) ink.glyph('flag', owner, code, stemX(x, shape), end);
}

const beamYAt = (line: BeamLine, heads: readonly BeamHead[], x: number): number => {
  const first = at(heads, 0);
  const last = heads.at(-1) as BeamHead;
  return line.y0 + ((line.y1 - line.y0) * (x - first.x)) / (last.x - first.x);
};

/** Which way a lone beamlet points: into its group at the ends, otherwise to the side of its own eighth. */
function beamletRight(bar: BarShape, group: readonly number[], k: number, level: number): boolean {
  if (k === 0) return true;
  if (k === group.length - 1) return false;
  const onset = toNumber(at(bar.bar.events, at(group, k)).onset);
  const unit = 2 ** -(level + 1);
  return Math.abs(onset / unit - Math.round(onset / unit)) < 1e-9 && Math.round(onset / unit) % 2 === 0;
}

function drawBeam(ink: Ink, bar: BarShape, placed: PlacedBar, group: readonly number[], ends: number[], barIndex: number): void {
  const shapes = group.map((i) => at(bar.events, i));
  const up = first(shapes).up;
  const heads = group.map((i, k): BeamHead => {
    const shape = at(shapes, k);
    const note = at(bar.bar.events, i);
    assert(note.kind === 'note', 'a beam has notes alone');
    const x = at(placed.heads, i);
    return {
      x: stemX(x, shape) + STYLE.stem / 2,
      y: shape.y,
      beams: beamCount(note.base),
      ...(note.sign ? { sign: signInk(ink, note.sign.alter, x, shape.y) } : {}),
    };
  });
  const line = beamLine(heads, up);
  const toward = up ? 1 : -1;
  const half = STYLE.beam / 2;
  group.forEach((i, k) => {
    ends[i] = beamYAt(line, heads, at(heads, k).x) - toward * half;
  });
  const most = Math.max(...heads.map((h) => h.beams));
  for (let level = 1; level <= most; level++) {
    let from = 0;
    while (from < heads.length) {
      if (at(heads, from).beams < level) {
        from++;
        continue;
      }
      let to = from;
      while (to + 1 < heads.length && at(heads, to + 1).beams >= level) to++;
      let x0 = at(heads, from).x - STYLE.stem / 2;
      let x1 = at(heads, to).x + STYLE.stem / 2;
      if (from === to) {
        if (beamletRight(bar, group, from, level)) x1 = x0 + 1.2;
        else x0 = x1 - 1.2;
      }
      const shift = toward * STYLE.beamPitch * (level - 1);
      const yl = beamYAt(line, heads, x0) + shift;
      const yr = beamYAt(line, heads, x1) + shift;
      const owner = { event: at(bar.bar.events, at(group, from)).event, bar: barIndex };
      ink.polygon('beam', owner, [
        [x0, yl - half],
        [x1, yr - half],
        [x1, yr + half],
        [x0, yl + half],
      ]);
      from = to + 1;
    }
  }
}

export function drawBar(ink: Ink, bar: BarShape, placed: PlacedBar): NotePlace[] {
  const index = bar.bar.index;
  const beamed = new Set(bar.bar.beams.flat());
  const ends = bar.events.map((shape, i) => {
    const event = at(bar.bar.events, i);
    return event.base.d === 1 ? shape.y : stemEnd(shape.y, shape.up, beamed.has(i) ? 0 : beamCount(event.base));
  });
  for (const group of bar.bar.beams) drawBeam(ink, bar, placed, group, ends, index);
  const places: NotePlace[] = [];
  bar.bar.events.forEach((event, i) => {
    const shape = at(bar.events, i);
    const x = at(placed.heads, i);
    const owner = { event: event.event, bar: index };
    if (event.kind === 'rest') {
      drawRest(ink, shape, event.full, event.dots, x, placed, owner);
      return;
    }
    const white = Math.min(
      x - ((placed.heads[i - 1] ?? Number.NEGATIVE_INFINITY) + shape.headWidth),
      (placed.heads[i + 1] ?? Number.POSITIVE_INFINITY) - x - shape.headWidth,
    );
    drawHead(ink, event, shape, x, owner, white);
    const end = at(ends, i);
    if (event.base.d > 1) {
      drawStem(ink, shape, x, end, owner);
      const flags = beamCount(event.base);
      if (flags > 0 && !beamed.has(i)) drawFlag(ink, shape, x, end, flags, owner);
    }
    places.push({
      event: event.event,
      x,
      y: shape.y,
      width: shape.headWidth,
      up: shape.up,
      stemY: end,
      stemX: stemX(x, shape) + STYLE.stem / 2,
      beamed: beamed.has(i),
    });
  });
  return places;
}
