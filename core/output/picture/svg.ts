/** One page, or one drawing, as SVG: the same marks as in the PDF, for the screen and for pictures. */

import { assert } from '../../base/issue.js';
import { zip } from '../../base/list.js';
import type { Drawing, FontName, GlyphMark, LensMark, Mark, PolygonMark, RectMark } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { Document, Page, PageItem, PathStep } from '../../layout/page/page.js';
import { factor, decimal as n } from '../decimal.js';
import { escapeXml } from '../xml.js';

export type SvgOptions = {
  /** `outlines` (default) needs no font on the reader's machine; `live` keeps the words as text, set in the named fonts. */
  readonly text?: 'outlines' | 'live';
  /**
   * `shared` (default) writes each outline once and refers to it; `inline` writes it wherever it stands. That is longer, but
   * a browser shows it in less than half the time, since each reference makes it build a hidden tree of its own.
   */
  readonly glyphs?: 'shared' | 'inline';
  /** Begins every id, so that pictures with different fonts can share one HTML page. */
  readonly idPrefix?: string;
  /** What a screen reader says. */
  readonly title?: string;
  /** Colours of CSS for ink and ground; without them ink takes the colour around the picture and the ground is clear. */
  readonly colors?: { readonly ink: string; readonly paper: string };
};

export type PageSvgOptions = SvgOptions & {
  /** Size of the picture in pixels of the screen; in points of the page when not said. */
  readonly pixels?: { readonly width: number; readonly height: number };
};

export type DrawingSvgOptions = SvgOptions & {
  /** Points per staff space for the picture's own size; without it the picture fills its place. */
  readonly scale?: number;
};

/** How CSS finds each font; the family names are those inside the font files. */
const FACES: Readonly<Record<FontName, { readonly family: string; readonly style?: string; readonly weight?: string }>> = {
  roman: { family: 'Source Serif 4' },
  italic: { family: 'Source Serif 4', style: 'italic' },
  bold: { family: 'Source Serif 4', weight: '700' },
  'bold-italic': { family: 'Source Serif 4', style: 'italic', weight: '700' },
  display: { family: 'Source Serif 4 Display' },
  music: { family: 'Sebastian' },
};

/**
 * The trimmed page, in points. Links become empty rectangles with `data-target` and their words as title; drawings carry
 * `data-exercise` and `data-system`, their marks `data-role`, `data-event`, `data-bar` and `data-part`. Ink takes the
 * colour of the text around the picture (black on its own).
 */
export function pageSvg(page: Page, document: Pick<Document, 'width' | 'height'>, fonts: Fonts, options: PageSvgOptions = {}): string {
  const painter = svgPainter(fonts, options);
  const body = page.items.map((item) => itemSvg(item, painter)).filter((element) => element !== '');
  const { width, height } = document;
  const { pixels } = options;
  const own = pixels ? `width="${n(pixels.width)}" height="${n(pixels.height)}"` : `width="${n(width)}pt" height="${n(height)}pt"`;
  const size = `${own} viewBox="0 0 ${n(width)} ${n(height)}"`;
  return svgFile(size, painter, body, options);
}

/** One drawing, in staff spaces: the view box holds its width and height and whatever sticks out to the left. */
export function drawingSvg(drawing: Drawing, fonts: Fonts, options: DrawingSvgOptions = {}): string {
  const painter = svgPainter(fonts, options);
  const body = drawing.marks.map(painter.mark);
  const left = drawing.marks.reduce((x, mark) => Math.min(x, mark.box.x0), 0);
  const width = drawing.width - left;
  const height = drawing.bottom - drawing.top;
  const { scale } = options;
  const own = scale === undefined ? '' : `width="${n(width * scale)}pt" height="${n(height * scale)}pt" `;
  return svgFile(`${own}viewBox="${n(left)} ${n(drawing.top)} ${n(width)} ${n(height)}"`, painter, body, options);
}

type Words = {
  readonly font: FontName;
  readonly size: number;
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly features?: readonly string[];
  readonly tracking?: number;
  readonly width?: number;
};

type Painter = {
  text(words: Words, attributes: string): string;
  mark(mark: Mark): string;
  drawing(drawing: Drawing): string;
  /** Outlines used so far, by id, in the order of their first use. */
  readonly outlines: ReadonlyMap<string, string>;
};

function svgFile(size: string, painter: Painter, body: readonly string[], { title, colors }: SvgOptions): string {
  const name = title === undefined ? '' : ` role="img" aria-label="${escapeXml(title)}"`;
  const defs = [...painter.outlines].map(([id, d]) => `<path id="${id}" d="${d}"/>`);
  const color = colors === undefined ? '' : ` color="${escapeXml(colors.ink)}"`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" ${size}${color} fill="currentColor"${name}>`,
    ...(title === undefined ? [] : [`<title>${escapeXml(title)}</title>`]),
    ...(defs.length > 0 ? ['<defs>', ...defs, '</defs>'] : []),
    ...(colors === undefined ? [] : [`<rect width="100%" height="100%" fill="${escapeXml(colors.paper)}"/>`]),
    ...body,
    '</svg>\n',
  ].join('\n');
}

