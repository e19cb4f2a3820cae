/** What a slur must keep clear of: the ink of the notes under it, but for what it hangs on. */
import type { SlurSpan } from '../bar.js';
import type { Box, Mark, Role } from '../drawing.js';
import { GLYPH } from '../glyphs.js';
import type { Ink } from '../ink.js';
import { STYLE } from '../style.js';
import type { NotePlace } from './notes.js';

/** Ink of each event, as far as a slur has to keep clear of it. */
export function groupInk(ink: Ink): Map<number, Mark[]> {
  const byEvent = new Map<number, Mark[]>();
  for (const mark of ink.marks) {
    if (mark.owner.event === undefined) continue;
    const known = byEvent.get(mark.owner.event);
    if (known) known.push(mark);
    else byEvent.set(mark.owner.event, [mark]);
  }
  return byEvent;
}

/** What the slur hangs on does not stand in its way: head, stem, flag and articulation of its ends. */
const HUNG_ON = new Set<Role>(['notehead', 'stem', 'flag', 'dot', 'rest', 'ledger']);

export function obstaclesOf(
  inkByEvent: ReadonlyMap<number, readonly Mark[]>,
  slur: SlurSpan,
  from: NotePlace | number,
  to: NotePlace | number,
): Box[] {
  const boxes: Box[] = [];
  for (let event = slur.from; event <= slur.to; event++) {
    const end = event === slur.from ? from : event === slur.to ? to : undefined;
    for (const mark of inkByEvent.get(event) ?? []) {
      // Of an event written as tied notes, only the note at the slur's end is what it hangs on.
      const own = typeof end === 'object' && mark.box.x1 > end.x - 0.3 && mark.box.x0 < end.x + end.width + 0.3;
      if (own && HUNG_ON.has(mark.role)) continue;
      // A slur that begins at its note has the note's sign behind it; one that comes from the system before passes over it.
      if (mark.role === 'accidental' && event === slur.from && typeof from === 'object') continue;
      if (mark.role === 'ledger') boxes.push(nearer(mark.box));
      else if (mark.role === 'beam') boxes.push(...beamSlices(mark));
      else if (mark.role === 'accidental') boxes.push(...signParts(mark));
      else boxes.push(mark.box);
    }
  }
  return boxes;
}

/** A curve may come nearer to the thin end of a ledger line than to a sign. */
const nearer = ({ x0, x1, y0, y1 }: Box): Box => {
  const by = STYLE.curveClear - STYLE.curveClearLedger;
  return { x0, x1, y0: y0 + by, y1: y1 - by };
};

/** A slanted beam as boxes that follow its slant. */
function beamSlices(mark: Mark): Box[] {
  if (mark.kind !== 'polygon') return [mark.box];
  const [a, b] = [mark.points[0], mark.points[1]] as [readonly [number, number], readonly [number, number]];
  const count = 4;
  return Array.from({ length: count }, (_, i): Box => {
    const [x0, x1] = [a[0] + ((b[0] - a[0]) * i) / count, a[0] + ((b[0] - a[0]) * (i + 1)) / count];
    const y = (x: number): number => a[1] + ((b[1] - a[1]) * (x - a[0])) / (b[0] - a[0] || 1);
    return { x0, x1, y0: Math.min(y(x0), y(x1)), y1: Math.max(y(x0), y(x1)) + STYLE.beam };
  });
}

/** A flat is a stem with a bowl below; other signs are as wide above as below. Bowl's height as in Sebastian 1.1. */
function signParts(mark: Mark): Box[] {
  if (mark.kind !== 'glyph' || mark.code !== GLYPH.accidentalFlat) return [mark.box];
  const { x0, x1, y0, y1 } = mark.box;
  return [
    { x0, x1: x0 + 0.25, y0, y1 },
    { x0, x1, y0: mark.y - 0.7, y1 },
  ];
}
