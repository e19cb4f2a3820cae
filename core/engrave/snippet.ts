/** Short engraved examples without bars and metre: a row of whole notes on a staff, for charts and appendices. */
import type { Clef } from '../player/player.js';
import { frac } from '../theory/fraction.js';
import { signatureAlter } from '../theory/key.js';
import type { Pitch } from '../theory/pitch.js';
import type { Bar, BarNote } from './bar.js';
import { drawBar } from './draw/notes.js';
import type { Drawing } from './drawing.js';
import { CLEF_GLYPH, CLEF_LINE, GLYPH, signatureYs } from './glyphs.js';
import { CAPS, drawingOf, inkFor } from './ink.js';
import type { Fonts } from './metrics.js';
import { shapeBar, signatureWidth } from './shape.js';
import { drawSigned, signedWidth } from './signed-text.js';
import { STYLE } from './style.js';

export type SnippetSpec = {
  readonly clef: Clef;
  readonly fifths: number;
  readonly notes: readonly { readonly pitch: Pitch /** Under the staff: `B♭3`, `1`. */; readonly label: string }[];
  /** 1 whole, 2 half, 4 quarter notes. */
  readonly value: 1 | 2 | 4;
  /** Distance from head to head in spaces; never so small that ink touches. */
  readonly step: number;
};

const WHOLE = { event: 0, onset: frac(0), duration: frac(1), dots: 0, tuplet: undefined, tieIn: false, tieOut: false } as const;

export function drawSnippet(spec: SnippetSpec, fonts: Fonts): Drawing {
  const inForce = new Map<string, number>();
  const events = spec.notes.map(({ pitch }, event): BarNote => {
    const place = `${pitch.letter} ${pitch.octave}`;
    const current = inForce.get(place) ?? signatureAlter(spec.fifths, pitch.letter);
    inForce.set(place, pitch.alter);
    const sign = pitch.alter === current ? undefined : { alter: pitch.alter, courtesy: false };
    return { ...WHOLE, kind: 'note', event, base: frac(1, spec.value), pitch, sign };
  });
  const bar: Bar = {
    index: 0,
    length: frac(1),
    events,
    fifths: spec.fifths,
    tuplets: [],
    beams: [],
    barline: 'single',
    starts: [],
    cutsStatement: false,
    turnaround: false,
  };
  const shape = shapeBar(bar, spec.clef, fonts, new Map());
  const clefEnd = STYLE.clefIndent + fonts.glyph(CLEF_GLYPH[spec.clef]).x1;
  const keyX = clefEnd + STYLE.headerGap;
  let x = (spec.fifths === 0 ? clefEnd : keyX + signatureWidth(spec.fifths, 0, fonts)) + STYLE.headerToNote.afterKey + shape.firstLeft;
  const heads = shape.springs.map((spring) => {
    const at = x;
    x += Math.max(spec.step, spring.rod);
    return at;
  });
  const width = x;
  const ink = inkFor(width, fonts);
  const half = STYLE.staffLine / 2;
  for (let line = 0; line <= 4; line++) ink.rect('staff-line', {}, 0, line - half, width, line + half);
  ink.rect('barline', {}, width - STYLE.thinBarline, -half, width, 4 + half);
  ink.glyph('clef', {}, CLEF_GLYPH[spec.clef], STYLE.clefIndent, CLEF_LINE[spec.clef]);
  signatureYs(spec.fifths, spec.clef).forEach((y, i) => {
    const step = spec.fifths > 0 ? STYLE.keyStep.sharp : STYLE.keyStep.flat;
    ink.glyph('key-signature', {}, spec.fifths > 0 ? GLYPH.accidentalSharp : GLYPH.accidentalFlat, keyX + i * step, y);
  });
  const places = drawBar(ink, shape, { x: clefEnd, heads, barlineX: width });
  const size = STYLE.size.degree;
  const y = Math.max(4 + STYLE.wordsToStaff, ink.sky.bottom(0, width) + STYLE.layerGap) + CAPS * size;
  spec.notes.forEach(({ label }, i) => {
    const place = places[i];
    if (!place || label === '') return;
    const labelWidth = signedWidth(fonts, 'roman', size, label);
    drawSigned(ink, 'label', undefined, 'roman', size, place.x + place.width / 2 - labelWidth / 2, y, label);
  });
  return drawingOf(ink, width);
}
