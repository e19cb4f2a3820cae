/** Texts are set as the font library sets them by itself, and no faster way of asking may change that. */
import { readFileSync } from 'node:fs';
import { create, type Font } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { installedFonts } from '../../core/disk/fonts.js';
import type { FontName } from '../../core/engrave/drawing.js';
import { openFonts } from '../../core/engrave/metrics.js';

const files = installedFonts();
const FONTS: readonly FontName[] = ['roman', 'italic', 'bold', 'bold-italic', 'display'];

const books = ['keywrights-daybook', 'small-wheels'].map((name) => readFileSync(`assets/books/${name}.twelvefold`, 'utf8'));
const words = [...new Set(books.join(' ').match(/[\p{L}\p{M}\p{N}\p{P}\p{S}]+/gu))];

type Placed = { readonly id: number; readonly x: number; readonly y: number; readonly advance: number };

function byTheLibrary(font: Font, text: string): Placed[] {
  const { glyphs, positions } = font.layout(text);
  return glyphs.map(({ id }, i) => {
    const { xOffset, yOffset, xAdvance } = positions[i] as (typeof positions)[number];
    return { id, x: xOffset, y: yOffset, advance: xAdvance };
  });
}

function here(name: FontName, text: string): Placed[] {
  const { glyphs, places } = openFonts(files).shaped(name, text);
  return glyphs.map(({ id }, i) => ({
    id,
    x: places[4 * i + 2] as number,
    y: places[4 * i + 3] as number,
    advance: places[4 * i] as number,
  }));
}

describe('a text is set as by the library alone', () => {
  it.each(FONTS)('%s: every word of the demo books', (name) => {
    const [fonts, font] = [openFonts(files), create(files[name] as Buffer) as Font];
    expect(words.length).toBeGreaterThan(500);
    for (const word of words) {
      const wanted = byTheLibrary(font, word);
      const { glyphs, places } = fonts.shaped(name, word);
      expect(glyphs.map(({ id }) => id)).toEqual(wanted.map(({ id }) => id));
      expect(wanted.every(({ advance }, i) => advance === places[4 * i])).toBe(true);
    }
  });

  // A letter with its mark in one code, with a mark of its own, with two, and one that no font has in one code.
  it.each(['\u00e9t\u00e9', 'e\u0301te\u0301', 'o\u0302\u0301', 'q\u0303 x\u0331'])('%s', (text) => {
    const font = create(files.roman as Buffer) as Font;
    expect(here('roman', text)).toEqual(byTheLibrary(font, text));
  });

  it('a mark of its own would be misplaced without its tables', () => {
    const font = create(files.roman as Buffer) as Font;
    const bare = font.layout('q\u0303', { mark: false, mkmk: false }).positions.map(({ xOffset }) => xOffset);
    expect(bare).not.toEqual(byTheLibrary(font, 'q\u0303').map(({ x }) => x));
  });
});
