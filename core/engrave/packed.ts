/**
 * A drawing in a tenth of its room: its marks as a row of numbers. A book's drawings are made once, when their systems are
 * set, and kept like this until they are painted.
 */
import { assert } from '../issue.js';
import type { Box, Drawing, FontName, Mark, Owner, PolygonMark, Role } from './drawing.js';
import { glyphInk } from './ink.js';
import type { Fonts } from './metrics.js';

/** Places to within a millionth of their size. */
export type PackedDrawing = {
  readonly numbers: Float32Array;
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

/** Room for the drawing being packed; it grows to the largest. */
let room = new Float32Array(1 << 14);
/** No mark takes more numbers but polygons, of which each point takes two. */
const MOST = 24;

export function packDrawing({ marks, width, top, bottom }: Drawing): PackedDrawing {
  const texts: string[] = [];
  let at = 0;
  const put = (point: readonly [number, number]): void => {
    room[at++] = point[0];
    room[at++] = point[1];
  };
  for (const mark of marks) {
    const { kind, role, owner, box } = mark;
    const head = HEADS.get(kind)?.get(role);
    assert(head !== undefined, 'every kind and role of mark is in the lists');
    const needed = at + MOST + (kind === 'polygon' ? 2 * mark.points.length : 0);
    if (needed > room.length) {
      const larger = new Float32Array(2 * needed);
      larger.set(room);
      room = larger;
    }
    room[at++] = head;
    room[at++] = owner.event ?? -1;
    room[at++] = owner.bar ?? -1;
    room[at++] = owner.part ?? -1;
    if (kind === 'glyph') {
      room[at++] = mark.code;
      room[at++] = mark.x;
      room[at++] = mark.y;
      room[at++] = mark.size;
      continue;
    }
    room[at++] = box.x0;
    room[at++] = box.y0;
    room[at++] = box.x1;
    room[at++] = box.y1;
    if (kind === 'text') {
      room[at++] = FONTS.indexOf(mark.font);
      room[at++] = mark.size;
      room[at++] = mark.x;
      room[at++] = mark.y;
      room[at++] = texts.length;
      texts.push(mark.text);
    } else if (kind === 'polygon') {
      room[at++] = mark.points.length;
      for (const point of mark.points) put(point);
    } else if (kind === 'lens') {
      put(mark.from);
      put(mark.to);
      for (const point of mark.outer) put(point);
      for (const point of mark.inner) put(point);
    }
  }
  return { numbers: room.slice(0, at), texts, width, top, bottom };
}

/** The drawing again: the same marks in the same order, with their boxes. */
export function unpackDrawing({ numbers, texts, width, top, bottom }: PackedDrawing, fonts: Fonts): Drawing {
  const marks: Mark[] = [];
  let at = 0;
  const next = (): number => numbers[at++] as number;
  const point = (): readonly [number, number] => [next(), next()];

  function ownerAt(): Owner {
    const event = next();
    const bar = next();
    const part = next();
    if (part >= 0) return { ...(event < 0 ? {} : { event }), ...(bar < 0 ? {} : { bar }), part };
    return event < 0 ? (bar < 0 ? {} : { bar }) : bar < 0 ? { event } : { event, bar };
  }

  while (at < numbers.length) {
    const head = next();
    const role = ROLES[head % ROLES.length] as Role;
    const kind = KINDS[Math.floor(head / ROLES.length)] as Mark['kind'];
    const owner = ownerAt();
    if (kind === 'glyph') {
      const code = next();
      const x = next();
      const y = next();
      const size = next();
      marks.push({ kind, role, owner, code, x, y, size, box: glyphInk(fonts, code, x, y, size) });
      continue;
    }
    const box: Box = { x0: next(), y0: next(), x1: next(), y1: next() };
    if (kind === 'rect') marks.push({ kind, role, owner, box });
    else if (kind === 'text') {
      const font = FONTS[next()] as FontName;
      marks.push({ kind, role, owner, font, size: next(), x: next(), y: next(), text: texts[next()] as string, box });
    } else if (kind === 'polygon') {
      const points: PolygonMark['points'] = Array.from({ length: next() }, point);
      marks.push({ kind, role, owner, points, box });
    } else marks.push({ kind, role, owner, from: point(), to: point(), outer: [point(), point()], inner: [point(), point()], box });
  }
  return { marks, width, top, bottom };
}
