/** PNG pictures of few colours: a palette and one byte a pixel (W3C Portable Network Graphics, third edition). */
import { MOST_DISTANCE, rowDeflater, SHORTEST } from './run-deflate.js';

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const MOST_COLORS = 256;
/** So much of the row above is good enough: a run of one colour need not be looked for. */
const LONG = 48;

/** CRC-32 of every byte. (PNG, annex D.) */
const CRCS = Uint32Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
  return crc;
});

function chunk(type: string, data: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(12 + data.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, data.length);
  for (let i = 0; i < 4; i++) bytes[4 + i] = type.charCodeAt(i);
  bytes.set(data, 8);
  let crc = 0xffffffff;
  for (let i = 4; i < 8 + data.length; i++) crc = (CRCS[(crc ^ (bytes[i] as number)) & 0xff] as number) ^ (crc >>> 8);
  view.setUint32(8 + data.length, (crc ^ 0xffffffff) >>> 0);
  return bytes;
}

type Indexed = { readonly data: Uint8Array; readonly colors: readonly number[] };

/**
 * The pixels as places in a palette, row by row behind a filter byte 0 and deflated, and the colours in order of appearance.
 * One look at each pixel: most of them repeat the row above or the pixel before.
 */
function indexed(pixels: Int32Array, width: number, height: number): Indexed | undefined {
  const places = new Map<number, number>();
  const row = width + 1;
  const rows = new Uint8Array(height * row);
  const deflate = rowDeflater(row);
  for (let y = 0, at = 0; y < height; y++) {
    const shift = y + 1;
    const begin = at;
    deflate.literal(0);
    for (const end = at + width; at < end; ) {
      let to = at;
      if (y > 0) while (to < end && pixels[to] === pixels[to - width]) to++;
      const above = to - at;
      let run = 0;
      if (to < end && at > begin && above < LONG) {
        const before = pixels[at - 1];
        for (to = at; to < end && pixels[to] === before; ) to++;
        run = to - at;
      }
      if (run >= SHORTEST && run >= above) {
        const place = rows[at + shift - 1] as number;
        // The rows are made of zeros, and most of a picture is its first colour.
        if (place > 0) rows.fill(place, at + shift, at + run + shift);
        deflate.repeat(run, 'byte');
        at += run;
      } else if (above >= SHORTEST) {
        rows.copyWithin(at + shift, at + shift - row, at + above + shift - row);
        deflate.repeat(above, 'row');
        at += above;
      } else {
        const color = pixels[at] as number;
        let place = places.get(color);
        if (place === undefined) {
          place = places.size;
          // Colours that let the ground through would need a list of their own.
          if (color >> 24 !== -1 || place === MOST_COLORS) return undefined;
          places.set(color, place);
        }
        rows[at + shift] = place;
        deflate.literal(place);
        at++;
      }
    }
  }
  return { data: deflate.finish(rows), colors: [...places.keys()] };
}

/**
 * The picture without loss, from red, green, blue and opacity of each pixel; undefined if it has more than 256 colours or any
 * that is not opaque, or if it is wider than deflate looks back.
 */
export function indexedPng(pixels: Uint8Array, width: number, height: number): Uint8Array | undefined {
  if (width >= MOST_DISTANCE) return undefined;
  // As words of the byte order that this machine has: read back as bytes below.
  const words = new Int32Array(pixels.buffer, pixels.byteOffset, width * height);
  const found = indexed(words, width, height);
  if (!found) return undefined;
  const header = new Uint8Array(13);
  const view = new DataView(header.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  header.set([8, 3, 0, 0, 0], 8);
  const palette = Uint8Array.from(found.colors.flatMap((color) => [color & 0xff, (color >>> 8) & 0xff, (color >>> 16) & 0xff]));
  const chunks = [
    Uint8Array.from(SIGNATURE),
    chunk('IHDR', header),
    chunk('PLTE', palette),
    chunk('IDAT', found.data),
    chunk('IEND', new Uint8Array(0)),
  ];
  const file = new Uint8Array(chunks.reduce((size, { length }) => size + length, 0));
  let at = 0;
  for (const one of chunks) {
    file.set(one, at);
    at += one.length;
  }
  return file;
}
