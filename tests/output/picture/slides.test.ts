import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { PNG } from 'pngjs';
import { beforeAll, describe, expect, it } from 'vitest';
import { barsOf } from '../../../core/engrave/bars.js';
import { oneKeyLines } from '../../../core/output/picture/one-key.js';
import { openPngPainter, type PngPainter } from '../../../core/output/picture/png.js';
import { exerciseSlides, keySlides, type Slide } from '../../../core/output/picture/slides.js';
import type { Line } from '../../../core/player/line.js';
import { keyText } from '../../../core/theory/key.js';
import { pitchName } from '../../../core/theory/pitch.js';
import { testFonts } from '../../fonts.js';
import { notes, player, realised } from '../../player/fixture.js';
import { demoLines, kindLines, pieceOf } from '../exported.js';

const own = (line: Line) => pieceOf(line).lines[0]!;
const WALK = realised({ title: 'A walk', figure: '1 2 3 5' }, player('alto-saxophone'));
const LONG = realised({ title: 'Sevenths', figure: '1 3 5 7 2 4 6 8 3 5 7 9 4 6 8 10', passes: 2 }, player('flute'));

type System = { readonly number: number; readonly x: number; readonly y: number; readonly scale: number };

const systemsOf = (slide: Slide): System[] =>
  [...slide.svg.matchAll(/<g transform="translate\((\S+) (\S+)\) scale\((\S+)\)"[^>]* data-system="(\d+)"/g)].map(
    ([, x, y, scale, number]) => ({
      number: Number(number),
      x: Number(x),
      y: Number(y),
      scale: Number(scale),
    }),
  );

