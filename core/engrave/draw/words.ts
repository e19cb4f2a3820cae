/** What stands above and below the notes: articulations, tuplet numbers, degree numbers, key names, tempo, dynamics, bar numbers, breath marks. */
import { at, last } from '../../base/list.js';
import type { Exercise } from '../../exercise/exercise.js';
import { equal, frac } from '../../theory/fraction.js';
import type { BarTuplet } from '../bar.js';
import { dynamicGlyph, GLYPH, tupletDigit } from '../glyphs.js';
import { CAPS, type Ink } from '../ink.js';
import { degreeText, drawSigned, signedDrop, signedWidth } from '../signed-text.js';
import { STYLE } from '../style.js';
import type { NotePlace } from './notes.js';

const ARTICULATION = {
  staccato: { above: GLYPH.articStaccatoAbove, below: GLYPH.articStaccatoBelow },
  tenuto: { above: GLYPH.articTenutoAbove, below: GLYPH.articTenutoBelow },
  accent: { above: GLYPH.articAccentAbove, below: GLYPH.articAccentBelow },
} as const;

/** On the head's side; dots and dashes in a space of the staff, accents outside it. (Common practice.) */
export function drawArticulation(ink: Ink, note: NotePlace, kind: keyof typeof ARTICULATION): void {
  const side = note.up ? 1 : -1;
  const code = side < 0 ? ARTICULATION[kind].above : ARTICULATION[kind].below;
  const box = ink.fonts.glyph(code);
  const height = box.y1 - box.y0;
  let near = note.y + side * 0.85;
  const centre = near + (side * height) / 2;
  if (kind === 'accent') near = side < 0 ? Math.min(near, -0.5) : Math.max(near, 4.5);
  // In the staff, and between the staff and a head on ledger lines, the mark stands in a space.
  else if (side < 0 ? centre > -0.3 : centre < 4.3) {
    const space = note.y + side * (Number.isInteger(note.y) ? 1.5 : 1);
    near = space - (side * height) / 2;
  }
  const y = side < 0 ? near - box.y1 : near - box.y0;
  ink.glyph('articulation', { event: note.event }, code, note.x + note.width / 2 - (box.x0 + box.x1) / 2, y);
}

/** A number at the beam; a bracket with the number where there is no beam to show the group. */
export function drawTuplet(ink: Ink, tuplet: BarTuplet, notes: readonly NotePlace[], x0: number, x1: number): void {
  const first = notes[0];
  if (!first) return;
  const size = STYLE.size.tuplet;
  const digits = [...String(tuplet.actual)].map((d) => tupletDigit(Number(d)));
  const width = digits.reduce((w, d) => w + ink.fonts.glyph(d).advance * size, 0);
  const height = 1.52 * size;
  const up = notes.filter((n) => n.up).length * 2 > notes.length;
  const beamed = notes.length === tuplet.events.length && notes.every((n) => n.beamed);
  const centre = beamed ? (at(notes, 0).stemX + last(notes).stemX) / 2 : (x0 + x1) / 2;
  const [left, right] = beamed ? [centre - width / 2, centre + width / 2] : [x0, x1];
  const edge = up ? ink.sky.top(left, right) : ink.sky.bottom(left, right);
  const gap = beamed ? 0.3 : STYLE.layerGap + 0.2;
  const y = up ? edge - gap : edge + gap + height;
  let x = centre - width / 2;
  const owner = { event: first.event };
  for (const digit of digits) {
    ink.glyph('tuplet-number', owner, digit, x, y, size);
    x += ink.fonts.glyph(digit).advance * size;
  }
  if (beamed) return;
  const line = y - height / 2;
  const t = STYLE.tupletBracket / 2;
  const hook = up ? 0.7 : -0.7;
  ink.rect('tuplet-bracket', owner, x0, line - t, centre - width / 2 - 0.35, line + t);
  ink.rect('tuplet-bracket', owner, centre + width / 2 + 0.35, line - t, x1, line + t);
  ink.rect('tuplet-bracket', owner, x0, Math.min(line, line + hook), x0 + 2 * t, Math.max(line, line + hook));
  ink.rect('tuplet-bracket', owner, x1 - 2 * t, Math.min(line, line + hook), x1, Math.max(line, line + hook));
}

/** Ink nearer beside a degree number than this pushes it down: a stem must not read as a part of the figure (house). */
const BESIDE_DEGREE = 0.3;

/** All degree numbers of the first statement on one baseline under everything. */
export function drawDegrees(ink: Ink, notes: readonly NotePlace[], label: (event: number) => string | undefined): void {
  const size = STYLE.size.degree;
  const labelled = notes.flatMap((n) => {
    const degree = label(n.event);
    if (degree === undefined) return [];
    const text = degreeText(degree);
    return [{ note: n, text, width: signedWidth(ink.fonts, 'roman', size, text) }];
  });
  if (labelled.length === 0) return;
  const level = Math.max(
    ...labelled.map(({ note, width }) => {
      const [centre, half] = [note.x + note.width / 2, width / 2 + BESIDE_DEGREE];
      return ink.sky.bottom(centre - half, centre + half);
    }),
  );
  const y = Math.max(4 + STYLE.wordsToStaff, level + STYLE.layerGap) + CAPS * size;
  for (const { note, text, width } of labelled)
    drawSigned(ink, 'degree', note.event, 'roman', size, note.x + note.width / 2 - width / 2, y, text);
}

