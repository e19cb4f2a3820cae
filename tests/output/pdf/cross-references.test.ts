/**
 * The table of a compressed file, read by the letter of ISO 32000-1 (7.5.8, and 7.4.4.4 for the predictor): readers that mend
 * a broken table by themselves would not tell.
 */
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { pdfOf } from '../read-pdf.js';
import { sample } from '../sample.js';

type Entry = readonly [type: number, second: number, third: number];

const number = (bytes: Uint8Array): number => bytes.reduce((sum, byte) => sum * 256 + byte, 0);

/** Rows of a table with the predictor Up: each byte is what it adds to the one above. */
function rowsOf(data: Buffer, columns: number): Buffer[] {
  const rows: Buffer[] = [];
  for (let at = 0; at < data.length; at += columns + 1) {
    expect(data[at]).toBe(2);
    const above = rows.at(-1);
    rows.push(Buffer.from(data.subarray(at + 1, at + 1 + columns).map((byte, i) => (byte + (above?.[i] ?? 0)) & 255)));
  }
  return rows;
}

describe('the table of cross-references', async () => {
  const bytes = await pdfOf(sample);
  const text = bytes.toString('latin1');
  const start = Number(/startxref\n(\d+)\n%%EOF/.exec(text)?.[1]);
  const [, dictionary = ''] = /^\d+ 0 obj\n<<([\s\S]*?)>>\nstream\n/.exec(text.slice(start)) ?? [];
  const field = (name: string): string => new RegExp(`/${name} (\\[[^\\]]*\\]|[\\d]+)`).exec(dictionary)?.[1] ?? '';
  const from = text.indexOf('stream\n', start) + 7;
  const widths = field('W').match(/\d+/g)!.map(Number) as [number, number, number];
  const columns = widths[0] + widths[1] + widths[2];
  const data = inflateSync(bytes.subarray(from, from + Number(field('Length'))));
  const entries = rowsOf(data, columns).map((row): Entry => {
    const [a, b] = [widths[0], widths[0] + widths[1]];
    return [number(row.subarray(0, a)), number(row.subarray(a, b)), number(row.subarray(b))];
  });

  it('says how it is written', () => {
    expect(dictionary).toContain('/Type /XRef');
    expect(dictionary).toMatch(
      new RegExp(`/Predictor 12\\b[\\s\\S]*/Columns ${columns}\\b|/Columns ${columns}\\b[\\s\\S]*/Predictor 12\\b`),
    );
    expect(entries).toHaveLength(Number(field('Size')));
    expect(entries[0]?.[0]).toBe(0);
  });

  it('leads to every object that stands in the file', () => {
    const plain = entries.flatMap(([type, at], id) => (type === 1 ? [{ id, at }] : []));
    expect(plain.length).toBeGreaterThan(10);
    for (const { id, at } of plain) expect(text.slice(at, at + `${id} 0 obj`.length)).toBe(`${id} 0 obj`);
  });

  it('leads to every object in a stream of objects, at its place', () => {
    const packed = entries.flatMap(([type, stream, place], id) => (type === 2 ? [{ id, stream, place }] : []));
    expect(packed.length).toBeGreaterThan(10);
    const places = new Map<number, number[]>();
    for (const { id, stream, place } of packed) {
      const known = places.get(stream) ?? idsIn(stream);
      places.set(stream, known);
      expect(known[place]).toBe(id);
    }
  });

  /** Numbers of the objects in a stream of objects, in their order (7.5.7). */
  function idsIn(stream: number): number[] {
    const at = entries[stream]?.[1] ?? 0;
    const head = /^\d+ 0 obj\n<<([\s\S]*?)>>\nstream\n/.exec(text.slice(at));
    const [, count] = /\/N (\d+)/.exec(head?.[1] ?? '') ?? [];
    const [, length] = /\/Length (\d+)/.exec(head?.[1] ?? '') ?? [];
    const begin = at + (head?.[0].length ?? 0);
    const numbers = inflateSync(bytes.subarray(begin, begin + Number(length)))
      .toString('latin1')
      .match(/\d+/g)!
      .map(Number);
    return Array.from({ length: Number(count) }, (_, i) => numbers[2 * i] as number);
  }
});
