import { describe, expect, it } from 'vitest';
import { installedFonts } from '../../../core/disk/fonts.js';
import { openFonts } from '../../../core/engrave/metrics.js';
import { shapingFont } from '../../../core/output/pdf/fonts.js';

const open = () => openFonts(installedFonts());

describe('a font for a file', () => {
  // The font file gives one glyph to the hyphen-minus and the soft hyphen, and to the space and the no-break space.
  it.each([
    ['\u00a0', ' '],
    [' ', '\u00a0'],
    ['\u00ad', '-'],
  ])('names the characters of its own text: %j before %j', (before, text) => {
    const [used, fresh] = [open(), open()];
    shapingFont(used, 'roman').layout(before);
    const [found, wanted] = [used, fresh].map((fonts) => shapingFont(fonts, 'roman').layout(text));
    expect(found).toEqual(wanted);
    expect(found?.glyphs.map(({ codePoints }) => codePoints)).toEqual([[text.codePointAt(0)]]);
    expect(used.width('roman', text)).toBe(fresh.width('roman', text));
  });

  it('gives runs that may be changed', () => {
    const font = shapingFont(open(), 'roman');
    const [first, second] = [font.layout('AV'), font.layout('AV')];
    (first.positions[0] as { xAdvance: number }).xAdvance = 0;
    expect(second.positions[0]?.xAdvance).toBeGreaterThan(0);
  });

  it('kerns as the font was measured', () => {
    const fonts = open();
    const { positions } = shapingFont(fonts, 'roman').layout('AVAT');
    const width = positions.reduce((sum, { xAdvance }) => sum + xAdvance, 0) / fonts.opened('roman').unitsPerEm;
    expect(width).toBeCloseTo(fonts.width('roman', 'AVAT'), 10);
  });
});