/** How far a key name may be lifted with the others before it is lifted alone, in spaces (house). */
const KEY_NAME_SPREAD = 2.5;

/** Key names share one level through the system; only a name far above the others is lifted alone. */
export function drawKeyNames(ink: Ink, names: readonly { readonly note: NotePlace; readonly text: string }[], end: number): void {
  const size = STYLE.size.keyName;
  const placed = names.map(({ note, text }) => {
    const width = signedWidth(ink.fonts, 'bold', size, text);
    // A name over the last note of a system does not stand out over the margin.
    const x = Math.min(note.x, end - width);
    const under = ink.sky.top(x - STYLE.gap, x + width + STYLE.gap) - signedDrop(ink.fonts, size, text);
    return { note, text, x, y: Math.min(STYLE.keyNameLevel, under - STYLE.layerGap) };
  });
  const median = placed.map((p) => p.y).sort((a, b) => a - b)[Math.floor(placed.length / 2)] ?? 0;
  const level = Math.min(...placed.map((p) => p.y).filter((y) => y >= median - KEY_NAME_SPREAD));
  for (const { note, text, x, y } of placed) drawSigned(ink, 'key-name', note.event, 'bold', size, x, Math.min(y, level), text);
}

export type BreathPlace = {
  /** The note before, and the left edge of what comes after: ink of the next note, or the barline. */
  readonly note: NotePlace;
  readonly until: number;
  /** No ink of the mark goes beyond this. */
  readonly most: number;
  readonly parenthesised: boolean;
};

/** Commas between a note and the next sign; those that fall away at a faster tempo in parentheses. */
export function drawBreaths(ink: Ink, breaths: readonly BreathPlace[]): void {
  const { size, share, aboveStaff, clear, parenthesis } = STYLE.breath;
  const comma = ink.fonts.glyph(GLYPH.breathMarkComma);
  const width = (comma.x1 - comma.x0) * size;
  const bracket = ink.fonts.width('roman', '(') * parenthesis;
  const placed = breaths.map(({ note, until, most, parenthesised }) => {
    const from = note.x + note.width;
    const over = parenthesised ? bracket + 0.05 : 0;
    const x = Math.max(from, Math.min(from + (until - from) * share - width / 2, until - width, most - width - over));
    const y = Math.min(-aboveStaff, ink.sky.top(x - over - clear, x + width + over + clear) - clear);
    return { note, x, y, parenthesised };
  });
  const median = placed.map((p) => p.y).sort((a, b) => a - b)[Math.floor(placed.length / 2)] ?? 0;
  const level = Math.min(...placed.map((p) => p.y).filter((y) => y >= median - 1));
  for (const { note, x, y, parenthesised } of placed) {
    const base = Math.min(y, level);
    const owner = { event: note.event };
    ink.glyph('breath', owner, GLYPH.breathMarkComma, x, base, size);
    if (!parenthesised) continue;
    ink.text('breath', owner, 'roman', parenthesis, x - bracket - 0.05, base - 0.15, '(');
    ink.text('breath', owner, 'roman', parenthesis, x + width + 0.05, base - 0.15, ')');
  }
}

export function drawDynamic(ink: Ink, note: NotePlace, dynamic: NonNullable<Exercise['dynamic']>): void {
  const code = dynamicGlyph(dynamic);
  const size = STYLE.size.dynamic;
  const box = ink.fonts.glyph(code);
  const x = note.x + note.width / 2 - ((box.x0 + box.x1) / 2) * size;
  const edge = ink.sky.bottom(x + box.x0 * size - 0.3, x + box.x1 * size + 0.3);
  ink.glyph('dynamic', { event: note.event }, code, x, Math.max(4 + STYLE.wordsToStaff, edge + STYLE.layerGap) - box.y0 * size, size);
}

/** `♩ = 60–120`, its left end at x, over everything under it. */
export function drawTempo(ink: Ink, tempo: NonNullable<Exercise['tempo']>, x: number): void {
  const size = STYLE.size.tempo;
  const dotted = tempo.beat.n === 3;
  const plain = dotted ? frac(tempo.beat.n, (tempo.beat.d * 3) / 2) : tempo.beat;
  const code = equal(plain, frac(1, 2)) ? GLYPH.metNoteHalfUp : equal(plain, frac(1, 4)) ? GLYPH.metNoteQuarterUp : GLYPH.metNote8thUp;
  const text = tempo.from === tempo.to ? ` = ${tempo.from}` : ` = ${tempo.from}–${tempo.to}`;
  const scale = size * 0.34;
  const width = 2.2 * scale + ink.fonts.width('bold', text) * size;
  const y = Math.min(-3.6, ink.sky.top(x, x + width) - STYLE.layerGap - 0.25);
  let at = x + ink.glyph('tempo', {}, code, x, y, scale).x1 - x;
  if (dotted) at = ink.glyph('tempo', {}, GLYPH.metAugmentationDot, at + 0.15, y, scale).x1;
  ink.text('tempo', {}, 'bold', size, at + 0.1, y, text);
}

/** Upper left of the system, italic; none at the first bar. Source: Gould, Behind Bars, p. 484 (second-hand). */
export function drawBarNumber(ink: Ink, number: number): void {
  const size = STYLE.size.barNumber;
  const text = String(number);
  const width = ink.fonts.width('italic', text) * size;
  ink.text('bar-number', {}, 'italic', size, 0, Math.min(-1, ink.sky.top(0, width) - STYLE.layerGap), text);
}
