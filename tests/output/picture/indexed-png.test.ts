/** Independent readers: zlib of Node for deflate streams, pngjs for pictures. */
import { inflateSync } from 'node:zlib';
import fc from 'fast-check';
import { PNG } from 'pngjs';
import { describe, expect, it } from 'vitest';
import { indexedPng } from '../../../core/output/picture/indexed-png.js';
import { distanceBits, MOST_DISTANCE, rowDeflater, SHORTEST } from '../../../core/output/picture/run-deflate.js';

type Step = readonly ['literal', byte: number] | readonly ['byte' | 'row', length: number];

/** What these steps write, and the bytes that they mean. */
function written(row: number, steps: readonly Step[]): { stream: Uint8Array; bytes: Uint8Array } {
  const deflate = rowDeflater(row);
  const bytes: number[] = [];
  for (const [kind, value] of steps) {
    const back = kind === 'row' ? row : 1;
    if (kind === 'literal' || back > bytes.length || value < SHORTEST) {
      deflate.literal(value & 255);
      bytes.push(value & 255);
      continue;
    }
    deflate.repeat(value, kind);
    for (let i = 0; i < value; i++) bytes.push(bytes[bytes.length - back] as number);
  }
  const all = Uint8Array.from(bytes);
  return { stream: deflate.finish(all), bytes: all };
}

const inflated = (row: number, steps: readonly Step[]): void => {
  const { stream, bytes } = written(row, steps);
  expect(Buffer.compare(inflateSync(stream), bytes)).toBe(0);
};

describe('deflate', () => {
  it('zlib reads back what was written', () => {
    const step = fc.oneof(
      fc.tuple(fc.constant('literal' as const), fc.integer({ min: 0, max: 255 })),
      fc.tuple(fc.constantFrom('byte' as const, 'row' as const), fc.integer({ min: 1, max: 4000 })),
    );
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2000 }), fc.array(step, { maxLength: 60 }), (row, steps) => inflated(row, steps)),
      { numRuns: 300, seed: 7 },
    );
  });

  it.each([3, 257, 258, 259, 260, 261, 516, 517, 518, 519, 70000])('a run of %i bytes', (count) => {
    for (const byte of [0, 143, 144, 255])
      inflated(100, [
        ['literal', byte],
        ['byte', count],
      ]);
  });

  it('rows repeat at every distance that the format knows', () => {
    for (const row of [3, 4, 5, 6, 7, 8, 9, 16, 17, 24, 25, 1921, 3841, 24577, MOST_DISTANCE]) {
      const once = Array.from({ length: row }, (_, i): Step => ['literal', (i * 7919) % 251]);
      inflated(row, [...once, ['row', 500]]);
    }
  });

  it('a row farther back than 32768 bytes is refused', () => expect(() => rowDeflater(MOST_DISTANCE + 1)).toThrow(/looks back/));
  it('so is a repetition of two bytes', () => expect(() => rowDeflater(9).repeat(2, 'byte')).toThrow(/literals/));

  // RFC 1951, 3.2.5: 1 is code 0; 5 is code 4 with one extra bit; 24577 is code 29 with thirteen.
  it.each([
    [1, 5],
    [4, 5],
    [5, 6],
    [9, 7],
    [24577, 18],
  ])('the distance %i takes %i bits', (distance, bits) => expect(distanceBits(distance).count).toBe(bits));

  it('one wrong bit is seen', () => {
    const { stream } = written(10, [
      ['literal', 7],
      ['byte', 1000],
    ]);
    stream[4] = (stream[4] as number) ^ 4;
    expect(() => inflateSync(stream)).toThrow();
  });
});

/** A picture of so many colours, in bands with noise. */
function picture(width: number, height: number, colors: number): Uint8Array {
  const pixels = new Uint8Array(4 * width * height);
  for (let at = 0; at < width * height; at++) {
    const color = (at * 7 + Math.floor(at / 3)) % colors;
    pixels.set([color & 0xff, (color * 3) & 0xff, (color >> 8) & 0xff, 255], 4 * at);
  }
  return pixels;
}

describe('pictures', () => {
  it.each([
    [1, 1, 1],
    [40, 30, 2],
    [33, 17, 115],
    [64, 64, 256],
  ])('%i by %i pixels in %i colours come back without loss', (width, height, colors) => {
    const pixels = picture(width, height, colors);
    const read = PNG.sync.read(Buffer.from(indexedPng(pixels, width, height) as Uint8Array));
    expect([read.width, read.height]).toEqual([width, height]);
    expect(Buffer.compare(read.data, Buffer.from(pixels))).toBe(0);
  });

  it('pictures of bands, lines and noise come back, whatever their size', () => {
    const band = fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 1, max: 90 }), fc.boolean());
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 70 }), fc.array(band, { minLength: 1, maxLength: 40 }), (width, bands) => {
        const tones = bands.flatMap(([tone, count, noisy]) =>
          Array.from({ length: count }, (_, i) => (noisy ? (tone + i * 13) % 97 : tone)),
        );
        const height = Math.ceil(tones.length / width);
        const pixels = new Uint8Array(4 * width * height).fill(255);
        for (const [at, tone] of tones.entries()) pixels.set([tone, 2 * tone, 255 - tone, 255], 4 * at);
        const read = PNG.sync.read(Buffer.from(indexedPng(pixels, width, height) as Uint8Array));
        expect(Buffer.compare(read.data, Buffer.from(pixels))).toBe(0);
      }),
      { numRuns: 200, seed: 3 },
    );
  });

  it('more than 256 colours are left to others', () => expect(indexedPng(picture(64, 64, 257), 64, 64)).toBeUndefined());

  it('so is a picture wider than deflate looks back', () => {
    expect(indexedPng(picture(MOST_DISTANCE - 1, 1, 2), MOST_DISTANCE - 1, 1)).toBeDefined();
    expect(indexedPng(picture(MOST_DISTANCE, 1, 2), MOST_DISTANCE, 1)).toBeUndefined();
  });

  it('so is what is not opaque', () => {
    const pixels = picture(4, 4, 3);
    pixels[7] = 254;
    expect(indexedPng(pixels, 4, 4)).toBeUndefined();
  });
});
