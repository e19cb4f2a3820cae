/** Code points and boxes of the music font, and the places of the signs of a signature. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  accidentalGlyph,
  CLEF_GLYPH,
  CLEF_LINE,
  dynamicGlyph,
  GLYPH,
  type GlyphName,
  signatureYs,
  stepY,
  timeDigit,
} from '../../core/engrave/glyphs.js';
import { STYLE } from '../../core/engrave/style.js';
import type { Clef } from '../../core/player/player.js';
import { signatureLetters } from '../../core/theory/key.js';
import { letterName, parsePitch, stepOf } from '../../core/theory/pitch.js';
import { testFonts } from '../fonts.js';

type Metadata = {
  readonly glyphBBoxes: Readonly<
    Record<string, { readonly bBoxNE: readonly [number, number]; readonly bBoxSW: readonly [number, number] }>
  >;
  readonly glyphsWithAnchors: Readonly<Record<string, Readonly<Record<string, readonly [number, number]>>>>;
  readonly engravingDefaults: Readonly<Record<string, number>>;
};

/** Published with the font (SMuFL font metadata). */
const metadata = JSON.parse(
  readFileSync(new URL('../../node_modules/@vexflow-fonts/sebastian/metadata.json', import.meta.url), 'utf8'),
) as Metadata;

const names = Object.keys(GLYPH) as GlyphName[];
const fonts = testFonts();

describe('the music font', () => {
  it.each(names)('has %s, and its metadata knows the name', (name) => {
    expect(metadata.glyphBBoxes[name], name).toBeDefined();
    expect(() => fonts.glyph(GLYPH[name])).not.toThrow();
  });

  /** Edges that differ by more than a twentieth of a space. */
  const differences = (name: GlyphName): string[] => {
    const box = fonts.glyph(GLYPH[name]);
    const { bBoxNE, bBoxSW } = metadata.glyphBBoxes[name] as Metadata['glyphBBoxes'][string];
    const edges: [string, number, number][] = [
      ['left', box.x0, bBoxSW[0]],
      ['right', box.x1, bBoxNE[0]],
      ['top', -box.y0, bBoxNE[1]],
      ['bottom', -box.y1, bBoxSW[1]],
    ];
    // In many entries the lower edge is the one number -0.8, whatever the glyph: a fault of the file.
    return edges.filter(([edge, a, b]) => Math.abs(a - b) > 0.05 && !(edge === 'bottom' && Math.abs(b + 0.8) < 1e-9)).map(([edge]) => edge);
  };

  /** Where the metadata do not agree with the outlines of the same font; the outlines are what is printed. */
  const KNOWN: Partial<Record<GlyphName, readonly string[]>> = {
    timeSig0: ['left'],
    dynamicMezzo: ['bottom'],
    tuplet0: ['left'],
    metAugmentationDot: ['right'],
  };

  it.each(names)('%s is as wide and as high as its metadata say', (name) => {
    expect(differences(name)).toEqual(KNOWN[name] ?? []);
  });

  it('knows the anchors of the stems', () => {
    const anchors = metadata.glyphsWithAnchors.noteheadBlack;
    expect(anchors?.stemUpSE?.[0]).toBeCloseTo(fonts.glyph(GLYPH.noteheadBlack).x1, 1);
    expect(anchors?.stemDownNW?.[0]).toBeCloseTo(0, 1);
  });

  it.each([
    ['staffLineThickness', STYLE.staffLine],
    ['stemThickness', STYLE.stem],
    ['beamThickness', STYLE.beam],
    ['legerLineThickness', STYLE.ledger],
    ['legerLineExtension', STYLE.ledgerExtension],
    ['thinBarlineThickness', STYLE.thinBarline],
    ['thickBarlineThickness', STYLE.thickBarline],
    ['tupletBracketThickness', STYLE.tupletBracket],
  ])('wants the %s that is used', (name, used) => {
    expect(metadata.engravingDefaults[name]).toBeCloseTo(used, 3);
  });
});

/** Names in the order of their code points, with the first code point of each run (SMuFL 1.4, glyph tables). */
const RUNS: readonly (readonly [number, readonly GlyphName[]])[] = [
  [0xe0a2, ['noteheadWhole', 'noteheadHalf', 'noteheadBlack']],
  [0xe240, ['flag8thUp', 'flag8thDown', 'flag16thUp', 'flag16thDown', 'flag32ndUp', 'flag32ndDown']],
  [0xe260, ['accidentalFlat', 'accidentalNatural', 'accidentalSharp', 'accidentalDoubleSharp', 'accidentalDoubleFlat']],
  [0xe4a0, ['articAccentAbove', 'articAccentBelow', 'articStaccatoAbove', 'articStaccatoBelow', 'articTenutoAbove', 'articTenutoBelow']],
  [0xe4e3, ['restWhole', 'restHalf', 'restQuarter', 'rest8th', 'rest16th', 'rest32nd']],
  [0xe520, ['dynamicPiano', 'dynamicMezzo', 'dynamicForte']],
  [0xe52b, ['dynamicPP', 'dynamicMP', 'dynamicMF']],
];

