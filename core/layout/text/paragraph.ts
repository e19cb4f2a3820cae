/** Spans → set lines: words, their divisions and the spaces between them, broken by total fit. */

import { first, last } from '../../base/list.js';
import type { Pt } from '../../base/units.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { TextRun } from '../page/page.js';
import { box, breakLines, ending, FORBIDDEN, FORCED, glue, type Item, penalty } from '../total-fit.js';
import { syllables } from './hyphenation.js';
import { type Align, movedRuns, runsOf, type Span, widthOf } from './text.js';

export type ParagraphStyle = {
  readonly width: Pt;
  /** Type size of spans that name none. */
  readonly size: Pt;
  readonly align: Align | 'justify';
  /** BCP 47 tag for hyphenation; without it words are not divided. */
  readonly language?: string;
  /** Indent of the first line. */
  readonly indent?: Pt;
};

/** One set line: runs on baseline 0 from x 0, and how wide they are. `ratio` is the stretch of its spaces (0 when ragged). */
export type SetLine = { readonly runs: readonly TextRun[]; readonly width: Pt; readonly ratio: number };

/** What stands between two spaces, in parts between which a line may end. `hyphen` is set when that division is used. */
type Part = { readonly spans: readonly Span[]; readonly hyphen: boolean; readonly cost: number };
type Word = { readonly parts: readonly Part[]; readonly space: Pt };

/** Costs of ending a line within a word: at a division, after a hyphen or dash that is there anyway, anywhere in a word too long. */
const DIVISION = 50;
const AFTER_DASH = 20;
const ANYWHERE = 2000;

/**
 * Stretch and shrink of a space as shares of it. The paper's face has spaces of 1/3 em, +1/6, -1/9; this one has 0.23 em,
 * so about the same stretch in ems, and less shrink, for words must stay apart.
 */
const STRETCH = 0.7;
const SHRINK = 0.22;

/** Space between words in the font of a span; letter-spaced words keep it on both sides of their space too. */
function spaceAfter(span: Span, size: Pt, fonts: Fonts): Pt {
  const font = span.font === 'music' ? 'roman' : span.font;
  return fonts.width(font, ' ', span.features ?? []) * (span.size ?? size) + 2 * (span.tracking ?? 0);
}

/** Splits spans at spaces; a word keeps its spans (`**bold**,` is one word of two). */
function wordsOf(spans: readonly Span[]): { readonly spans: Span[]; readonly after: Span }[] {
  const words: { spans: Span[]; after: Span }[] = [];
  let open: Span[] = [];
  const close = (after: Span) => {
    if (open.length > 0) words.push({ spans: open, after });
    open = [];
  };
  for (const span of spans) {
    span.text.split(/[ \n\t]+/).forEach((text, i) => {
      if (i > 0) close(span);
      if (text) open.push({ ...span, text });
    });
  }
  const end = spans.at(-1);
  if (end) close(end);
  return words;
}

/** Places where a word of one span may be divided; in words with signs or several fonts only after dashes. */
function partsOf(spans: readonly Span[], style: ParagraphStyle, fonts: Fonts): Part[] {
  const parts: Part[] = [];
  for (const span of spans) {
    const pieces = span.font === 'music' ? [span.text] : span.text.split(/(?<=\p{L}[-–—/])(?=\p{L})/u);
    pieces.forEach((piece, i) => {
      const letters = /^(\P{L}*)(\p{L}+)(\P{L}*)$/u.exec(piece);
      const divided = style.language && spans.length === 1 && letters ? syllables(letters[2]!, style.language) : [piece];
      divided.forEach((text, j) => {
        const whole = divided.length === 1 ? piece : (j === 0 ? letters![1] : '') + text + (j === divided.length - 1 ? letters![3] : '');
        const lastOfPiece = j === divided.length - 1;
        const cost = !lastOfPiece ? DIVISION : i < pieces.length - 1 ? AFTER_DASH : 0;
        parts.push({ spans: [{ ...span, text: whole }], hyphen: !lastOfPiece, cost });
      });
    });
  }
  return parts.flatMap((part) => {
    if (widthOf(part.spans, style.size, fonts) <= style.width - (style.indent ?? 0)) return [part];
    const span = first(part.spans);
    const letters = [...span.text];
    return letters.map(
      (text, i): Part => ({ spans: [{ ...span, text }], hyphen: false, cost: i < letters.length - 1 ? ANYWHERE : part.cost }),
    );
  });
}

