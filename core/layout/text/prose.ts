/** The author's text → set blocks that can be placed whole or flow over columns and pages. */

import type { Pt } from '../../base/units.js';
import type { FontName } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { Engrave, Example } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { type Block, blocksOf, type Inline } from './markdown.js';
import { type ParagraphStyle, type SetLine, setParagraph } from './paragraph.js';
import { movedRuns, runsOf, type Span, textItems, widthOf } from './text.js';
import { isFigure, withRealSigns } from './text-sign.js';
import type { TypeStyle, TypeStyles } from './type-style.js';

export type ProseOptions = {
  /** Measure in points. */
  readonly width: Pt;
  readonly fonts: Fonts;
  readonly styles: TypeStyles;
  /** Look of the paragraphs; default `body`. */
  readonly kind?: 'body' | 'instruction';
  /** Default `justify`. */
  readonly align?: 'left' | 'center' | 'justify';
  /** BCP 47. */
  readonly language: string;
  /** For figures on lines of their own. */
  readonly engrave?: Engrave;
  /** Beginning of the ids of the text's elements; unique in the document. */
  readonly id: string;
};

/** A paragraph, heading or list item. Heights in points; `before` and `after` are the space it wants around it. */
export type ProseBlock = {
  readonly lines: readonly SetLine[];
  readonly leading: Pt;
  readonly before: Pt;
  readonly after: Pt;
  readonly height: Pt;
  /** A heading does not end a column. */
  readonly keepWithNext: boolean;
  readonly tag: Tag;
  /** Items with the left edge of the measure at `x` and the block's top at `y`; lines `from` up to, not including, `to`. */
  place(x: Pt, y: Pt, from?: number, to?: number): PageItem[];
};

/** From the top of a line to its baseline: the capitals (0.67 em) stand in the middle of the leading. */
export const baselineIn = (style: Pick<TypeStyle, 'size' | 'leading'>): Pt => style.leading / 2 + 0.335 * style.size;

function fontOf(inline: Inline): FontName {
  if (inline.bold) return inline.italic ? 'bold-italic' : 'bold';
  return inline.italic ? 'italic' : 'roman';
}

/** Up to how many degrees a figure in running text is kept on one line. */
const UNBROKEN_DEGREES = 8;

function spanOfInline(inline: Inline, style: TypeStyle): Span {
  const font = fontOf(inline);
  if (!inline.code) return { text: inline.text, font, size: style.size, features: style.features ?? [] };
  const text = withRealSigns(inline.text);
  if (!isFigure(inline.text)) return { text, font, size: style.size, features: ['lnum'] };
  const degrees = text.split(' ');
  const space = degrees.length <= UNBROKEN_DEGREES ? '\u2004' : ' ';
  return {
    text: degrees.join(space),
    font: inline.bold ? 'bold' : 'roman',
    size: style.size,
    features: ['lnum'],
    tracking: 0.04 * style.size,
  };
}

type Marker = { readonly spans: readonly Span[]; readonly gap: Pt };

/** Where the lines of a block stand in the measure; a marker hangs before the first one. */
type Indent = { readonly left: Pt; readonly width: Pt; readonly marker?: Marker; readonly inList: boolean };

/** A text in the making: how it is set, the look of its paragraphs, and the next id of its elements. */
type Setter = { readonly options: ProseOptions; readonly style: TypeStyle; readonly nextId: () => string };

type Look = {
  readonly style: TypeStyle;
  readonly align?: ParagraphStyle['align'];
  readonly before?: Pt;
  readonly heading?: boolean;
};

/** Sets the blocks of a Markdown text in lines of the measure. */
export function setProse(markdown: string, options: ProseOptions): ProseBlock[] {
  let count = 0;
  const setter: Setter = { options, style: options.styles[options.kind ?? 'body'], nextId: () => `${options.id}-${++count}` };
  const blocks = setBlocks(blocksOf(markdown), { left: 0, width: options.width, inList: false }, setter);
  return blocks.filter((block) => block.lines.length > 0);
}

