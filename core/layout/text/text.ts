/** Measured runs of text: one line's worth of spans → runs, with musical signs in the music font and a substitute for what no font has. */

import { type Issue, warning } from '../../base/issue.js';
import type { Pt } from '../../base/units.js';
import type { FontName } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import type { PageItem, Tag, TextRun } from '../page/page.js';
import { DOT, isNoteValue, signOf, withWholeNotes } from './text-sign.js';
import type { TypeStyle } from './type-style.js';

/** Text in one font. `size` in points where it differs from that of the line. */
export type Span = {
  readonly text: string;
  readonly font: FontName;
  readonly features?: readonly string[];
  readonly size?: Pt;
  readonly tracking?: Pt;
};

export type Align = 'left' | 'center' | 'right';

/** The text in a style of the table. */
export const spanOf = (text: string, style: TypeStyle): Span => ({
  text,
  font: style.font,
  size: style.size,
  ...(style.features ? { features: style.features } : {}),
  ...(style.tracking ? { tracking: style.tracking } : {}),
});

/** A stretch of a span that is set in one font, or one musical sign. */
type FontRun = { readonly sign: boolean; readonly font: FontName; readonly text: string };

/** Characters that a typewritten text may hold and print does not need to show. */
const INVISIBLE = /\u00AD|[\u200B-\u200D]|\u2060|[\uFE00-\uFE0F]|\uFEFF/gu;

/** Composes accents, turns line ends and tabs into spaces, drops invisible characters. */
function cleaned(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  const printable = text.normalize('NFC').replace(/[\u0000-\u001F\u007F\u0085\u2028\u2029]+/g, ' ');
  return withWholeNotes(printable.replace(INVISIBLE, '').replaceAll('\u2011', '-'));
}

/** How a character that no font has is printed: never as an empty box. */
const substitute = (character: string): string => `[U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`;

const isCovered = (character: string, font: FontName, fonts: Fonts): boolean =>
  signOf(character) !== undefined || fonts.covers(font, character);

/** Text that every face has and that needs no cleaning: most of what is set. */
const PLAIN = /^[ -~\u2013\u2014\u2018\u2019\u201C\u201D]*$/;
const PLAIN_CHARACTERS = `${Array.from({ length: 95 }, (_, i) => String.fromCharCode(32 + i)).join('')}\u2013\u2014\u2018\u2019\u201C\u201D`;

/** Splits a span where its font changes. */
function fontRunsOf(span: Span, fonts: Fonts): FontRun[] {
  if (span.font === 'music') return [{ sign: false, font: 'music', text: span.text }];
  if (PLAIN.test(span.text) && fonts.covers(span.font, PLAIN_CHARACTERS)) return [{ sign: false, font: span.font, text: span.text }];
  const pieces: FontRun[] = [];
  const add = (font: FontName, text: string) => {
    const last = pieces.at(-1);
    if (last && !last.sign && last.font === font) pieces[pieces.length - 1] = { ...last, text: last.text + text };
    else pieces.push({ sign: false, font, text });
  };
  let afterNote = false;
  for (const character of cleaned(span.text)) {
    if (afterNote && character === '.') pieces.push({ sign: true, font: 'music', text: DOT });
    else if (signOf(character)) pieces.push({ sign: true, font: 'music', text: character });
    else if (fonts.covers(span.font, character)) add(span.font, character);
    else if (fonts.covers('roman', character)) add('roman', character);
    else add(span.font, substitute(character));
    afterNote = isNoteValue(character);
  }
  return pieces;
}

/** Advance of a glyph of the music font in ems; a flag that juts out counts. */
function signWidth(text: string, fonts: Fonts): number {
  const { x1, advance } = fonts.glyph(text.codePointAt(0) ?? 0);
  return Math.max(x1, advance) / 4;
}

/** Runs from `x` on, in points, and where the next text would begin. */
export function setOnLine(spans: readonly Span[], x: Pt, y: Pt, size: Pt, fonts: Fonts): { readonly runs: TextRun[]; readonly end: Pt } {
  const runs: TextRun[] = [];
  let at: number = x;
  for (const span of spans) {
    const em = span.size ?? size;
    const tracking = span.tracking ?? 0;
    for (const piece of fontRunsOf(span, fonts)) {
      const sign = piece.sign ? signOf(piece.text) : undefined;
      if (sign) {
        const width = signWidth(sign.text, fonts) * sign.scale * em;
        at += sign.before * em;
        runs.push({ font: 'music', size: sign.scale * em, x: at, y: y - sign.rise * em, text: sign.text, width });
        at += width + sign.after * em + tracking;
        continue;
      }
      const features = piece.font === 'music' ? [] : (span.features ?? []);
      const width = fonts.width(piece.font, piece.text, features) * em + (tracking ? tracking * [...piece.text].length : 0);
      runs.push({
        font: piece.font,
        size: em,
        x: at,
        y,
        text: piece.text,
        width,
        ...(tracking ? { tracking } : {}),
        ...(features.length > 0 ? { features } : {}),
      });
      at += width;
    }
  }
  return { runs, end: at };
}

/**
 * Spans on one baseline, from `x` to the right, in points. `size` serves spans that name none.
 * Every run is measured as the painters set it; no run holds a character its font lacks.
 */
export const runsOf = (spans: readonly Span[], x: Pt, y: Pt, size: Pt, fonts: Fonts): TextRun[] => setOnLine(spans, x, y, size, fonts).runs;

/** Width of the spans on one line, with the room after a last sign but without a last letter-space. */
export const widthOf = (spans: readonly Span[], size: Pt, fonts: Fonts): Pt =>
  Math.max(0, setOnLine(spans, 0, 0, size, fonts).end - (spans.at(-1)?.tracking ?? 0));

/** One line of spans between two edges, in points. A line wider than the room begins at the left edge whatever its alignment. */
export function lineOf(
  spans: readonly Span[],
  edges: { readonly left: Pt; readonly right: Pt },
  y: Pt,
  size: Pt,
  align: Align,
  fonts: Fonts,
): TextRun[] {
  const room = Math.max(0, edges.right - edges.left - widthOf(spans, size, fonts));
  const shift = align === 'left' ? 0 : align === 'right' ? room : room / 2;
  return runsOf(spans, edges.left + shift, y, size, fonts);
}

/** Moves runs by a distance. */
export const movedRuns = (runs: readonly TextRun[], dx: Pt, dy: Pt): readonly TextRun[] =>
  dx === 0 && dy === 0 ? runs : runs.map((run) => ({ ...run, x: run.x + dx, y: run.y + dy }));

export const textItems = (runs: readonly TextRun[], tag: Tag): PageItem[] => runs.map((run) => ({ kind: 'text', run, tag }));

/** A warning for each character of the text that the roman face lacks and that is printed as a code in brackets. */
export function coverageIssues(path: readonly (string | number)[], text: string, fonts: Fonts): Issue[] {
  const missing = [...new Set(cleaned(text))].filter((character) => !isCovered(character, 'roman', fonts));
  return missing.map((character) =>
    warning(
      'no-glyph',
      path,
      `The typeface has no character “${character}”; it is printed as ${substitute(character)}. Write it in another way.`,
    ),
  );
}
