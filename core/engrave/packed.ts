/**
 * A drawing in a thirtieth of its room: its marks as bytes. A book's drawings are made once, when their systems are set,
 * and kept like this until they are painted.
 */
import { assert } from '../base/issue.js';
import type { Box, Drawing, FontName, Mark, Owner, PolygonMark, Role } from './drawing.js';
import { glyphInk } from './ink.js';
import type { Fonts } from './metrics.js';

/** Places to the nearest thousandth of a space: finer than any printer. */
export type PackedDrawing = {
  readonly bytes: Uint8Array;
  readonly texts: readonly string[];
  readonly width: number;
  readonly top: number;
  readonly bottom: number;
};

const ROLES: readonly Role[] = [
  'staff-line',
  'ledger',
  'clef',
  'key-signature',
  'time-signature',
  'barline',
  'notehead',
  'stem',
  'flag',
  'beam',
  'accidental',
  'dot',
  'rest',
  'tie',
  'slur',
  'tuplet-number',
  'tuplet-bracket',
  'articulation',
  'dynamic',
  'tempo',
  'bar-number',
  'key-name',
  'degree',
  'breath',
  'bracket',
  'label',
  'text',
];
const KINDS: readonly Mark['kind'][] = ['glyph', 'rect', 'polygon', 'lens', 'text'];
const FONTS: readonly FontName[] = ['roman', 'italic', 'bold', 'bold-italic', 'display', 'music'];

/** A mark's kind and role as one number. */
const HEADS = new Map(KINDS.map((kind, k) => [kind, new Map(ROLES.map((role, r) => [role, k * ROLES.length + r]))]));

/** Parts of a space. */
const FINE = 1000;

/** Room for the drawing being packed; it grows to the largest. */
let room = new Uint8Array(1 << 15);
/** No mark takes more bytes, but for polygons, whose points take ten each at most. */
const MOST = 120;
/** The next byte, and where the last mark stood: places are written as steps from there. */
let at = 0;
let pen = 0;

/** A whole number, seven bits a byte from the lowest on; the lowest bit is its sign. */
function put(value: number): void {
  let rest = value < 0 ? -2 * value - 1 : 2 * value;
  while (rest >= 128) {
    room[at++] = (rest % 128) + 128;
    rest = Math.floor(rest / 128);
  }
  room[at++] = rest;
}

const putLength = (value: number): void => put(Math.round(value * FINE));

function putPlace(x: number, y: number): void {
  const to = Math.round(x * FINE);
  put(to - pen);
  pen = to;
  putLength(y);
}

const putPoint = (point: readonly [number, number]): void => putPlace(point[0], point[1]);

function makeRoom(points: number): void {
  const needed = at + MOST + 10 * points;
  if (needed <= room.length) return;
  const larger = new Uint8Array(2 * needed);
  larger.set(room);
  room = larger;
}

export function packDrawing({ marks, width, top, bottom }: Drawing): PackedDrawing {
  const texts: string[] = [];
  let lastEvent = 0;
  let lastBar = 0;
  at = 0;
  pen = 0;
  for (const mark of marks) {
    const { kind, role, owner, box } = mark;
    const head = HEADS.get(kind)?.get(role);
    assert(head !== undefined, 'every kind and role of mark is in the lists');
    makeRoom(kind === 'polygon' ? mark.points.length : 0);
    const { event = -1, bar = -1, part = -1 } = owner;
    put(head);
    put(event - lastEvent);
    put(bar - lastBar);
    put(part);
    lastEvent = event;
    lastBar = bar;
    if (kind === 'glyph') {
      put(mark.code);
      putPlace(mark.x, mark.y);
      putLength(mark.size);
      continue;
    }
    putPlace(box.x0, box.y0);
    putPlace(box.x1, box.y1);
    if (kind === 'text') {
      put(FONTS.indexOf(mark.font));
      putLength(mark.size);
      putPlace(mark.x, mark.y);
      texts.push(mark.text);
    } else if (kind === 'polygon') {
      put(mark.points.length);
      for (const point of mark.points) putPoint(point);
    } else if (kind === 'lens') {
      putPoint(mark.from);
      putPoint(mark.to);
      for (const point of mark.outer) putPoint(point);
      for (const point of mark.inner) putPoint(point);
    }
  }
  return { bytes: room.slice(0, at), texts, width, top, bottom };
}

/** Where a staff stands in a score: from the top, and how far below the top line of the first, in spaces. */
export type StaffPlace = { readonly part: number; readonly down: number };

/** The drawing again: the same marks in the same order, with their boxes. */
export const unpackDrawing = (packed: PackedDrawing, fonts: Fonts): Drawing => ({
  marks: unpackMarks(packed, fonts),
  width: packed.width,
  top: packed.top,
  bottom: packed.bottom,
});

/** Its marks, at their place in a score if one is given. */
export function unpackMarks({ bytes, texts }: PackedDrawing, fonts: Fonts, place?: StaffPlace): Mark[] {
  const marks: Mark[] = [];
  const down = place?.down ?? 0;
  let read = 0;
  let x = 0;
  let event = 0;
  let bar = 0;
  let text = 0;

  function next(): number {
    let value = 0;
    let unit = 1;
    let byte = bytes[read++] as number;
    while (byte >= 128) {
      value += (byte - 128) * unit;
      unit *= 128;
      byte = bytes[read++] as number;
    }
    value += byte * unit;
    return value % 2 === 0 ? value / 2 : -(value + 1) / 2;
  }

  const length = (): number => next() / FINE;
  const depth = (): number => next() / FINE + down;
  function across(): number {
    x += next();
    return x / FINE;
  }
  const point = (): readonly [number, number] => [across(), depth()];

  function owner(): Owner {
    event += next();
    bar += next();
    const own = next();
    const part = place?.part ?? own;
    // Written out, since this is done for every mark of a score.
    if (part < 0) return event < 0 ? (bar < 0 ? {} : { bar }) : bar < 0 ? { event } : { event, bar };
    return event < 0 ? (bar < 0 ? { part } : { bar, part }) : bar < 0 ? { event, part } : { event, bar, part };
  }

  while (read < bytes.length) {
    const head = next();
    const role = ROLES[head % ROLES.length] as Role;
    const kind = KINDS[Math.floor(head / ROLES.length)] as Mark['kind'];
    const common = owner();
    if (kind === 'glyph') {
      const code = next();
      const left = across();
      const y = depth();
      const size = length();
      marks.push({ kind, role, owner: common, code, x: left, y, size, box: glyphInk(fonts, code, left, y, size) });
      continue;
    }
    const box: Box = { x0: across(), y0: depth(), x1: across(), y1: depth() };
    if (kind === 'rect') marks.push({ kind, role, owner: common, box });
    else if (kind === 'text') {
      const font = FONTS[next()] as FontName;
      marks.push({ kind, role, owner: common, font, size: length(), x: across(), y: depth(), text: texts[text++] as string, box });
    } else if (kind === 'polygon') {
      const points: PolygonMark['points'] = Array.from({ length: next() }, point);
      marks.push({ kind, role, owner: common, points, box });
    } else {
      marks.push({
        kind,
        role,
        owner: common,
        from: point(),
        to: point(),
        outer: [point(), point()],
        inner: [point(), point()],
        box,
      });
    }
  }
  return marks;
}
