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

/** Remembers what was made for a key; when there is too much of it, all is forgotten. */
function remembering<K, V>(most: number): (key: K, make: () => V) => V {
  const known = new Map<K, V>();
  return (key, make) => {
    const found = known.get(key);
    if (found !== undefined) return found;
    const made = make();
    if (known.size >= most) known.clear();
    known.set(key, made);
    return made;
  };
}

type Opened = (name: FontName) => fontkit.Font;
type SetText = (name: FontName, text: string, features: readonly string[]) => fontkit.GlyphRun;

/**
 * Fonts that are opened when they are asked for first, and the setting of texts in them. A glyph keeps the characters that
 * first asked for it since the font was opened, and setting looks at them: after a soft hyphen, which shares its glyph, a
 * hyphen would be hidden. Here each text asks anew.
 */
function openedFonts(files: FontFiles): { opened: Opened; setText: SetText } {
  const fonts = remembering<FontName, fontkit.Font>(Number.POSITIVE_INFINITY);
  /** Glyphs that the text being set has asked for. */
  const asked = new Set<number>();

  function open(name: FontName): fontkit.Font {
    const { buffer, byteOffset, length } = files[name];
    const font = fontkit.create(Buffer.from(buffer, byteOffset, length)) as fontkit.Font;
    const get = font.getGlyph.bind(font);
    font.getGlyph = (id, codePoints = []) => {
      const glyph = get(id, codePoints);
      if (!asked.has(id) && glyph) Object.assign(glyph, { codePoints });
      asked.add(id);
      return glyph;
    };
    return font;
  }

  const opened: Opened = (name) => fonts(name, () => open(name));
  return {
    opened,
    setText(name, text, features) {
      asked.clear();
      return opened(name).layout(text, features.length > 0 || MARK.test(text) ? [...features] : NO_MARKS);
    },
  };
}

function shapedText({ glyphs, positions }: fontkit.GlyphRun): Shaped {
  const places = new Float64Array(4 * glyphs.length);
  positions.forEach(({ xAdvance, yAdvance, xOffset, yOffset }, i) => {
    places.set([xAdvance, yAdvance, xOffset, yOffset], 4 * i);
  });
  return { glyphs: glyphs.map(({ id, advanceWidth, codePoints }) => ({ id, advanceWidth, codePoints })), places };
}

/** Ink boxes and outlines of the music font. */
function musicGlyphs(opened: Opened): Pick<Fonts, 'glyph' | 'outline'> {
  const boxes = remembering<number, GlyphBox>(Number.POSITIVE_INFINITY);
  const outlines = remembering<number, string>(Number.POSITIVE_INFINITY);

  function boxOf(code: number): GlyphBox {
    const font = opened('music');
    if (!font.hasGlyphForCodePoint(code)) throw new Error(`the music font has no glyph U+${code.toString(16).toUpperCase()}`);
    const glyph = font.glyphForCodePoint(code);
    const scale = 4 / font.unitsPerEm;
    const { minX, minY, maxX, maxY } = glyph.bbox;
    return { x0: minX * scale, y0: -maxY * scale, x1: maxX * scale, y1: -minY * scale, advance: glyph.advanceWidth * scale };
  }

  return {
    glyph: (code) => boxes(code, () => boxOf(code)),
    outline: (code) => outlines(code, () => opened('music').glyphForCodePoint(code).path.toSVG()),
  };
}

/** Opens the font files. Same files, same numbers; answers are kept. */
export function openFonts(files: FontFiles): Fonts {
  const { opened, setText } = openedFonts(files);
  const shapes = remembering<string, Shaped>(KEPT_SHAPES);
  const featured = remembering<string, number>(KEPT);
  const plainOf = remembering<FontName, ReturnType<typeof remembering<string, number>>>(Number.POSITIVE_INFINITY);
  const coverOf = remembering<FontName, ReturnType<typeof remembering<string, boolean>>>(Number.POSITIVE_INFINITY);
  const idOf = (name: FontName, text: string, features: readonly string[]) => `${name}\0${features.join()}\0${text}`;
  const measured = (name: FontName, text: string, features: readonly string[]): number =>
    setText(name, text, features).advanceWidth / opened(name).unitsPerEm;

  return {
    files,
    opened,
    ...musicGlyphs(opened),
    shaped: (name, text, features = NO_FEATURES) => shapes(idOf(name, text, features), () => shapedText(setText(name, text, features))),
    width(name, text, features = NO_FEATURES) {
      if (features.length > 0) return featured(idOf(name, text, features), () => measured(name, text, features));
      return plainOf(name, () => remembering(KEPT))(text, () => measured(name, text, features));
    },
    covers: (name, text) =>
      coverOf(name, () => remembering(KEPT))(text, () => {
        const font = opened(name);
        return [...text].every((character) => font.hasGlyphForCodePoint(character.codePointAt(0) ?? 0));
      }),
  };
}
