/**
 * Object streams and a cross-reference stream (ISO 32000-1, 7.5.7 and 7.5.8), which PDFKit does not write: the many
 * small dictionaries of links and structure are deflated together, and so is the list of where everything stands.
 */
import { assert } from '../../base/issue.js';
import type { Kit } from './fixes.js';

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

/**
 * Makes PDFKit write its objects so, from now on: to be called before the first object ends. Streams stay as they are, as
 * they must (7.5.7). The file needs PDF 1.5 and no encryption.
 */
export function packObjects(kit: Kit): void {
  const places: Places = { streams: [], positions: [] };
  const writeOut = kit._write.bind(kit);
  /** What PDFKit has written of the object it is about to end: `1 0 obj`, its value, a stream it may have, `endobj`. */
  let open: (string | Uint8Array)[] = [];
  let pack: { readonly id: number; readonly value: string }[] = [];

  kit._write = (data) => {
    open.push(data);
  };

  kit._refEnd = (ref) => {
    const [, value] = open;
    if (open.length === 3 && typeof value === 'string') pack.push({ id: ref.id, value });
    else {
      places.positions[ref.id] = kit._offset;
      for (const part of open) writeOut(part);
    }
    open = [];
    kit._waiting--;
    if (pack.length >= PACKED) endPack();
  };

  function endPack(): void {
    const objects = pack;
    pack = [];
    if (objects.length === 0) return;
    let offset = 0;
    const starts: string[] = [];
    for (const { id, value } of objects) {
      starts.push(`${id} ${offset}`);
      offset += value.length + 1;
    }
    const head = `${starts.join(' ')} `;
    const stream = kit.ref({ Type: 'ObjStm', N: objects.length, First: head.length });
    for (const [index, { id }] of objects.entries()) {
      places.streams[id] = stream.id;
      places.positions[id] = index;
    }
    // The stream ends at once, with nothing in the pack: it goes straight to the file.
    stream.end(head + objects.map(({ value }) => value).join('\n'));
  }

  kit._finalize = () => {
    endPack();
    const start = kit._offset;
    const table = kit.ref(crossReferences(kit));
    places.positions[table.id] = start;
    table.end(rows(places, table.id + 1));
    for (const line of ['startxref', `${start}`, '%%EOF']) writeOut(line);
    kit.push(null);
  };
}

/** The dictionary of the cross-reference stream, which is the trailer too. */
function crossReferences(kit: Kit): Record<string, unknown> {
  return {
    Type: 'XRef',
    // With object 0 and the stream itself.
    Size: kit._offsets.length + 2,
    W: WIDTHS,
    Root: kit._root,
    Info: kit._info,
    ID: [kit._id, kit._id],
    // Each row as its difference from the row above (7.4.4.4): neighbours are alike.
    DecodeParms: { Predictor: 12, Columns: ROW },
  };
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
