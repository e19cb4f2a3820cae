import { JSDOM } from 'jsdom';
import { describe, expect, it } from 'vitest';
import { drawingSvg, pageSvg, type SvgOptions } from '../../../core/output/picture/svg.js';
import { testFonts } from '../../fonts.js';
import { FOLIO, sample, staff, text, withPage } from '../sample.js';

const { DOMParser } = new JSDOM('').window;

function parsed(svg: string): Element {
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  expect(root.querySelector('parsererror'), root.textContent ?? '').toBeNull();
  expect(root.tagName).toBe('svg');
  return root as unknown as Element;
}

function page(index: number, options?: SvgOptions): Element {
  return parsed(pageSvg(sample.pages[index]!, sample, testFonts(), options));
}

describe('a page', () => {
  it('is well-formed and as large as the trimmed page, on every page and in both modes', () => {
    for (const mode of ['outlines', 'live'] as const) {
      for (const index of sample.pages.keys()) {
        const root = page(index, { text: mode });
        expect(root.getAttribute('viewBox')).toBe('0 0 431 612');
        expect(root.getAttribute('width')).toBe('431pt');
      }
    }
  });

  it('defines every outline that it uses, once', () => {
    const root = page(4);
    const ids = [...root.querySelectorAll('defs path')].map((path) => path.id);
    expect(new Set(ids).size).toBe(ids.length);
    const used = [...root.querySelectorAll('use')].map((use) => use.getAttribute('href')!.slice(1));
    expect(new Set(used)).toEqual(new Set(ids));
  });

  it('with outlines where they stand: nothing is referred to, and the ink is the same', () => {
    for (const index of sample.pages.keys()) {
      const [shared, inline] = [page(index), page(index, { glyphs: 'inline' })];
      expect(inline.querySelector('use, defs')).toBeNull();
      const inkOf = (root: Element) => [...root.querySelectorAll('[data-role]')].map((mark) => mark.getAttribute('data-role'));
      expect(inkOf(inline)).toEqual(inkOf(shared));
      const outlines = new Map([...shared.querySelectorAll('defs path')].map((path) => [`#${path.id}`, path.getAttribute('d')]));
      const glyphs = [...shared.querySelectorAll('use[transform]')].map((use) => [
        use.getAttribute('transform'),
        outlines.get(use.getAttribute('href') ?? ''),
      ]);
      const paths = [...inline.querySelectorAll('path[transform]')].map((path) => [path.getAttribute('transform'), path.getAttribute('d')]);
      for (const glyph of glyphs) expect(paths).toContainEqual(glyph);
    }
  });

  it('sets whole words as one outline, letter after letter with the kerning of the font', () => {
    const words = withPage([text('roman', 10, 50, 60, 'AV', FOLIO)]).pages[0]!;
    const root = parsed(pageSvg(words, sample, testFonts(), { glyphs: 'inline' }));
    const path = root.querySelector('path[transform="matrix(0.01 0 0 -0.01 50 60)"]')!;
    const font = testFonts().opened('roman');
    const { glyphs, positions } = font.layout('AV');
    expect(path.getAttribute('d')).toBe(glyphs[0]!.path.toSVG() + glyphs[1]!.path.translate(positions[0]!.xAdvance, 0).toSVG());
  });

  it('sets outlines with the kerning of the font', () => {
    const root = parsed(pageSvg(withPage([text('roman', 10, 50, 60, 'AV', FOLIO)]).pages[0]!, sample, testFonts()));
    const run = root.querySelector('g[transform="matrix(0.01 0 0 -0.01 50 60)"]')!;
    const [a, v] = [...run.querySelectorAll('use')].map((use) => Number(use.getAttribute('x')));
    const font = testFonts().opened('roman');
    expect(a).toBe(0);
    expect(v).toBe(font.layout('AV').positions[0]!.xAdvance);
    expect(v).toBeLessThan(font.glyphForCodePoint(0x41).advanceWidth);
  });

  it('keeps words as text in live mode, with features, tracking and the measured width', () => {
    const [title, subtitle] = page(0, { text: 'live' }).querySelectorAll('text');
    expect(title!.textContent).toBe('Scales & Arpeggios');
    expect(title!.getAttribute('font-family')).toBe('Source Serif 4 Display');
    expect(Number(title!.getAttribute('textLength'))).toBeCloseTo(testFonts().width('display', 'Scales & Arpeggios') * 30, 2);
    expect(subtitle!.getAttribute('style')).toContain("font-feature-settings: 'smcp'");
    expect(subtitle!.getAttribute('letter-spacing')).toBe('0.8');
  });

  it('names families that the font files have', () => {
    const families = [...page(0, { text: 'live' }).querySelectorAll('text')].map((words) => words.getAttribute('font-family'));
    const known = (['roman', 'italic', 'bold', 'bold-italic', 'display', 'music'] as const).map(
      (name) => testFonts().opened(name).familyName,
    );
    for (const family of families) expect(known).toContain(family);
  });

  it('has links with target and words', () => {
    const [link] = page(2).querySelectorAll('[data-target]');
    expect(link!.getAttribute('data-target')).toBe('chapter-1');
    expect(link!.textContent).toBe('Chapter one, page 1');
  });

  it('places drawings in staff spaces', () => {
    const drawing = page(4).querySelector('[data-exercise="2"]')!;
    expect(drawing.getAttribute('transform')).toBe('translate(60 200) scale(5)');
    expect(drawing.querySelectorAll('[data-role="staff-line"]')).toHaveLength(5);
  });

  it('escapes what XML would misread, and drops what XML forbids', () => {
    const link = { kind: 'link' as const, x: 0, y: 0, width: 9, height: 9, target: `a"<&'`, words: 'a\u0000 < b & "c"' };
    const root = parsed(pageSvg(withPage([link]).pages[0]!, sample, testFonts(), { title: '<&>' }));
    expect(root.querySelector('[data-target]')!.getAttribute('data-target')).toBe(`a"<&'`);
    expect(root.querySelector('rect title')!.textContent).toBe('a < b & "c"');
    expect(root.getAttribute('aria-label')).toBe('<&>');
  });

  it('refuses a character that the font lacks', () => {
    const { pages } = withPage([text('roman', 10, 50, 50, '𝄫', FOLIO)]);
    expect(() => pageSvg(pages[0]!, sample, testFonts())).toThrow('the roman font has a glyph for every character');
  });
});

