/**
 * Reads a drawn system as a player would: what stands where, from shapes and places alone. Nothing is taken from the
 * line or from the marks' owners, so that what is read can be compared with what was meant.
 */
import { at, first, last, zip } from '../base/list.js';
import type { Drawing, GlyphMark, LensMark, Mark, PolygonMark, RectMark, Role } from '../engrave/drawing.js';
import { GLYPH } from '../engrave/glyphs.js';
import type { Clef } from '../player/player.js';
import { heightsAt } from './ink-shape.js';

export type ReadStem = { readonly mark: RectMark; readonly x: number; readonly up: boolean; readonly end: number };

/** Beams over the same stems. `levels` from the outermost in. */
export type ReadGroup = { readonly beams: readonly PolygonMark[]; readonly notes: readonly number[] };

export type ReadNote = {
  readonly kind: 'note';
  readonly head: GlyphMark;
  readonly y: number;
  /** 1 whole, 2 half, 4 quarter, 8 eighth … as drawn. */
  readonly value: number;
  readonly dots: number;
  readonly stem: ReadStem | undefined;
  readonly flag: GlyphMark | undefined;
  readonly flags: number;
  readonly beams: number;
  readonly accidental: GlyphMark | undefined;
  readonly ledgers: readonly RectMark[];
  readonly bar: number;
  readonly tuplet: number | undefined;
};

export type ReadRest = {
  readonly kind: 'rest';
  readonly head: GlyphMark;
  readonly value: number;
  readonly dots: number;
  readonly bar: number;
  readonly tuplet: number | undefined;
};

export type ReadEvent = ReadNote | ReadRest;

export type ReadBarline = { readonly x0: number; readonly x1: number; readonly kind: 'single' | 'double' | 'final' };

/** A key signature where it stands; `after` is the number of barlines left of it. */
export type ReadSignature = { readonly signs: readonly GlyphMark[]; readonly x0: number; readonly x1: number; readonly after: number };

/** A tuplet number and the events it stands over. */
export type ReadTuplet = { readonly actual: number; readonly events: readonly number[] };

export type ReadTie = { readonly mark: LensMark; readonly from: number | undefined; readonly to: number | undefined };

export type SystemReading = {
  readonly drawing: Drawing;
  readonly clefMark: GlyphMark | undefined;
  readonly clef: Clef | undefined;
  readonly signatures: readonly ReadSignature[];
  readonly time: { readonly beats: number; readonly unit: number; readonly x0: number; readonly x1: number } | undefined;
  readonly barlines: readonly ReadBarline[];
  readonly events: readonly ReadEvent[];
  readonly accidentals: readonly GlyphMark[];
  readonly groups: readonly ReadGroup[];
  readonly tuplets: readonly ReadTuplet[];
  readonly ties: readonly ReadTie[];
  readonly staffLeft: number;
  readonly staffRight: number;
};

const STEP_X = 0.15;

const isGlyph = (mark: Mark): mark is GlyphMark => mark.kind === 'glyph';
const isRect = (mark: Mark): mark is RectMark => mark.kind === 'rect';

/** Marks of a role and kind, from left to right. */
function marksOf<T extends Mark>(drawing: Drawing, role: Role, is: (mark: Mark) => mark is T): T[] {
  return drawing.marks.filter((mark): mark is T => mark.role === role && is(mark)).sort((a, b) => a.box.x0 - b.box.x0);
}

export const glyphsOf = (drawing: Drawing, role: Role): GlyphMark[] => marksOf(drawing, role, isGlyph);
export const rectsOf = (drawing: Drawing, role: Role): RectMark[] => marksOf(drawing, role, isRect);
const lensesOf = (drawing: Drawing, role: Role): LensMark[] => marksOf(drawing, role, (m): m is LensMark => m.kind === 'lens');
const beamsOf = (drawing: Drawing): PolygonMark[] => marksOf(drawing, 'beam', (m): m is PolygonMark => m.kind === 'polygon');

