/** Finished pages: everything placed in points, y downward from the top edge of the trimmed page. Painters only copy. */

import type { Pt } from '../../base/units.js';
import type { Drawing, FontName } from '../../engrave/drawing.js';
import type { Unevenness } from '../music/systems.js';

/** Place in the logical structure of the document (PDF tags): the element that the item's ink belongs to. */
export type Tag =
  | { readonly kind: 'artifact'; readonly type: 'pagination' | 'layout' }
  /** `id` joins the items of one element, across pages too. */
  | {
      readonly kind: 'element';
      readonly type: 'H1' | 'H2' | 'H3' | 'P' | 'LI' | 'TOCI' | 'Figure' | 'Caption' | 'TD';
      readonly id: string;
      readonly alt?: string;
    };

export type TextRun = {
  readonly font: FontName;
  /** Type size in points. */
  readonly size: Pt;
  readonly x: Pt;
  /** Baseline. */
  readonly y: Pt;
  readonly text: string;
  /** Extra space after each character, in points (letter-spaced small capitals). */
  readonly tracking?: Pt;
  /** OpenType features to switch on: 'smcp', 'onum', 'tnum', 'lnum'. */
  readonly features?: readonly string[];
  /** Advance width in points, as measured. */
  readonly width: Pt;
  /** Ends in the hyphen that divides a word at the end of a line, which is no letter of the text. */
  readonly divided?: boolean;
};

export type PageItem =
  | { readonly kind: 'text'; readonly run: TextRun; readonly tag: Tag }
  /** Ink rectangle. `gray` 0 is black (default), 1 white. */
  | {
      readonly kind: 'rect';
      readonly x: Pt;
      readonly y: Pt;
      readonly width: Pt;
      readonly height: Pt;
      readonly gray?: number;
      readonly tag: Tag;
    }
  /** Stroked polyline or circle for charts. */
  | {
      readonly kind: 'path';
      readonly d: readonly PathStep[];
      readonly stroke?: Pt;
      readonly fill?: boolean;
      readonly dash?: readonly [Pt, Pt];
      readonly tag: Tag;
    }
  /** A system or engraved example: `scale` points per staff space, origin at the left end of the top staff line. */
  | {
      readonly kind: 'drawing';
      readonly x: Pt;
      readonly y: Pt;
      readonly scale: Pt;
      /** Draws the marks anew at each call, so that a book of many pages need not hold them all. */
      readonly draw: () => Drawing;
      readonly exercise?: string;
      readonly system?: number;
      /** Of a system that no breaking makes even. */
      readonly uneven?: readonly Unevenness[];
      readonly tag: Tag;
    }
  | {
      readonly kind: 'link';
      readonly x: Pt;
      readonly y: Pt;
      readonly width: Pt;
      readonly height: Pt;
      readonly target: string;
      readonly words: string;
    }
  /** A place that links and bookmarks lead to. */
  | { readonly kind: 'anchor'; readonly name: string; readonly y: Pt };

export type PathStep = readonly ['M', Pt, Pt] | readonly ['L', Pt, Pt] | readonly ['C', Pt, Pt, Pt, Pt, Pt, Pt] | readonly ['Z'];

export type Page = {
  /** As printed and as in the page labels: `iv`, `12`. */
  readonly label: string;
  readonly numbering: 'roman' | 'arabic';
  readonly side: 'left' | 'right';
  readonly kind: 'title' | 'copyright' | 'text' | 'contents' | 'chapter' | 'music' | 'appendix' | 'blank' | 'cover' | 'record';
  readonly items: readonly PageItem[];
};

export type OutlineEntry = { readonly title: string; readonly anchor: string; readonly children: readonly OutlineEntry[] };

/** Box of text and music inside the trimmed page. */
export type Margins = { readonly top: Pt; readonly bottom: Pt; readonly inner: Pt; readonly outer: Pt };

export type Document = {
  readonly width: Pt;
  readonly height: Pt;
  readonly margins: Margins;
  /** Bleed around the trimmed page; 0 for none. */
  readonly bleed: Pt;
  readonly cropMarks: boolean;
  readonly pages: readonly Page[];
  readonly outline: readonly OutlineEntry[];
  readonly info: {
    readonly title: string;
    readonly author: string;
    readonly subject: string;
    readonly keywords: string;
    readonly language: string /** ISO date. */;
    readonly date: string;
  };
};
