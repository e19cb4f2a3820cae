/** Runs of text as PDF operators: glyph numbers with kerning, ligatures and features exactly as the fonts were measured. */
import { at } from '../../base/list.js';
import type { FontName } from '../../engrave/drawing.js';
import type { TextRun } from '../../layout/page/page.js';
import { thousandths } from '../decimal.js';
import { type EmbeddedFont, secondGlyph } from './kit.js';

/** Glyphs on one height, in thousandths of an em. */
export type Stretch = {
  /** Strings of glyph numbers, and between them how far the next glyph moves left: the inside of a TJ array. */
  readonly parts: string;
  /** Whether it is one string alone. */
  readonly whole: boolean;
  readonly rise: number;
  /** How far the pen has gone behind it. */
  readonly advance: number;
};

/** `divided`: the hyphen at its end divides a word. */
export type TextEncoder = (font: FontName, text: string, features: readonly string[], divided?: boolean) => readonly Stretch[];

/** A hyphen that only divides a word at the end of a line (ISO 32000-1, 14.8.2.2.3): readers join the word again. */
const SOFT_HYPHEN = 0xad;

/** Texts of a page repeat (degrees, key names, running heads); the limit keeps memory flat in a long book. */
const KEPT = 4096;

/**
 * Throws when the font lacks a character of the text: the layout has to split such a text into runs, so this is a
 * programmer's mistake.
 */
export function textEncoder(fontOf: (name: FontName) => EmbeddedFont): TextEncoder {
  const plain = new Map<FontName, Map<string, readonly Stretch[]>>();
  const known = new Map<string, readonly Stretch[]>();
  const softHyphens = new Map<FontName, string>();

  function softHyphen(name: FontName, hyphen: string): string {
    let soft = softHyphens.get(name);
    if (soft === undefined) {
      soft = secondGlyph(fontOf(name), hyphen, SOFT_HYPHEN);
      softHyphens.set(name, soft);
    }
    return soft;
  }

  return (name, text, features, divided = false) => {
    let texts = known;
    let id = text;
    if (features.length > 0 || divided) id = `${name}\0${features.join()}\0${divided}\0${text}`;
    else {
      texts = plain.get(name) ?? new Map();
      plain.set(name, texts);
    }
    let stretches = texts.get(id);
    if (!stretches) {
      stretches = encode(name, fontOf(name), text, features, divided ? (glyph) => softHyphen(name, glyph) : undefined);
      if (texts.size >= KEPT) texts.clear();
      texts.set(id, stretches);
    }
    return stretches;
  };
}

/**
 * A number in a TJ array moves the next glyph left by thousandths of an em (ISO 32000-1, 9.4.3). The whole text is laid
 * out at once, spaces included, as `Fonts.width` does.
 */
function encode(
  name: FontName,
  font: EmbeddedFont,
  text: string,
  features: readonly string[],
  soft: ((hyphen: string) => string) | undefined,
): Stretch[] {
  const [glyphs, places] = font.encode(text, features);
  const end = glyphs.length - 1;
  if (soft && end >= 0) glyphs[end] = soft(at(glyphs, end));
  const stretches: Stretch[] = [];
  let parts = '';
  let strings = 0;
  let moves = 0;
  let hex = '';
  let rise = 0;
  let move = 0;
  let advance = 0;

  function endHex(): void {
    if (!hex) return;
    parts += `<${hex}>`;
    strings++;
    hex = '';
  }
  function endStretch(): void {
    endHex();
    if (parts) stretches.push({ parts, whole: strings === 1 && moves === 0, rise, advance });
    parts = '';
    strings = 0;
    moves = 0;
    advance = 0;
  }

  for (const [i, glyph] of glyphs.entries()) {
    if (glyph === '0000') throw new Error(`assumption broken: the ${name} font has a glyph for every character of "${text}"`);
    const { xAdvance, advanceWidth, xOffset, yOffset } = places[i]!;
    if (yOffset !== rise) endStretch();
    rise = yOffset;
    const before = Math.round((move - xOffset) * 1000);
    if (before !== 0) {
      endHex();
      parts += thousandths(before);
      moves++;
    }
    hex += glyph;
    move = xOffset + advanceWidth - xAdvance;
    advance += advanceWidth - before / 1000;
  }
  endStretch();
  return stretches;
}

/** A text to show: its left end on the baseline in the units of the writer, y upward. */
export type Words = {
  readonly font: FontName;
  readonly size: number;
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly features?: readonly string[] | undefined;
  readonly tracking?: number | undefined;
  readonly divided?: boolean | undefined;
};

export type TextWriter = {
  show(words: Words): void;
  /** Font and size for what follows, in or outside a text object. */
  setFont(font: FontName, size: number): void;
  /** Ends the text object, if one is open, and any letter-spacing. */
  close(): void;
};

/** Gap in thousandths of an em up to which a run joins the run before it: a wide space between two words. */
const JOINED = 1500;