it.each(RUNS)('the range from %i is in order', (first, run) => {
  expect(run.map((name) => GLYPH[name])).toEqual(run.map((_, i) => first + i));
});

it('every code point is in the range that SMuFL gives to its kind', () => {
  // SMuFL 1.4, table of ranges.
  const ranges: readonly [RegExp, number, number][] = [
    [/Clef$/, 0xe050, 0xe07f],
    [/^timeSig/, 0xe080, 0xe09f],
    [/^notehead/, 0xe0a0, 0xe0ff],
    [/^augmentationDot$/, 0xe1e7, 0xe1ef],
    [/^flag/, 0xe240, 0xe25f],
    [/^accidental/, 0xe260, 0xe26f],
    [/^artic/, 0xe4a0, 0xe4bf],
    [/^breathMark/, 0xe4c0, 0xe4df],
    [/^rest/, 0xe4e0, 0xe4ff],
    [/^dynamic/, 0xe520, 0xe54f],
    [/^tuplet/, 0xe880, 0xe88f],
    [/^met/, 0xeca0, 0xecbf],
  ];
  for (const name of names) {
    const range = ranges.find(([kind]) => kind.test(name));
    // A kind that no range is named for is checked by its name and its box alone.
    if (range) expect(GLYPH[name] >= range[1] && GLYPH[name] <= range[2], name).toBe(true);
  }
});

it('no two names share a code point', () => {
  expect(new Set(Object.values(GLYPH)).size).toBe(names.length);
});

it('the signs and digits are found by their meaning', () => {
  expect([-2, -1, 0, 1, 2].map(accidentalGlyph)).toEqual([0xe264, 0xe260, 0xe261, 0xe262, 0xe263]);
  expect(() => accidentalGlyph(3)).toThrow(RangeError);
  expect(timeDigit(9)).toBe(0xe089);
  expect((['pp', 'p', 'mp', 'mf', 'f', 'ff'] as const).map(dynamicGlyph)).toEqual([0xe52b, 0xe520, 0xe52c, 0xe52d, 0xe522, 0xe52f]);
});

/** Written pitches of the seven sharps and flats in each clef (common practice). */
const SIGNATURES: Readonly<Record<Clef, readonly [string, string]>> = {
  treble: ['F5 C5 G5 D5 A4 E5 B4', 'B4 E5 A4 D5 G4 C5 F4'],
  alto: ['F4 C4 G4 D4 A3 E4 B3', 'B3 E4 A3 D4 G3 C4 F3'],
  tenor: ['F3 C4 G3 D4 A3 E4 B3', 'B3 E4 A3 D4 G3 C4 F3'],
  bass: ['F3 C3 G3 D3 A2 E3 B2', 'B2 E3 A2 D3 G2 C3 F2'],
};

describe.each(Object.keys(SIGNATURES) as Clef[])('a signature in the %s clef', (clef) => {
  const ys = (words: string): number[] => words.split(' ').map((name) => stepY(stepOf(parsePitch(name) as never), clef));

  it('has its signs at their places', () => {
    for (let count = 0; count <= 7; count++) {
      expect(signatureYs(count, clef)).toEqual(ys(SIGNATURES[clef][0]).slice(0, count));
      if (count > 0) expect(signatureYs(-count, clef)).toEqual(ys(SIGNATURES[clef][1]).slice(0, count));
    }
  });

  it('has the letters of the circle of fifths', () => {
    for (let fifths = -7; fifths <= 7; fifths++) {
      const letters = signatureYs(fifths, clef).map((y) => {
        const top = stepY(0, clef) * 2;
        return letterName((((top - y * 2) % 7) + 7) % 7);
      });
      expect(letters).toEqual(signatureLetters(fifths).map(letterName));
    }
  });
});

it.each([
  ['treble', 'G4'],
  ['alto', 'C4'],
  ['tenor', 'C4'],
  ['bass', 'F3'],
] as const)('the %s clef sits on the line of %s', (clef, name) => {
  expect(CLEF_LINE[clef]).toBe(stepY(stepOf(parsePitch(name) as never), clef));
  expect(fonts.glyph(CLEF_GLYPH[clef]).advance).toBeGreaterThan(1);
});