function readClef(mark: GlyphMark | undefined): Clef | undefined {
  if (!mark) return undefined;
  const near = (y: number): boolean => Math.abs(mark.y - y) < 0.1;
  if (mark.code === GLYPH.gClef) return near(3) ? 'treble' : undefined;
  if (mark.code === GLYPH.fClef) return near(1) ? 'bass' : undefined;
  if (mark.code !== GLYPH.cClef) return undefined;
  return near(2) ? 'alto' : near(1) ? 'tenor' : undefined;
}

/** Marks cut into runs: each is joined to the one before it, or begins a run. */
function runsOf<T extends Mark>(marks: readonly T[], joined: (mark: T, before: T) => boolean): T[][] {
  const runs: T[][] = [];
  for (const mark of marks) {
    const open = runs.at(-1);
    if (open && joined(mark, last(open))) open.push(mark);
    else runs.push([mark]);
  }
  return runs;
}

const THICK = 0.35;
const BARLINE_GROUP = 0.9;

function readBarlines(drawing: Drawing): ReadBarline[] {
  const groups = runsOf(rectsOf(drawing, 'barline'), (line, before) => line.box.x0 - before.box.x1 < BARLINE_GROUP);
  return groups.map((lines) => {
    const { x0, x1 } = last(lines).box;
    const kind = lines.length === 1 ? 'single' : x1 - x0 > THICK ? 'final' : 'double';
    return { x0: first(lines).box.x0, x1, kind };
  });
}

const SIGNATURE_STEP = 1.6;

function readSignatures(drawing: Drawing, after: (x: number) => number): ReadSignature[] {
  const all = glyphsOf(drawing, 'key-signature').sort((a, b) => a.x - b.x);
  const groups = runsOf(all, (sign, before) => sign.x - before.x < SIGNATURE_STEP);
  return groups.map((signs) => ({
    signs,
    x0: Math.min(...signs.map((s) => s.box.x0)),
    x1: Math.max(...signs.map((s) => s.box.x1)),
    after: after(first(signs).x),
  }));
}

const digitsOf = (marks: readonly GlyphMark[], zero: number): number => Number(marks.map((m) => m.code - zero).join(''));

function readTime(drawing: Drawing): SystemReading['time'] {
  const digits = glyphsOf(drawing, 'time-signature');
  if (digits.length === 0) return undefined;
  return {
    beats: digitsOf(
      digits.filter((d) => d.y < 2),
      GLYPH.timeSig0,
    ),
    unit: digitsOf(
      digits.filter((d) => d.y >= 2),
      GLYPH.timeSig0,
    ),
    x0: Math.min(...digits.map((d) => d.box.x0)),
    x1: Math.max(...digits.map((d) => d.box.x1)),
  };
}

/** The stem that touches a head: at its right edge going up or at its left edge going down. */
function stemOf(head: GlyphMark, stems: Iterable<RectMark>): ReadStem | undefined {
  const { x0, x1 } = head.box;
  for (const mark of stems) {
    const b = mark.box;
    if (b.y1 < head.y - 0.6 || b.y0 > head.y + 0.6 || b.x1 < x0 - 0.3 || b.x0 > x1 + 0.3) continue;
    const up = head.y - b.y0 > b.y1 - head.y;
    return { mark, x: (b.x0 + b.x1) / 2, up, end: up ? b.y0 : b.y1 };
  }
  return undefined;
}

const crosses = (beam: PolygonMark, stem: ReadStem): boolean => {
  if (stem.x < beam.box.x0 - STEP_X || stem.x > beam.box.x1 + STEP_X) return false;
  const ys = heightsAt(beam.points, Math.min(beam.box.x1, Math.max(beam.box.x0, stem.x)));
  return Math.max(...ys) > stem.mark.box.y0 - STEP_X && Math.min(...ys) < stem.mark.box.y1 + STEP_X;
};

const FLAGS: ReadonlyMap<number, number> = new Map([
  [GLYPH.flag8thUp, 1],
  [GLYPH.flag8thDown, 1],
  [GLYPH.flag16thUp, 2],
  [GLYPH.flag16thDown, 2],
  [GLYPH.flag32ndUp, 3],
  [GLYPH.flag32ndDown, 3],
]);
const RESTS: readonly number[] = [GLYPH.restWhole, GLYPH.restHalf, GLYPH.restQuarter, GLYPH.rest8th, GLYPH.rest16th, GLYPH.rest32nd];