const sameFont = (a: Span, b: Span): boolean =>
  a.font === b.font && a.size === b.size && a.tracking === b.tracking && (a.features ?? []).join() === (b.features ?? []).join();

/** Joins neighbours in one font, so that kerning and ligatures work across a division that is not used. */
function joined(spans: readonly Span[]): Span[] {
  const out: Span[] = [];
  for (const span of spans) {
    const before = out.at(-1);
    if (before && sameFont(before, span)) out[out.length - 1] = { ...before, text: before.text + span.text };
    else out.push(span);
  }
  return out;
}

const withHyphen = (spans: readonly Span[]): Span[] => {
  const end = last(spans);
  return [...spans.slice(0, -1), { ...end, text: `${end.text}-` }];
};

/** Where an item came from: a part of a word, or the space after a word. */
type Source = { readonly word: number; readonly part: number } | undefined;

function itemsOf(words: readonly Word[], style: ParagraphStyle, fonts: Fonts): { items: Item[]; sources: Source[] } {
  const items: Item[] = [];
  const sources: Source[] = [];
  const add = (item: Item, source: Source = undefined) => {
    items.push(item);
    sources.push(source);
  };
  const ragged = style.align !== 'justify';
  if (style.indent) add(box(style.indent));
  words.forEach((word, w) => {
    let before = 0;
    word.parts.forEach((part, p) => {
      const upToHere = joined(word.parts.slice(0, p + 1).flatMap((q) => q.spans));
      const width = widthOf(upToHere, style.size, fonts);
      add(box(width - before), { word: w, part: p });
      if (p < word.parts.length - 1) {
        const hyphenWidth = part.hyphen ? widthOf(withHyphen(part.spans), style.size, fonts) - widthOf(part.spans, style.size, fonts) : 0;
        add(penalty(part.cost || FORBIDDEN, hyphenWidth, part.hyphen));
      }
      before = width;
    });
    if (w < words.length - 1) add(ragged ? glue(word.space) : glue(word.space, STRETCH * word.space, SHRINK * word.space));
  });
  return { items, sources };
}

/** The space between the last word of a line and the first of the next, for readers by ear; it stands within the line's width. */
function hiddenSpace(last: TextRun, lineEnd: Pt, fonts: Fonts): TextRun {
  const font = last.font === 'music' ? 'roman' : last.font;
  const width = fonts.width(font, ' ') * last.size;
  return { font, size: last.size, x: lineEnd - width, y: 0, text: ' ', width };
}

/** A word of a line, and the space after it. */
type LineWord = { readonly spans: readonly Span[]; readonly space: Pt; readonly width: Pt };

/** Sets one line of words; `stretch` is added to the space after each. */
function lineRuns(words: readonly LineWord[], x: Pt, stretch: number, size: Pt, fonts: Fonts): TextRun[] {
  const runs: TextRun[] = [];
  let at: number = x;
  words.forEach((word, i) => {
    const own = runsOf(word.spans, at, 0, size, fonts);
    at += word.width;
    const last = own.at(-1);
    if (last && i < words.length - 1) {
      // The space belongs to the text too, so that it can be copied and read aloud.
      if (last.font !== 'music') own[own.length - 1] = { ...last, text: `${last.text} `, width: last.width + word.space };
      else own.push(...runsOf([{ text: ' ', font: 'roman' }], at, 0, size, fonts));
    }
    runs.push(...own);
    at += word.space + stretch;
  });
  return runs;
}