const setBlocks = (blocks: readonly Block[], indent: Indent, setter: Setter, marker?: Marker): ProseBlock[] =>
  blocks.flatMap((block, i) => setBlock(block, i === 0 && marker ? { ...indent, marker } : indent, setter));

function setBlock(block: Block, indent: Indent, setter: Setter): ProseBlock[] {
  const { style } = setter;
  switch (block.kind) {
    case 'paragraph': {
      const spans = block.inlines.map((inline) => spanOfInline(inline, style));
      return [linesBlock(spans, { style }, indent, setter)];
    }
    case 'heading':
      return [headingBlock(block.inlines, indent, setter)];
    case 'list':
      return listBlocks(block, indent, setter);
    case 'quote': {
      const em = style.size;
      return setBlocks(block.blocks, { ...indent, left: indent.left + 1.6 * em, width: indent.width - 3.2 * em }, setter);
    }
    case 'figure':
      return [figureBlock(block.text, indent, setter)];
    case 'rule':
      return [linesBlock([{ text: '*\u2003*\u2003*', font: 'roman', size: style.size }], { style, align: 'center' }, indent, setter)];
  }
}

/** Spans as a block of lines. */
function linesBlock(spans: readonly Span[], look: Look, { left, width, marker, inList }: Indent, { options, nextId }: Setter): ProseBlock {
  const { fonts, language } = options;
  const { style, align = options.align ?? 'justify' } = look;
  const lines = setParagraph(spans, { width, size: style.size, align, language }, fonts);
  const tag: Tag = { kind: 'element', type: look.heading ? 'H2' : inList ? 'LI' : 'P', id: nextId() };
  return {
    lines,
    leading: style.leading,
    before: look.before ?? style.before,
    after: style.after,
    height: lines.length * style.leading,
    keepWithNext: look.heading ?? false,
    tag,
    place(x, y, from = 0, to = lines.length) {
      const baseline = y + baselineIn(style);
      const items = lines
        .slice(from, to)
        .flatMap((line, i) => textItems(movedRuns(line.runs, x + left, baseline + i * style.leading), tag));
      if (!marker || from > 0) return items;
      const markerX = x + left - marker.gap - widthOf(marker.spans, style.size, fonts);
      return [...textItems(runsOf(marker.spans, markerX, baseline, style.size, fonts), tag), ...items];
    },
  };
}

function headingBlock(inlines: readonly Inline[], indent: Indent, setter: Setter): ProseBlock {
  const style = setter.options.styles['small-heading'];
  const spans = inlines.map((inline): Span => ({ ...spanOfInline(inline, style), font: inline.italic ? 'bold-italic' : style.font }));
  return linesBlock(spans, { style, align: 'left', heading: true }, indent, setter);
}

function listBlocks(block: Extract<Block, { kind: 'list' }>, indent: Indent, setter: Setter): ProseBlock[] {
  const { style, options } = setter;
  const em = style.size;
  const lastNumber = (block.start ?? 0) + block.items.length - 1;
  const widest: Span = { text: block.start === undefined ? '• ' : `${lastNumber}. `, font: 'roman', size: em, features: ['lnum', 'tnum'] };
  const gap = 0.25 * em;
  const step = Math.max(1.3 * em, widthOf([widest], em, options.fonts) + gap);
  const inner: Indent = { left: indent.left + step, width: indent.width - step, inList: true };
  return block.items.flatMap((item, i) => {
    const spans = [{ ...widest, text: block.start === undefined ? '• ' : `${block.start + i}. ` }];
    const blocks = setBlocks(item, inner, setter, { spans, gap });
    // Items of a list stand closer than paragraphs.
    const endsText = (j: number) => !indent.inList && i === block.items.length - 1 && j === blocks.length - 1;
    return blocks.map((b, j) => (endsText(j) ? { ...b, after: style.after } : { ...b, after: style.after / 3 }));
  });
}

/** A figure on a line of its own: engraved where it can be, or set as degrees. */
function figureBlock(figure: string, indent: Indent, setter: Setter): ProseBlock {
  const { style, options } = setter;
  const engraved = options.engrave?.(figure);
  if (engraved) return exampleBlock(engraved, indent, setter);
  const text = withRealSigns(figure).split(' ').join('\u2002');
  const look = { ...style, size: 1.15 * style.size, leading: 1.15 * style.leading };
  const span: Span = { text, font: 'roman', size: look.size, features: ['lnum'] };
  return linesBlock([span], { style: look, align: 'center', before: style.after / 2 }, indent, setter);
}