describe('an exercise', () => {
  it.each([
    ['16:9', 1080, 1920, 1080],
    ['9:16', 1080, 1080, 1920],
    ['16:9', 2160, 3840, 2160],
    ['9:16', 2160, 2160, 3840],
  ] as const)('%s at %i is %i by %i pixels', (shape, size, width, height) => {
    const [slide] = exerciseSlides(own(WALK), testFonts(), { shape, size });
    expect([slide?.width, slide?.height]).toEqual([width, height]);
    expect(slide?.svg).toContain(`width="${width}" height="${height}" viewBox="0 0 ${shape === '16:9' ? '1920 1080' : '1080 1920'}"`);
  });

  it('shows every bar once, in order, never smaller than can be read, inside the frame', () => {
    for (const line of [...kindLines(), ...demoLines([1]).slice(0, 12), LONG]) {
      for (const shape of ['16:9', '9:16'] as const) {
        const slides = exerciseSlides(own(line), testFonts(), { shape });
        const bars = slides.flatMap(({ svg }) => [...svg.matchAll(/data-role="barline" data-bar="(\d+)"/g)].map(([, bar]) => Number(bar)));
        expect([...new Set(bars)]).toEqual(barsOf(line).bars.map((bar) => bar.index));
        const systems = slides.map(systemsOf);
        expect(systems.flat().map((system) => system.number)).toEqual(systems.flat().map((_, i) => i));
        for (const system of systems.flat()) {
          // A staff space of 1.5 hundredths of the shorter side: a staff as high as large text.
          expect(system.scale).toBeGreaterThanOrEqual(0.015 * 1080 - 1e-6);
          expect(system.y).toBeGreaterThan(0.1 * 1080);
          expect(system.y + 4 * system.scale).toBeLessThan((shape === '16:9' ? 1080 : 1920) * 0.96);
        }
        for (const one of systems) expect(one.slice(1).every((system, i) => system.y - (one[i] as System).y > 7 * system.scale)).toBe(true);
      }
    }
  });

  it('fills the frame: a short one with a large staff, a long one over few slides with their number', () => {
    const [short] = exerciseSlides(own(realised({ figure: '1', order: { name: 'tritones' } }, player('flute'))), testFonts());
    const long = exerciseSlides(own(LONG), testFonts());
    expect(systemsOf(short!)[0]?.scale).toBeGreaterThan(30);
    expect(long.length).toBeGreaterThan(1);
    expect(long.length).toBeLessThanOrEqual(4);
    expect(long.map((slide) => slide.words.split(', ').at(-1))).toEqual(long.map((_, i) => `${i + 1} of ${long.length}`));
  });

  it('says in words what it shows', () => {
    const [slide] = exerciseSlides(own(WALK), testFonts());
    expect(slide?.words).toBe('A walk, 1  2  3  5, Alto saxophone');
    expect(slide?.svg).toContain('<title>A walk, 1  2  3  5, Alto saxophone</title>');
  });

  it('light on dark and dark on light differ by at least the contrast of WCAG 2, level AAA', () => {
    const luminance = (color: string): number => {
      const [r, g, b] = [1, 3, 5].map((at) => {
        const c = Number.parseInt(color.slice(at, at + 2), 16) / 255;
        return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
      }) as [number, number, number];
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const seen = (['light', 'dark'] as const).map((ground) => {
      const [slide] = exerciseSlides(own(WALK), testFonts(), { ground });
      const ink = luminance(/ color="(#\w{6})"/.exec(slide!.svg)![1]!);
      const paper = luminance(/<rect width="100%" height="100%" fill="(#\w{6})"/.exec(slide!.svg)![1]!);
      expect((Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05)).toBeGreaterThan(7);
      return ink > paper;
    });
    expect(seen).toEqual([false, true]);
  });

  it('is the same twice', () => expect(exerciseSlides(own(WALK), testFonts())).toEqual(exerciseSlides(own(WALK), testFonts())));
});

describe('one slide a key', () => {
  it('each key once, with its name', () => {
    const slides = keySlides(WALK, testFonts(), { ground: 'dark' });
    expect(slides.length).toBe(12);
    expect(slides[0]?.words).toBe('A major, A walk, 1  2  3  5, Alto saxophone');
  });

  it('the notes are those of the line, in its octave, direction and key', () => {
    for (const line of [WALK, LONG, ...kindLines(), ...demoLines([2]).slice(0, 10)]) {
      const alone = oneKeyLines(line);
      expect(new Set(alone.map((one) => keyText(one.statements[0]!.writtenKey))).size).toBe(alone.length);
      for (const one of alone) {
        const key = one.statements[0]!.key;
        const statement = line.statements.find((other) => other.key.chroma === key.chroma && other.key.mode === key.mode)!;
        const wanted = notes(line).filter((note) => note.statement === statement.index);
        expect(notes(one).map((note) => pitchName(note.written))).toEqual(wanted.map((note) => pitchName(note.written)));
        expect(notes(one).map((note) => pitchName(note.sounding))).toEqual(wanted.map((note) => pitchName(note.sounding)));
      }
    }
  });
});

describe('as PNG', () => {
  let paint: PngPainter;
  beforeAll(async () => {
    paint = await openPngPainter(
      () => new Uint8Array(readFileSync(createRequire(import.meta.url).resolve('@resvg/resvg-wasm/index_bg.wasm'))),
    );
  });

  /** Width, height and pixels (RGBA), as an independent reader (pngjs) has them. */
  function decode(png: Uint8Array): { width: number; height: number; at: (x: number, y: number) => number[] } {
    const { width, height, data } = PNG.sync.read(Buffer.from(png));
    return { width, height, at: (x, y) => [...data.subarray(4 * (y * width + x), 4 * (y * width + x) + 4)] };
  }

  it('has the size of its slide, its ground at the edges, and ink inside', () => {
    const [slide] = exerciseSlides(own(WALK), testFonts(), { ground: 'dark' });
    const bytes = paint(slide!.svg, slide!.width);
    // A palette and one byte a pixel: an eighth of a megabyte at most, and the fast way.
    expect([bytes[24], bytes[25]]).toEqual([8, 3]);
    expect(bytes.length).toBeLessThan(131072);
    const picture = decode(bytes);
    expect([picture.width, picture.height]).toEqual([1920, 1080]);
    const ground = [0x14, 0x17, 0x1c, 255];
    for (const x of [0, 20, 1900, 1919]) for (let y = 0; y < 1080; y += 7) expect(picture.at(x, y)).toEqual(ground);
    for (const y of [0, 15, 1064, 1079]) for (let x = 0; x < 1920; x += 7) expect(picture.at(x, y)).toEqual(ground);
    const [system] = systemsOf(slide!);
    // Under the clef the middle line of the staff is ink.
    const line = picture.at(Math.round(system!.x + 0.3 * system!.scale), Math.round(system!.y + 2 * system!.scale));
    expect(line[0]).toBeGreaterThan(0xa0);
  });

  it('is the same bytes twice', () => {
    const [slide] = exerciseSlides(own(WALK), testFonts());
    expect(Buffer.from(paint(slide!.svg, 480)).equals(Buffer.from(paint(slide!.svg, 480)))).toBe(true);
  });
});