/**
 * Sets spans in lines of `style.width` points. Justified lines end exactly at the width, the last one keeps its natural
 * spaces; ragged ones are broken to even lengths. No line is wider than the width: a word too long for it is divided.
 */
export function setParagraph(spans: readonly Span[], style: ParagraphStyle, fonts: Fonts): SetLine[] {
  const plain = wordsOf(spans.filter((span) => span.text.length > 0));
  if (plain.length === 0) return [];
  // Most titles and instructions fit one line: nothing is to be divided or weighed then.
  const whole = plain.map(
    ({ spans, after }): LineWord => ({
      spans,
      space: spaceAfter(after, style.size, fonts),
      width: widthOf(spans, style.size, fonts),
    }),
  );
  const length = whole.reduce((sum, word, i) => sum + word.width + (i < whole.length - 1 ? word.space : 0), style.indent ?? 0);
  if (length <= style.width) return [setLine(whole, { first: true, last: true, divided: false }, style, fonts)];
  const words = whole.map(({ spans, space }): Word => ({ space, parts: partsOf(spans, style, fonts) }));
  const { items, sources } = itemsOf(words, style, fonts);
  const ragged = style.align !== 'justify';
  items.push(...(ragged ? [penalty(FORCED)] : ending()));
  const breaks = breakLines(items, style.width, ragged ? { lineStretch: style.width / 3, tolerance: 3, linePenalty: 30 } : {});

  let from = 0;
  return breaks.map((end, lineIndex): SetLine => {
    const found = sources.slice(from, end).filter((source) => source !== undefined);
    from = end;
    const set: { spans: Span[]; space: Pt }[] = [];
    let lastWord = -1;
    for (const { word, part } of found) {
      const piece = words[word]!.parts[part]!;
      if (word !== lastWord) set.push({ spans: [...piece.spans], space: words[word]!.space });
      else set[set.length - 1]!.spans.push(...piece.spans);
      lastWord = word;
    }
    const breakItem = items[end];
    const endsInHyphen = breakItem?.kind === 'penalty' && breakItem.flagged;
    const line = set.map((word, i): LineWord => {
      const parts = joined(word.spans);
      const spans = endsInHyphen && i === set.length - 1 ? withHyphen(parts) : parts;
      return { spans, space: word.space, width: widthOf(spans, style.size, fonts) };
    });
    return setLine(line, { first: lineIndex === 0, last: lineIndex === breaks.length - 1, divided: endsInHyphen }, style, fonts);
  });
}

/** One line of words in its place: stretched to the width, or at the edge that the alignment asks for. */
function setLine(
  line: readonly LineWord[],
  at: { readonly first: boolean; readonly last: boolean; readonly divided: boolean },
  style: ParagraphStyle,
  fonts: Fonts,
): SetLine {
  const indent = at.first ? (style.indent ?? 0) : 0;
  const natural = line.reduce((sum, word, i) => sum + word.width + (i < line.length - 1 ? word.space : 0), 0);
  const room = style.width - indent - natural;
  const gaps = line.length - 1;
  const stretch = gaps > 0 && style.align === 'justify' && (!at.last || room < 0) ? room / gaps : 0;
  const width = natural + stretch * gaps + indent;
  const shift = style.align === 'right' ? style.width - width : style.align === 'center' ? (style.width - width) / 2 : 0;
  const space = line[0]?.space ?? 1;
  const ratio = stretch / (space * (stretch < 0 ? SHRINK : STRETCH));
  const runs = lineRuns(line, indent, stretch, style.size, fonts);
  const end = runs.at(-1);
  if (at.divided && end) runs[runs.length - 1] = { ...end, divided: true };
  if (!at.last && !at.divided) runs.push(hiddenSpace(runs.at(-1)!, width, fonts));
  return { runs: movedRuns(runs, shift, 0), width, ratio };
}