/** A row of texts on one line that becomes one operator, and the place of the pen behind it. */
type Row = {
  /** Goes on from where the pen stands when the gap is small; says whether it does. */
  join(x: number, y: number, size: number): boolean;
  /** Begins at a place, in thousandths, on a line of its own. */
  begin(x: number, y: number): void;
  add(stretch: Stretch, size: number): void;
  /** Writes what has gathered. */
  flush(): void;
  /** What follows cannot join, since nobody knows where the pen is. */
  lose(): void;
  /** A text object begins: lines are counted from its origin. */
  reset(): void;
};

function rowOf(out: string[]): Row {
  // Start of the line (the origin of Td), in thousandths.
  let lineX = 0;
  let lineY = 0;
  /** Where the pen stands, or NaN when nothing may join. */
  let pen = Number.NaN;
  let parts = '';
  let whole = true;

  function flush(): void {
    if (parts) out.push(whole ? `${parts}Tj` : `[${parts}]TJ`);
    parts = '';
    whole = true;
  }

  return {
    join(x, y, size) {
      // Tenths of a thousandth of an em, to the left.
      const gap = Math.round(((pen - x) / size) * 10_000);
      if (y !== lineY || !(Math.abs(gap) <= JOINED * 10)) return false;
      if (gap !== 0) {
        parts += thousandths(gap * 100);
        whole = false;
        pen -= (gap * size) / 10_000;
      } else if (parts) whole = false;
      return true;
    },
    begin(x, y) {
      flush();
      out.push(`${thousandths(x - lineX)} ${thousandths(y - lineY)} Td`);
      lineX = x;
      lineY = y;
      pen = x / 1000;
    },
    add(stretch, size) {
      whole &&= parts === '' && stretch.whole;
      parts += stretch.parts;
      pen += (stretch.advance * size) / 1000;
    },
    flush,
    lose() {
      pen = Number.NaN;
    },
    reset() {
      lineX = 0;
      lineY = 0;
      pen = Number.NaN;
    },
  };
}

function showStretches(out: string[], row: Row, stretches: readonly Stretch[], size: number): void {
  let rise = 0;
  for (const stretch of stretches) {
    if (stretch.rise !== rise) {
      row.flush();
      out.push(`${thousandths(Math.round(stretch.rise * size))} Ts`);
      rise = stretch.rise;
    }
    row.add(stretch, size);
  }
  if (rise !== 0) {
    row.flush();
    out.push('0 Ts');
  }
}

/**
 * Writes texts one after another: neighbours share a text object, and runs on one line a single array of strings and
 * gaps. Places are rounded to thousandths and counted whole, and gaps are measured from where the pen really is, so no
 * error adds up.
 */
export function textWriter(out: string[], encode: TextEncoder, resource: (font: FontName) => string): TextWriter {
  const row = rowOf(out);
  let open = false;
  let font: FontName | undefined;
  let size = 0;
  let tracking = 0;

  function setFont(name: FontName, wanted: number): void {
    if (name === font && wanted === size) return;
    row.flush();
    out.push(`/${resource(name)} ${thousandths(Math.round(wanted * 1000))} Tf`);
    font = name;
    size = wanted;
    row.lose();
  }

  function setTracking(wanted: number): void {
    if (wanted === tracking) return;
    row.flush();
    out.push(`${thousandths(Math.round(wanted * 1000))} Tc`);
    tracking = wanted;
  }

  return {
    setFont,

    show(words) {
      if (!open) {
        out.push('BT');
        open = true;
        row.reset();
      }
      setFont(words.font, words.size);
      setTracking(words.tracking ?? 0);
      const stretches = encode(words.font, words.text, words.features ?? [], words.divided);
      const y = Math.round(words.y * 1000);
      if (!row.join(words.x, y, size)) row.begin(Math.round(words.x * 1000), y);
      showStretches(out, row, stretches, size);
      // What letter-spacing adds behind the last glyph is not worth knowing.
      if (tracking !== 0) row.lose();
    },

    close() {
      row.flush();
      if (tracking !== 0) out.push('0 Tc');
      tracking = 0;
      if (open) out.push('ET');
      open = false;
    },
  };
}

/** Distance in ems from which two runs are two words; a flat keeps less from its letter. */
const WORD_GAP = 0.15;

/**
 * The space to show between two runs of one element that stand apart, or on two lines, without one: the text of a tagged
 * file has a space between any two words (ISO 32000-1, 14.8.2.5), or a heading would be read as `1Long notes`. A word
 * divided at the end of a line stays whole.
 */
export function spaceBetween(before: TextRun, after: TextRun): TextRun | undefined {
  if (/[\s\u00ad-]$/.test(before.text) || /^\s/.test(after.text)) return undefined;
  const end = before.x + before.width;
  const size = Math.min(before.size, after.size);
  if (after.x - end < WORD_GAP * size && Math.abs(after.y - before.y) < size / 2) return undefined;
  // The music font has no letters, and so no space of theirs.
  return { font: before.font === 'music' ? 'roman' : before.font, size: before.size, x: end, y: before.y, text: ' ', width: 0 };
}