type Run = ReturnType<ReturnType<Fonts['opened']>['layout']>;

/** Texts as the fonts lay them out: the same few words stand on page after page. */
const RUNS = new WeakMap<Fonts, Map<string, Run>>();
const MOST_RUNS = 5000;

function laidOut(fonts: Fonts, font: FontName, text: string, features: readonly string[]): Run {
  const runs = RUNS.get(fonts) ?? new Map<string, Run>();
  RUNS.set(fonts, runs);
  const id = `${font}\0${features.join()}\0${text}`;
  let run = runs.get(id);
  if (!run) {
    if (runs.size >= MOST_RUNS) runs.clear();
    run = fonts.opened(font).layout(text, [...features]);
    runs.set(id, run);
  }
  return run;
}

/** Whole texts as one outline in font units, by font, features, letter spacing and words. */
const PATHS = new WeakMap<Fonts, Map<string, string>>();

function runPath(fonts: Fonts, font: FontName, text: string, features: readonly string[], spacing: number): string {
  const paths = PATHS.get(fonts) ?? new Map<string, string>();
  PATHS.set(fonts, paths);
  const id = `${font}\0${features.join()}\0${spacing}\0${text}`;
  let path = paths.get(id);
  if (path === undefined) {
    const run = laidOut(fonts, font, text, features);
    let pen = 0;
    path = '';
    for (const [glyph, { xAdvance, xOffset, yOffset }] of zip(run.glyphs, run.positions)) {
      assert(glyph.id !== 0, `the ${font} font has a glyph for every character of "${text}"`);
      path += glyph.path.translate(pen + xOffset, yOffset).toSVG();
      pen += xAdvance + spacing;
    }
    if (paths.size >= MOST_RUNS) paths.clear();
    paths.set(id, path);
  }
  return path;
}

const DRAWINGS = new WeakMap<Fonts, WeakMap<Drawing, string>>();

/** A text as SVG. */
type PaintText = (words: Words, attributes: string) => string;

/** Each outline is written once, among `outlines`, and referred to. */
function sharedText(fonts: Fonts, outlines: Map<string, string>, prefix: string): PaintText {
  return ({ font, size, x, y, text, features = [], tracking = 0 }, attributes) => {
    const run = laidOut(fonts, font, text, features);
    const scale = size / fonts.opened(font).unitsPerEm;
    const uses: string[] = [];
    let pen = 0;
    for (const [glyph, { xAdvance, xOffset, yOffset }] of zip(run.glyphs, run.positions)) {
      assert(glyph.id !== 0, `the ${font} font has a glyph for every character of "${text}"`);
      const id = `${prefix}${font}-${glyph.id}`;
      const outline = outlines.get(id) ?? glyph.path.toSVG();
      if (outline !== '') {
        outlines.set(id, outline);
        uses.push(`<use href="#${id}" x="${n(pen + xOffset)}"${yOffset ? ` y="${n(yOffset)}"` : ''}/>`);
      }
      pen += xAdvance + tracking / scale;
    }
    return `<g transform="${upright(scale, x, y)}"${attributes}>${uses.join('')}</g>`;
  };
}

const inlineText =
  (fonts: Fonts): PaintText =>
  ({ font, size, x, y, text, features = [], tracking = 0 }, attributes) => {
    const scale = size / fonts.opened(font).unitsPerEm;
    return `<path transform="${upright(scale, x, y)}"${attributes} d="${runPath(fonts, font, text, features, tracking / scale)}"/>`;
  };

/** Words that stay words, in the named font. */
const liveText =
  (fonts: Fonts): PaintText =>
  ({ font, size, x, y, text, features = [], tracking = 0, width }, attributes) => {
    const { family, style, weight } = FACES[font];
    const length = width ?? fonts.width(font, text, features) * size;
    const settings = features.map((feature) => `'${feature}'`).join(', ');
    return [
      `<text x="${n(x)}" y="${n(y)}" font-family="${family}" font-size="${n(size)}"`,
      style ? ` font-style="${style}"` : '',
      weight ? ` font-weight="${weight}"` : '',
      tracking ? ` letter-spacing="${n(tracking)}"` : '',
      length > 0 ? ` textLength="${n(length)}"` : '',
      ` style="white-space: pre${settings ? `; font-feature-settings: ${settings}` : ''}"`,
      `${attributes}>${escapeXml(text)}</text>`,
    ].join('');
  };

function glyphSvg(fonts: Fonts, outlines: Map<string, string> | undefined, prefix: string, mark: GlyphMark, data: string): string {
  const place = upright((4 * mark.size) / fonts.opened('music').unitsPerEm, mark.x, mark.y);
  if (!outlines) return `<path transform="${place}"${data} d="${fonts.outline(mark.code)}"/>`;
  const id = `${prefix}music-u${mark.code.toString(16)}`;
  if (!outlines.has(id)) {
    fonts.glyph(mark.code);
    outlines.set(id, fonts.outline(mark.code));
  }
  return `<use href="#${id}" transform="${place}"${data}/>`;
}