describe('a drawing', () => {
  const svg = drawingSvg(staff(), testFonts(), { scale: 8, idPrefix: 'one-' });

  it('lets a screen find the note under the pointer', () => {
    const root = parsed(svg);
    const heads = [...root.querySelectorAll('[data-role="notehead"]')];
    expect(heads.map((head) => head.getAttribute('data-event'))).toEqual(['0', '1', '2', '3', '4', '5', '6', '7']);
    expect(root.querySelectorAll('[data-event="4"]')).toHaveLength(3);
    expect(root.querySelector('[data-role="clef"]')!.hasAttribute('data-event')).toBe(false);
  });

  it('paints a notehead at its place: four spaces to the em, upright', () => {
    const [head] = parsed(svg).querySelectorAll('[data-role="notehead"]');
    expect(head!.getAttribute('href')).toBe('#one-music-ue0a4');
    expect(head!.getAttribute('transform')).toBe('matrix(0.004 0 0 -0.004 5 3.5)');
  });

  it('is as large as its ink', () => {
    const root = parsed(svg);
    expect(root.getAttribute('viewBox')).toBe('0 -3.5 20 9.7');
    expect(root.getAttribute('width')).toBe('160pt');
    const wider = {
      ...staff(),
      marks: [{ kind: 'rect' as const, role: 'bracket' as const, owner: {}, box: { x0: -2, y0: 0, x1: -1, y1: 4 } }],
    };
    expect(parsed(drawingSvg(wider, testFonts())).getAttribute('viewBox')).toBe('-2 -3.5 22 9.7');
  });

  it('is the same text each time', () => {
    expect(drawingSvg(staff(), testFonts(), { scale: 8, idPrefix: 'one-' })).toBe(svg);
  });

  it('refuses a glyph that the music font lacks', () => {
    const mark = {
      kind: 'glyph' as const,
      role: 'rest' as const,
      owner: {},
      code: 0xf8ff,
      x: 0,
      y: 0,
      size: 1,
      box: { x0: 0, y0: 0, x1: 1, y1: 1 },
    };
    expect(() => drawingSvg({ ...staff(), marks: [mark] }, testFonts())).toThrow('U+F8FF');
  });
});
