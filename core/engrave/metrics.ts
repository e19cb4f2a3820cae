/**
 * Widths and ink boxes, read from the font files themselves (the only import of fontkit). The same numbers serve the
 * layout, the PDF, the SVG and the screen, so none of them can disagree with another.
 */
import * as fontkit from 'fontkit';
import type { FontName } from './drawing.js';

/** Bytes of the font files, by the name the program uses. */
export type FontFiles = Readonly<Record<FontName, Uint8Array>>;

/** Ink of a glyph in staff spaces, y downward from its baseline. */
export type GlyphBox = { readonly x0: number; readonly y0: number; readonly x1: number; readonly y1: number; readonly advance: number };

export type Fonts = {
  readonly files: FontFiles;
  /** Advance width of a text, in units of its type size (1 = one em). Kerning and ligatures on, as the painters set it. */
  width(font: FontName, text: string, features?: readonly string[]): number;
  /** Ink box of a music glyph at size 1 (em = 4 spaces). Throws if the font lacks it: a programmer's mistake. */
  glyph(code: number): GlyphBox;
  /** Outline of a music glyph as an SVG path in units of 1/1000 em, y upward. */
  outline(code: number): string;
  /** True if the font has a glyph for every character. */
  covers(font: FontName, text: string): boolean;
  /** The opened font, for a painter that embeds it. */
  opened(font: FontName): fontkit.Font;
  /** The glyphs of a text and where they stand, whatever was measured or set before. */
  shaped(font: FontName, text: string, features?: readonly string[]): Shaped;
};

/** A glyph of the font file, its advance in font units, and the characters that it stands for. */
export type ShapedGlyph = { readonly id: number; readonly advanceWidth: number; readonly codePoints: readonly number[] };

export type Shaped = {
  readonly glyphs: readonly ShapedGlyph[];
  /** For each glyph its advances to the right and up, then its offsets, in font units. */
  readonly places: Float64Array;
};

const NO_FEATURES: readonly string[] = [];

/** Where no mark stands over a letter of its own, the large tables that place marks need not be read. */
const NO_MARKS = { mark: false, mkmk: false };
const MARK = /\p{M}/u;
/** So many answers of a kind are kept: the words of a long book, but not those of all books of a day. */
const KEPT = 50_000;
/** The same for shaped texts, which are larger: those that all books of a day share, and the words of the last of them. */
const KEPT_SHAPES = 5_000;

/** Opens the font files. Same files, same numbers; answers are kept. */
export function openFonts(files: FontFiles): Fonts {
  const fonts = new Map<FontName, fontkit.Font>();
  const plainWidths = new Map<FontName, Map<string, number>>();
  const widths = new Map<string, number>();
  const boxes = new Map<number, GlyphBox>();
  const covered = new Map<FontName, Map<string, boolean>>();

  function opened(name: FontName): fontkit.Font {
    let font = fonts.get(name);
    if (!font) {
      font = fontkit.create(files[name] as Buffer) as fontkit.Font;
      forgetTexts(font);
      fonts.set(name, font);
    }
    return font;
  }

  /** Glyphs that the text being set has asked for. */
  const asked = new Set<number>();

  /**
   * A glyph keeps the characters that first asked for it since the font was opened, and setting looks at them: after a soft
   * hyphen, which shares its glyph, a hyphen would be hidden. Here each text asks anew.
   */
  function forgetTexts(font: fontkit.Font): void {
    const get = font.getGlyph.bind(font);
    font.getGlyph = (id, codePoints = []) => {
      const glyph = get(id, codePoints);
      if (!asked.has(id) && glyph) Object.assign(glyph, { codePoints });
      asked.add(id);
      return glyph;
    };
  }

  function setText(font: fontkit.Font, text: string, features: readonly string[]): fontkit.GlyphRun {
    asked.clear();
    return font.layout(text, features.length > 0 || MARK.test(text) ? [...features] : NO_MARKS);
  }

  function shape(font: fontkit.Font, text: string, features: readonly string[]): Shaped {
    const { glyphs, positions } = setText(font, text, features);
    const places = new Float64Array(4 * glyphs.length);
    positions.forEach(({ xAdvance, yAdvance, xOffset, yOffset }, i) => {
      places.set([xAdvance, yAdvance, xOffset, yOffset], 4 * i);
    });
    return {
      glyphs: glyphs.map(({ id, advanceWidth, codePoints }) => ({ id, advanceWidth, codePoints })),
      places,
    };
  }

  function widthsOf(name: FontName): Map<string, number> {
    const own = new Map<string, number>();
    plainWidths.set(name, own);
    return own;
  }

  const outlines = new Map<number, string>();

  function coveredOf(name: FontName): Map<string, boolean> {
    const own = new Map<string, boolean>();
    covered.set(name, own);
    return own;
  }

  const shapes = new Map<string, Shaped>();

  return {
    files,
    opened,
    shaped(name, text, features = NO_FEATURES) {
      const id = `${name}\0${features.join()}\0${text}`;
      let shaped = shapes.get(id);
      if (!shaped) {
        shaped = shape(opened(name), text, features);
        if (shapes.size >= KEPT_SHAPES) shapes.clear();
        shapes.set(id, shaped);
      }
      return shaped;
    },
    width(name, text, features = NO_FEATURES) {
      let known = widths;
      let id = text;
      if (features.length > 0) id = `${name}\0${features.join()}\0${text}`;
      else known = plainWidths.get(name) ?? widthsOf(name);
      let width = known.get(id);
      if (width === undefined) {
        const font = opened(name);
        width = setText(font, text, features).advanceWidth / font.unitsPerEm;
        if (known.size >= KEPT) known.clear();
        known.set(id, width);
      }
      return width;
    },
    glyph(code) {
      let box = boxes.get(code);
      if (!box) {
        const font = opened('music');
        if (!font.hasGlyphForCodePoint(code)) throw new Error(`the music font has no glyph U+${code.toString(16).toUpperCase()}`);
        const glyph = font.glyphForCodePoint(code);
        const scale = 4 / font.unitsPerEm;
        const { minX, minY, maxX, maxY } = glyph.bbox;
        box = { x0: minX * scale, y0: -maxY * scale, x1: maxX * scale, y1: -minY * scale, advance: glyph.advanceWidth * scale };
        boxes.set(code, box);
      }
      return box;
    },
    outline(code) {
      let path = outlines.get(code);
      if (path === undefined) {
        path = opened('music').glyphForCodePoint(code).path.toSVG();
        outlines.set(code, path);
      }
      return path;
    },
    covers(name, text) {
      const known = covered.get(name) ?? coveredOf(name);
      let has = known.get(text);
      if (has === undefined) {
        const font = opened(name);
        has = [...text].every((character) => font.hasGlyphForCodePoint(character.codePointAt(0) as number));
        if (known.size >= KEPT) known.clear();
        known.set(text, has);
      }
      return has;
    },
  };
}