function shapeSvg(mark: RectMark | PolygonMark | LensMark, data: string): string {
  const at = ([x, y]: readonly [number, number]): string => `${n(x)} ${n(y)}`;
  if (mark.kind === 'rect') {
    const { x0, y0, x1, y1 } = mark.box;
    return `<rect x="${n(x0)}" y="${n(y0)}" width="${n(x1 - x0)}" height="${n(y1 - y0)}"${data}/>`;
  }
  if (mark.kind === 'polygon') return `<path d="M${mark.points.map(at).join('L')}Z"${data}/>`;
  const { from, to, outer, inner } = mark;
  const there = `C${at(outer[0])} ${at(outer[1])} ${at(to)}`;
  const back = `C${at(inner[1])} ${at(inner[0])} ${at(from)}`;
  return `<path d="M${at(from)}${there}${back}Z"${data}/>`;
}

function svgPainter(fonts: Fonts, { text: mode = 'outlines', glyphs = 'shared', idPrefix = '' }: SvgOptions): Painter {
  const outlines = new Map<string, string>();
  const prefix = escapeXml(idPrefix);
  const outlinedText = glyphs === 'inline' ? inlineText(fonts) : sharedText(fonts, outlines, prefix);
  const text = mode === 'live' ? liveText(fonts) : outlinedText;

  function mark(mark: Mark): string {
    const data = markData(mark);
    if (mark.kind === 'text') return text(mark, data);
    if (mark.kind === 'glyph') return glyphSvg(fonts, glyphs === 'inline' ? undefined : outlines, prefix, mark, data);
    return shapeSvg(mark, data);
  }

  const marksOf = ({ marks }: Drawing): string => marks.map(mark).join('\n');

  /** A drawing whose outlines stand in it is the same text on every page; an editor paints the same drawings again and again. */
  function drawing(drawing: Drawing): string {
    if (glyphs !== 'inline' || mode === 'live') return marksOf(drawing);
    const kept = DRAWINGS.get(fonts) ?? new WeakMap<Drawing, string>();
    DRAWINGS.set(fonts, kept);
    const painted = kept.get(drawing) ?? marksOf(drawing);
    kept.set(drawing, painted);
    return painted;
  }

  return { text, mark, drawing, outlines };
}

/** Font outlines have y upward; the minus turns them. */
function upright(scale: number, x: number, y: number): string {
  return `matrix(${factor(scale)} 0 0 ${factor(-scale)} ${n(x)} ${n(y)})`;
}

function markData({ role, owner }: Mark): string {
  const { event, bar, part } = owner;
  const entries = { event, bar, part };
  const owners = Object.entries(entries).map(([key, value]) => (value === undefined ? '' : ` data-${key}="${value}"`));
  return ` data-role="${role}"${owners.join('')}`;
}

function stepSvg([letter, ...places]: PathStep): string {
  return `${letter}${places.map((place) => n(place)).join(' ')}`;
}

function itemSvg(item: PageItem, painter: Painter): string {
  switch (item.kind) {
    case 'text':
      return painter.text(item.run, '');
    case 'rect': {
      const gray = Math.round((item.gray ?? 0) * 255);
      const fill = gray === 0 ? '' : ` fill="rgb(${gray} ${gray} ${gray})"`;
      return `<rect x="${n(item.x)}" y="${n(item.y)}" width="${n(item.width)}" height="${n(item.height)}"${fill}/>`;
    }
    case 'path': {
      const { d, stroke, fill, dash } = item;
      assert(stroke !== undefined || fill, 'a path is stroked or filled');
      const steps = d.map(stepSvg).join('');
      const line = stroke === undefined ? '' : ` stroke="currentColor" stroke-width="${n(stroke)}"`;
      const dashes = dash ? ` stroke-dasharray="${n(dash[0])} ${n(dash[1])}"` : '';
      return `<path d="${steps}"${fill ? '' : ' fill="none"'}${line}${dashes}/>`;
    }
    case 'drawing': {
      const exercise = item.exercise === undefined ? '' : ` data-exercise="${escapeXml(item.exercise)}"`;
      const system = item.system === undefined ? '' : ` data-system="${item.system}"`;
      const marks = painter.drawing(item.draw());
      return `<g transform="translate(${n(item.x)} ${n(item.y)}) scale(${factor(item.scale)})"${exercise}${system}>\n${marks}\n</g>`;
    }
    case 'link': {
      const box = `x="${n(item.x)}" y="${n(item.y)}" width="${n(item.width)}" height="${n(item.height)}"`;
      return `<rect ${box} fill="none" pointer-events="all" data-target="${escapeXml(item.target)}"><title>${escapeXml(item.words)}</title></rect>`;
    }
    case 'anchor':
      return '';
  }
}
