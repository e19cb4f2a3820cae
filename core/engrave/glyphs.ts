/** SMuFL code points by their canonical names (W3C SMuFL glyph registry). */
import type { Clef } from '../player/player.js';

export const GLYPH = {
  bracketTop: 0xe003,
  bracketBottom: 0xe004,
  gClef: 0xe050,
  cClef: 0xe05c,
  fClef: 0xe062,
  timeSig0: 0xe080,
  noteheadWhole: 0xe0a2,
  noteheadHalf: 0xe0a3,
  noteheadBlack: 0xe0a4,
  augmentationDot: 0xe1e7,
  flag8thUp: 0xe240,
  flag8thDown: 0xe241,
  flag16thUp: 0xe242,
  flag16thDown: 0xe243,
  flag32ndUp: 0xe244,
  flag32ndDown: 0xe245,
  accidentalFlat: 0xe260,
  accidentalNatural: 0xe261,
  accidentalSharp: 0xe262,
  accidentalDoubleSharp: 0xe263,
  accidentalDoubleFlat: 0xe264,
  articAccentAbove: 0xe4a0,
  articAccentBelow: 0xe4a1,
  articStaccatoAbove: 0xe4a2,
  articStaccatoBelow: 0xe4a3,
  articTenutoAbove: 0xe4a4,
  articTenutoBelow: 0xe4a5,
  breathMarkComma: 0xe4ce,
  restWhole: 0xe4e3,
  restHalf: 0xe4e4,
  restQuarter: 0xe4e5,
  rest8th: 0xe4e6,
  rest16th: 0xe4e7,
  rest32nd: 0xe4e8,
  dynamicPiano: 0xe520,
  dynamicMezzo: 0xe521,
  dynamicForte: 0xe522,
  dynamicPP: 0xe52b,
  dynamicMP: 0xe52c,
  dynamicMF: 0xe52d,
  dynamicFF: 0xe52f,
  tuplet0: 0xe880,
  metNoteHalfUp: 0xeca3,
  metNoteQuarterUp: 0xeca5,
  metNote8thUp: 0xeca7,
  metAugmentationDot: 0xecb7,
} as const;

export type GlyphName = keyof typeof GLYPH;

export const CLEF_GLYPH: Readonly<Record<Clef, number>> = { treble: GLYPH.gClef, alto: GLYPH.cClef, tenor: GLYPH.cClef, bass: GLYPH.fClef };

/** y of the line that the clef names, from the top line. */
export const CLEF_LINE: Readonly<Record<Clef, number>> = { treble: 3, alto: 2, tenor: 1, bass: 1 };

/** Staff step (C0 = 0, one a letter) that stands on the top line. */
const TOP_STEP: Readonly<Record<Clef, number>> = { treble: 38, alto: 32, tenor: 30, bass: 26 };

/** y of a staff step from the top line, downward, half a space a step. */
export const stepY = (step: number, clef: Clef): number => (TOP_STEP[clef] - step) / 2;

export function accidentalGlyph(alter: number): number {
  const code = [
    GLYPH.accidentalDoubleFlat,
    GLYPH.accidentalFlat,
    GLYPH.accidentalNatural,
    GLYPH.accidentalSharp,
    GLYPH.accidentalDoubleSharp,
  ][alter + 2];
  if (code === undefined) throw new RangeError(`no sign for an alteration of ${alter}`);
  return code;
}

export const timeDigit = (digit: number): number => GLYPH.timeSig0 + digit;
export const tupletDigit = (digit: number): number => GLYPH.tuplet0 + digit;

const DYNAMICS = {
  pp: GLYPH.dynamicPP,
  p: GLYPH.dynamicPiano,
  mp: GLYPH.dynamicMP,
  mf: GLYPH.dynamicMF,
  f: GLYPH.dynamicForte,
  ff: GLYPH.dynamicFF,
} as const;
export const dynamicGlyph = (dynamic: keyof typeof DYNAMICS): number => DYNAMICS[dynamic];

/** Octaves in which each clef writes the sharps and flats of a signature, as y from the top line (common practice). */
const TREBLE_SHARPS = [0, 1.5, -0.5, 1, 2.5, 0.5, 2];
const TREBLE_FLATS = [2, 0.5, 2.5, 1, 3, 1.5, 3.5];
const TENOR_SHARPS = [3, 1, 2.5, 0.5, 2, 0, 1.5];
const TENOR_FLATS = [1.5, 0, 2, 0.5, 2.5, 1, 3];

/** y of each sign of a signature in order. */
export function signatureYs(fifths: number, clef: Clef): readonly number[] {
  const sharp = fifths > 0;
  const count = Math.abs(fifths);
  if (clef === 'tenor') return (sharp ? TENOR_SHARPS : TENOR_FLATS).slice(0, count);
  const shift = clef === 'treble' ? 0 : clef === 'alto' ? 0.5 : 1;
  return (sharp ? TREBLE_SHARPS : TREBLE_FLATS).slice(0, count).map((y) => y + shift);
}
