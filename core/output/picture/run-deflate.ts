/**
 * Deflate for pictures of music: long runs of one value, and rows that repeat the row above. A general compressor looks for
 * repetitions everywhere and takes ten times as long for a file of about the same size. (RFC 1950 and RFC 1951, fixed codes.)
 */
import { assert } from '../../base/issue.js';

/** A repetition of fewer bytes has no code, and of more bytes is told in parts. (RFC 1951, 2.) */
export const SHORTEST = 3;
const LONGEST = 258;
/** How far back a repetition may lie. (RFC 1951, 2.) */
export const MOST_DISTANCE = 32768;

/** Length codes 257 to 284 and distance codes 0 to 29 begin at these values, with so many extra bits. (RFC 1951, 3.2.5.) */
const LENGTHS = [3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227];
const LENGTH_BITS = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5];

/** Huffman codes go out from their highest bit, everything else from its lowest. */
function reversed(code: number, bits: number): number {
  let out = 0;
  for (let i = 0; i < bits; i++) out |= ((code >> i) & 1) << (bits - 1 - i);
  return out;
}

type Bits = { readonly value: number; readonly count: number };

const packed = ({ value, count }: Bits): number => value * 32 + count;

/** The fixed code of a literal or length symbol. (RFC 1951, 3.2.6.) */
function fixedCode(symbol: number): Bits {
  if (symbol < 144) return { value: reversed(0x30 + symbol, 8), count: 8 };
  if (symbol < 256) return { value: reversed(0x190 + symbol - 144, 9), count: 9 };
  if (symbol < 280) return { value: reversed(symbol - 256, 7), count: 7 };
  return { value: reversed(0xc0 + symbol - 280, 8), count: 8 };
}

/** Literals and the end of a block, and every length with its extra bits: the code above its number of bits. */
const LITERALS = Array.from({ length: 257 }, (_, symbol) => packed(fixedCode(symbol)));
const REPEATS = Array.from({ length: LONGEST + 1 }, (_, length): number => {
  if (length < SHORTEST) return 0;
  if (length === LONGEST) return packed(fixedCode(285));
  const at = LENGTHS.findLastIndex((least) => least <= length);
  const { value, count } = fixedCode(257 + at);
  return packed({ value: value | ((length - (LENGTHS[at] as number)) << count), count: count + (LENGTH_BITS[at] as number) });
});

/** Code of five bits and extra bits of a distance. (RFC 1951, 3.2.5: two codes for each power of two from 4 on.) */
export function distanceBits(distance: number): Bits {
  if (distance <= 4) return { value: reversed(distance - 1, 5), count: 5 };
  const power = Math.floor(Math.log2(distance - 1));
  const half = ((distance - 1) >> (power - 1)) & 1;
  const extra = (distance - 1) & ((1 << (power - 1)) - 1);
  return { value: reversed(2 * power + half, 5) | (extra << 5), count: 5 + power - 1 };
}

/**
 * Adler-32, in stretches so short that no sum leaves 30 bits: larger ones are slower to add. Four zeros at a time, for most of
 * a picture is its ground. (RFC 1950, 9.)
 */
function adler32(bytes: Uint8Array): number {
  const words = new Uint32Array(bytes.buffer, bytes.byteOffset, bytes.length >> 2);
  let [a, b] = [1, 0];
  for (let from = 0; from < bytes.length; ) {
    const to = Math.min(bytes.length, from + 2500);
    while (from < to) {
      if (words[from >> 2] === 0) {
        b += 4 * a;
        from += 4;
        continue;
      }
      for (const end = Math.min(to, from + 4); from < end; from++) {
        a += bytes[from] as number;
        b += a;
      }
    }
    a %= 65521;
    b %= 65521;
  }
  return b * 65536 + a;
}

export type RowDeflater = {
  literal(byte: number): void;
  /** Three or more bytes that repeat the byte before them, or what stands one row before. */
  repeat(length: number, what: 'byte' | 'row'): void;
  /** The zlib stream of everything so far; `bytes` is that in full, at a multiple of four in its buffer. */
  finish(bytes: Uint8Array): Uint8Array;
};

/** Writes a stream in which the distance of one row is so many bytes, 32768 at most. */
export function rowDeflater(row: number): RowDeflater {
  assert(row >= 1 && row <= MOST_DISTANCE, 'deflate looks back no farther');
  const codes: number[] = [];
  const distances = { byte: packed(distanceBits(1)), row: packed(distanceBits(row)) };
  return {
    literal(byte) {
      codes.push(LITERALS[byte] as number);
    },
    repeat(length, what) {
      assert(length >= SHORTEST, 'shorter repetitions are literals');
      for (let left = length; left > 0; ) {
        // What is left over must be long enough to be told, too.
        const part = left <= LONGEST ? left : Math.min(LONGEST, left - SHORTEST);
        codes.push(REPEATS[part] as number, distances[what]);
        left -= part;
      }
    },
    finish(bytes) {
      codes.push(LITERALS[256] as number);
      const out = new Uint8Array(16 + codes.length * 3);
      out[0] = 0x78;
      out[1] = 0x01;
      let end = 2;
      // The only block is the last one, with fixed codes.
      let held = 0b011;
      let bits = 3;
      for (const code of codes) {
        held |= (code >> 5) << bits;
        bits += code & 31;
        for (; bits >= 8; bits -= 8) {
          out[end++] = held;
          held >>>= 8;
        }
      }
      if (bits > 0) out[end++] = held;
      new DataView(out.buffer).setUint32(end, adler32(bytes));
      return out.slice(0, end + 4);
    },
  };
}
