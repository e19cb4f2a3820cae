/**
 * Object streams and a cross-reference stream (ISO 32000-1, 7.5.7 and 7.5.8), which PDFKit does not write: the many
 * small dictionaries of links and structure are deflated together, and so is the list of where everything stands.
 */
import { assert } from '../../base/issue.js';
import { at, first } from '../../base/list.js';
import type { Kit, Ref } from './kit.js';

/** Objects in one stream: a reader unpacks all of it for one of them, and more hardly makes the file smaller. */
const PACKED = 200;

/** Bytes of the three fields of a cross-reference: what it is, where it stands, its place in an object stream. */
const WIDTHS = [1, 5, 2] as const;
const ROW = 8;

/**
 * Where the objects stand, by number: in the file, at so many bytes; or in an object stream, at a place among its objects.
 * Plain arrays of numbers, for a long book has many objects.
 */
type Places = { readonly streams: (number | undefined)[]; readonly positions: number[] };

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Whether a line of ASCII says this. */
function says(line: Uint8Array | undefined, text: string): boolean {
  return line?.length === text.length + 1 && [...text].every((sign, i) => sign.charCodeAt(0) === line[i]);
}

/** The number of an object, by its first line: `12 0 obj`. */
const idOf = (line: Uint8Array): number => Number.parseInt(new TextDecoder().decode(line), 10);

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let offset = 0;
  for (const part of parts) {
    bytes.set(part, offset);
    offset += part.length;
  }
  return bytes;
}

/** `value`: with the end of its line. */
type PackedObject = { readonly id: number; readonly value: Uint8Array };

/** First where each object begins, then the objects (7.5.7). */
function objectStream(kit: Kit, objects: readonly PackedObject[]): { readonly stream: Ref; readonly bytes: Uint8Array } {
  let offset = 0;
  const starts: string[] = [];
  for (const { id, value } of objects) {
    starts.push(`${id} ${offset}`);
    offset += value.length;
  }
  const head = `${starts.join(' ')} `;
  const stream = kit.ref({ Type: 'ObjStm', N: objects.length, First: head.length });
  return { stream, bytes: joined([bytesOf(head), ...objects.map(({ value }) => value)]) };
}

/**
 * Packs what PDFKit writes, from now on: to be called before the first object ends. Streams stay as they are, as they must
 * (7.5.7). The file needs PDF 1.5 and no encryption.
 */
export function packObjects(kit: Kit): void {
  const places: Places = { streams: [], positions: [] };
  const handOn = kit.push.bind(kit);
  let written = kit.readableLength;
  let pack: PackedObject[] = [];
  let ended = false;

  function write(chunk: Uint8Array): boolean {
    written += chunk.length;
    return handOn(chunk);
  }

  function endObject(lines: readonly Uint8Array[]): void {
    const id = idOf(first(lines));
    if (lines.length === 3) pack.push({ id, value: at(lines, 1) });
    else {
      places.positions[id] = written;
      for (const line of lines) write(line);
    }
    if (pack.length >= PACKED) endPack();
  }

  function endPack(): void {
    const objects = pack;
    pack = [];
    if (objects.length === 0) return;
    const { stream, bytes } = objectStream(kit, objects);
    for (const [index, { id }] of objects.entries()) {
      places.streams[id] = stream.id;
      places.positions[id] = index;
    }
    // The stream ends at once, with nothing in the pack: it goes straight to the file.
    stream.end(bytes);
  }

  function endFile(): void {
    endPack();
    const start = written;
    const table = crossReferences(kit);
    places.positions[table.id] = start;
    table.end(rows(places, table.id + 1));
    for (const line of ['startxref', `${start}`, '%%EOF']) write(bytesOf(`${line}\n`));
    ended = true;
  }

  const take = reader(endObject, endFile);
  kit.push = (chunk) => {
    if (chunk === null) return handOn(null);
    // Behind the end stand PDFKit's own table and trailer.
    if (!ended) take(chunk);
    return true;
  };
}

/**
 * Takes what PDFKit writes: of an object `1 0 obj`, its value, a stream it may have in three parts, and `endobj`; behind the
 * last of them its table.
 */
function reader(onObject: (lines: readonly Uint8Array[]) => void, onTable: () => void): (chunk: Uint8Array) => void {
  let open: Uint8Array[] = [];
  return (chunk) => {
    if (open.length === 0 && says(chunk, 'xref')) return onTable();
    open.push(chunk);
    if (open.length < (says(open[2], 'stream') ? 6 : 3)) return;
    assert(says(chunk, 'endobj'), 'an object ends with its third line, or behind its stream');
    const lines = open;
    // Whoever takes the object may write others.
    open = [];
    onObject(lines);
  };
}

/** The cross-reference stream with its dictionary, which is the trailer too. */
function crossReferences(kit: Kit): Ref {
  const table = kit.ref({
    Type: 'XRef',
    Size: 0,
    W: WIDTHS,
    Root: kit._root,
    Info: kit._info,
    ID: [kit._id, kit._id],
    // Each row as its difference from the row above (7.4.4.4): neighbours are alike.
    DecodeParms: { Predictor: 12, Columns: ROW },
  });
  // With object 0 and the stream itself.
  table.data.Size = table.id + 1;
  return table;
}

function rows({ streams, positions }: Places, size: number): Uint8Array {
  const bytes = new Uint8Array(size * (1 + ROW));
  const view = new DataView(bytes.buffer);
  // Object 0 heads the list of free objects (7.5.4).
  view.setUint16(1 + 6, 0xffff);
  for (let id = 1; id < size; id++) {
    const row = id * (1 + ROW) + 1;
    const stream = streams[id];
    const position = positions[id];
    assert(position !== undefined, `the object ${id} is written`);
    bytes[row] = stream === undefined ? 1 : 2;
    if (stream === undefined) {
      bytes[row + 1] = Math.floor(position / 2 ** 32);
      view.setUint32(row + 2, position % 2 ** 32);
    } else {
      view.setUint32(row + 2, stream);
      view.setUint16(row + 6, position);
    }
  }
  // From the last to the first, while the row above is still whole.
  for (let i = bytes.length - 1; i >= 0; i--) {
    if (i % (1 + ROW) === 0) bytes[i] = 2;
    else if (i > ROW) bytes[i] = bytes[i]! - bytes[i - (1 + ROW)]!;
  }
  return bytes;
}