/** An engraved example as a block of one line, centred, smaller where it would be wider than the measure. */
function exampleBlock({ drawing, scale, alt }: Example, indent: Indent, { style, nextId }: Setter): ProseBlock {
  const own = Math.min(scale, indent.width / drawing.width);
  const height = (drawing.bottom - drawing.top) * own;
  const tag: Tag = { kind: 'element', type: 'Figure', id: nextId(), alt };
  return {
    lines: [{ runs: [], width: indent.width, ratio: 0 }],
    leading: height,
    before: style.after,
    after: 1.5 * style.after,
    height,
    keepWithNext: false,
    tag,
    place(x, y) {
      const left = x + indent.left + (indent.width - drawing.width * own) / 2;
      return [{ kind: 'drawing', x: left, y: y - drawing.top * own, scale: own, draw: () => drawing, tag }];
    },
  };
}

/** Height of blocks set under one another, without space above the first and below the last. */
export function proseHeight(blocks: readonly ProseBlock[]): Pt {
  let height = 0;
  blocks.forEach((block, i) => {
    const above = i === 0 ? 0 : Math.max(blocks[i - 1]!.after, block.before);
    height += above + block.height;
  });
  return height;
}

/** Where text may stand on a page, in points. */
export type Column = { readonly x: Pt; readonly top: Pt; readonly bottom: Pt };

export type Flow = {
  /** Items of each column used, in order. */
  readonly columns: readonly (readonly PageItem[])[];
  /** Below the last line. */
  readonly end: Pt;
};

/** Least number of lines of a paragraph that may stand alone at the foot or head of a column (common practice). */
const LEAST = 2;

/** How many of the block's lines from `from` go into `room` so that neither part is a single line; all, some or 0. */
function linesThatFit(block: ProseBlock, from: number, room: Pt): number {
  const left = block.lines.length - from;
  const fit = Math.floor((room + 1e-6) / block.leading);
  if (fit >= left) return left;
  const taken = Math.min(fit, left - LEAST);
  return taken >= LEAST ? taken : 0;
}

/**
 * Fills columns in turn: `columnAt(0)`, `columnAt(1)` … as many as needed. No single line of a paragraph stands at the
 * head or foot of a column, and a heading stays with two lines of the text after it.
 */
export function flowProse(blocks: readonly ProseBlock[], columnAt: (index: number) => Column): Flow {
  const columns: PageItem[][] = [[]];
  let column = columnAt(0);
  let y: number = column.top;
  const next = () => {
    columns.push([]);
    column = columnAt(columns.length - 1);
    y = column.top;
  };
  blocks.forEach((block, index) => {
    const above = index === 0 ? 0 : Math.max(blocks[index - 1]!.after, block.before);
    if (y > column.top) y += above;
    if (y > column.top && !startsWell(blocks, index, column.bottom - y)) next();
    let from = 0;
    while (from < block.lines.length) {
      let taken = linesThatFit(block, from, column.bottom - y);
      // A fresh column takes what it can, however short it is.
      if (taken === 0 && y <= column.top) taken = Math.max(1, Math.floor((column.bottom - y) / block.leading));
      if (taken > 0) {
        columns.at(-1)!.push(...block.place(column.x, y, from, from + taken));
        y += taken * block.leading;
        from += taken;
      }
      if (from < block.lines.length) next();
    }
  });
  return { columns, end: y };
}

/** True if the block, and what it must keep with it, can begin in this room. */
function startsWell(blocks: readonly ProseBlock[], index: number, room: Pt): boolean {
  const block = blocks[index]!;
  if (!block.keepWithNext) return linesThatFit(block, 0, room) > 0;
  const after = blocks[index + 1];
  if (!after) return block.height <= room;
  return block.height <= room && startsWell(blocks, index + 1, room - block.height - Math.max(block.after, after.before));
}