/** Beams joined by the stems they share. */
function readGroups(beams: readonly PolygonMark[], under: readonly (readonly number[])[]): ReadGroup[] {
  const groups: { beams: PolygonMark[]; notes: Set<number> }[] = [];
  for (const [beam, notes] of zip(beams, under)) {
    const known = groups.filter((g) => notes.some((n) => g.notes.has(n)));
    const joined = { beams: [...known.flatMap((g) => g.beams), beam], notes: new Set([...known.flatMap((g) => [...g.notes]), ...notes]) };
    for (const g of known) groups.splice(groups.indexOf(g), 1);
    groups.push(joined);
  }
  return groups
    .map((g) => ({ beams: g.beams, notes: [...g.notes].sort((a, b) => a - b) }))
    .sort((a, b) => (a.notes[0] ?? 0) - (b.notes[0] ?? 0));
}

type Bare = { readonly kind: 'note' | 'rest'; readonly head: GlyphMark };

function readTuplets(drawing: Drawing, bare: readonly Bare[], groups: readonly ReadGroup[]): ReadTuplet[] {
  const joined = (digit: GlyphMark, before: GlyphMark): boolean =>
    Math.abs(before.y - digit.y) < 0.01 && digit.box.x0 - before.box.x1 < 0.6;
  const numbers = runsOf(glyphsOf(drawing, 'tuplet-number'), joined);
  const brackets = rectsOf(drawing, 'tuplet-bracket').filter((r) => r.box.x1 - r.box.x0 > r.box.y1 - r.box.y0);
  return numbers.map((digits) => {
    const actual = digitsOf(digits, GLYPH.tuplet0);
    const { x0, y0, y1 } = first(digits).box;
    const { x1 } = last(digits).box;
    const y = y0 / 2 + y1 / 2;
    const level = brackets.filter((r) => Math.abs((r.box.y0 + r.box.y1) / 2 - y) < 0.3);
    const left = level.filter((r) => r.box.x1 <= x0 + 0.01).at(-1);
    const right = level.find((r) => r.box.x0 >= x1 - 0.01);
    if (left && right && x0 - left.box.x1 < 1 && right.box.x0 - x1 < 1) {
      const inside = bare.flatMap(({ head }, i) => {
        const centre = (head.box.x0 + head.box.x1) / 2;
        return centre > left.box.x0 && centre < right.box.x1 ? [i] : [];
      });
      return { actual, events: inside };
    }
    const centre = (x0 + x1) / 2;
    const own = groups.find((g) => {
      const heads = g.notes.map((n) => at(bare, n).head.box);
      return Math.min(...heads.map((h) => h.x0)) < centre && centre < Math.max(...heads.map((h) => h.x1));
    });
    return { actual, events: own?.notes ?? [] };
  });
}

function readTies(drawing: Drawing, bare: readonly Bare[]): ReadTie[] {
  const noteAt = ([x, y]: readonly [number, number]): number | undefined => {
    const found = bare.findIndex(
      ({ kind, head }) => kind === 'note' && x > head.box.x0 - 0.4 && x < head.box.x1 + 0.4 && Math.abs(head.y - y) < 1.2,
    );
    return found < 0 ? undefined : found;
  };
  return lensesOf(drawing, 'tie').map((mark) => ({ mark, from: noteAt(mark.from), to: noteAt(mark.to) }));
}

/** By event, the stem at its head; each stem belongs to one. */
function readStems(drawing: Drawing, bare: readonly Bare[]): (ReadStem | undefined)[] {
  const free = new Set(rectsOf(drawing, 'stem'));
  return bare.map(({ kind, head }) => {
    const stem = kind === 'note' ? stemOf(head, free) : undefined;
    if (stem) free.delete(stem.mark);
    return stem;
  });
}

/** By event, its dots: each belongs to the nearest event whose head ends left of it. */
function readDots(drawing: Drawing, bare: readonly Bare[]): Map<number, number> {
  const dots = new Map<number, number>();
  for (const dot of glyphsOf(drawing, 'dot')) {
    const owner = bare.findLastIndex(({ head }) => head.box.x1 <= dot.box.x0 + 0.05);
    dots.set(owner, (dots.get(owner) ?? 0) + 1);
  }
  return dots;
}

