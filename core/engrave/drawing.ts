/**
 * The record of what is engraved: marks in staff spaces, x to the right, y downward from the top line of the staff
 * (a system's first staff). Free of any output format: the PDF, the SVG, the screen, the tests and the proof read it.
 */
import type { Sp } from '../base/units.js';

/** What a mark is, so that a check or a screen can ask for it. */
export type Role =
  | 'staff-line'
  | 'ledger'
  | 'clef'
  | 'key-signature'
  | 'time-signature'
  | 'barline'
  | 'notehead'
  | 'stem'
  | 'flag'
  | 'beam'
  | 'accidental'
  | 'dot'
  | 'rest'
  | 'tie'
  | 'slur'
  | 'tuplet-number'
  | 'tuplet-bracket'
  | 'articulation'
  | 'dynamic'
  | 'tempo'
  | 'bar-number'
  | 'key-name'
  | 'degree'
  | 'breath'
  | 'bracket'
  | 'label'
  | 'text';

/** Which event of the line a mark belongs to (index into `line.events`), and in which bar it stands, from 0. */
export type Owner = { readonly event?: number; readonly bar?: number; readonly part?: number };

/** Ink extent in the same coordinates as the drawing. */
export type Box = { readonly x0: Sp; readonly y0: Sp; readonly x1: Sp; readonly y1: Sp };

type Common = { readonly role: Role; readonly owner: Owner; readonly box: Box };

/** A glyph of the music font: baseline origin at x, y; `size` 1 means the font's em is 4 spaces. */
export type GlyphMark = Common & { readonly kind: 'glyph'; readonly code: number; readonly x: Sp; readonly y: Sp; readonly size: number };

/** A filled upright rectangle: staff lines, stems, barlines, ledger lines. */
export type RectMark = Common & { readonly kind: 'rect' };

/** A filled polygon: beams. Points in order, closed. */
export type PolygonMark = Common & { readonly kind: 'polygon'; readonly points: readonly (readonly [Sp, Sp])[] };

/** A filled lens between two cubic curves with the same ends: ties and slurs. `outer` and `inner` are control points. */
export type LensMark = Common & {
  readonly kind: 'lens';
  readonly from: readonly [Sp, Sp];
  readonly to: readonly [Sp, Sp];
  readonly outer: readonly [readonly [Sp, Sp], readonly [Sp, Sp]];
  readonly inner: readonly [readonly [Sp, Sp], readonly [Sp, Sp]];
};

export type FontName = 'roman' | 'italic' | 'bold' | 'bold-italic' | 'display' | 'music';

/** A run of text on a baseline; `size` in spaces is the type size (em). */
export type TextMark = Common & {
  readonly kind: 'text';
  readonly font: FontName;
  readonly size: Sp;
  readonly x: Sp;
  readonly y: Sp;
  readonly text: string;
};

export type Mark = GlyphMark | RectMark | PolygonMark | LensMark | TextMark;

export type Drawing = {
  readonly marks: readonly Mark[];
  readonly width: Sp;
  /** Ink above the top line (negative) and down to the lowest ink; the bottom line of a single staff is at 4. */
  readonly top: Sp;
  readonly bottom: Sp;
};