/** By event, its accidental: each belongs to the nearest note that begins right of it. */
function readAccidentals(accidentals: readonly GlyphMark[], bare: readonly Bare[]): Map<number, GlyphMark> {
  const owned = new Map<number, GlyphMark>();
  for (const sign of accidentals) {
    const next = bare.findIndex(({ kind, head }) => kind === 'note' && head.box.x0 >= sign.box.x0);
    if (next >= 0) owned.set(next, sign);
  }
  return owned;
}

/** What makes an event of a head: signs that were found for it by their places. */
type Signs = Pick<ReadNote, 'dots' | 'bar' | 'tuplet' | 'stem' | 'beams' | 'accidental'>;

function readEvent({ kind, head }: Bare, signs: Signs, flags: readonly GlyphMark[], ledgers: readonly RectMark[]): ReadEvent {
  const { dots, bar, tuplet, stem, beams, accidental } = signs;
  if (kind === 'rest') return { kind, head, dots, bar, tuplet, value: 2 ** RESTS.indexOf(head.code) };
  const flag = stem && flags.find((f) => Math.abs(f.x - stem.mark.box.x0) < STEP_X && Math.abs(f.y - stem.end) < 0.3);
  const tails = flag ? (FLAGS.get(flag.code) ?? 0) : 0;
  const plain = head.code === GLYPH.noteheadWhole ? 1 : head.code === GLYPH.noteheadHalf ? 2 : 4;
  const value = plain === 4 ? 4 * 2 ** (beams + tails) : plain;
  const centre = (head.box.x0 + head.box.x1) / 2;
  const own = ledgers.filter((l) => l.box.x0 < centre && centre < l.box.x1);
  return { kind, head, dots, bar, tuplet, y: head.y, value, stem, flag, flags: tails, beams, accidental, ledgers: own };
}

export function readSystem(drawing: Drawing): SystemReading {
  const barlines = readBarlines(drawing);
  const barAt = (x: number): number => barlines.filter((b) => b.x1 <= x).length;
  const bare: Bare[] = [
    ...glyphsOf(drawing, 'notehead').map((head) => ({ kind: 'note' as const, head })),
    ...glyphsOf(drawing, 'rest').map((head) => ({ kind: 'rest' as const, head })),
  ].sort((a, b) => a.head.box.x0 - b.head.box.x0);
  const stems = readStems(drawing, bare);
  const beams = beamsOf(drawing);
  const under = beams.map((beam) => stems.flatMap((stem, i) => (stem && crosses(beam, stem) ? [i] : [])));
  const groups = readGroups(beams, under);
  const tuplets = readTuplets(drawing, bare, groups);
  const accidentals = glyphsOf(drawing, 'accidental');
  const signOf = readAccidentals(accidentals, bare);
  const dots = readDots(drawing, bare);
  const flags = glyphsOf(drawing, 'flag');
  const ledgers = rectsOf(drawing, 'ledger');
  const events = bare.map((one, i): ReadEvent => {
    const signs = {
      dots: dots.get(i) ?? 0,
      bar: barAt(one.head.box.x0),
      tuplet: tuplets.find((t) => t.events.includes(i))?.actual,
      stem: stems[i],
      beams: under.filter((notes) => notes.includes(i)).length,
      accidental: signOf.get(i),
    };
    return readEvent(one, signs, flags, ledgers);
  });
  const clefMark = glyphsOf(drawing, 'clef')[0];
  const staff = rectsOf(drawing, 'staff-line');
  return {
    drawing,
    clefMark,
    clef: readClef(clefMark),
    signatures: readSignatures(drawing, barAt),
    time: readTime(drawing),
    barlines,
    events,
    accidentals,
    groups,
    tuplets,
    ties: readTies(drawing, bare),
    staffLeft: Math.min(...staff.map((s) => s.box.x0)),
    staffRight: Math.max(...staff.map((s) => s.box.x1)),
  };
}
