/**
 * Where a beam lies: its slope by the interval of its outer notes with caps, flat where the contour asks for it, its
 * ends on positions that leave no white wedge between beam and staff line, and no stem shorter than allowed.
 * Sources: Ross pp. 97–121, Gould pp. 17–22 (second-hand).
 */
import { at, first, last } from '../../base/list.js';
import type { Box } from '../drawing.js';
import { STYLE } from '../style.js';

export type BeamHead = {
  /** x of the stem's middle. */
  readonly x: number;
  /** y of the head. */
  readonly y: number;
  /** Number of beams at this stem. */
  readonly beams: number;
  /** Ink of its accidental. */
  readonly sign?: Box;
};

/** Middle of the outer beam: y at the first and at the last stem. */
export type BeamLine = { readonly y0: number; readonly y1: number };

const EPSILON = 1e-9;

/** An inner head lies at least as near to the beam as both outer ones, or the contour repeats: the beam is flat. */
function mustBeFlat(heads: readonly BeamHead[], up: boolean): boolean {
  const ys = heads.map((h) => (up ? h.y : -h.y));
  const first = at(ys, 0);
  const last = ys.at(-1) as number;
  if (first === last) return true;
  const nearestOuter = Math.min(first, last);
  if (ys.slice(1, -1).some((y) => y < nearestOuter)) return true;
  const half = ys.length / 2;
  return ys.length >= 4 && ys.length % 2 === 0 && ys.slice(0, half).every((y, i) => y === ys[half + i]);
}

/** Largest rise in spaces, without its sign, for the outer interval. */
export function riseCap(heads: readonly BeamHead[]): number {
  const first = at(heads, 0);
  const last = heads.at(-1) as BeamHead;
  const steps = Math.round(Math.abs(first.y - last.y) * 2);
  if (steps === 0) return 0;
  const white = Math.min(...heads.slice(1).map((h, i) => h.x - at(heads, i).x - 1.28));
  const beyond = heads.every((h) => h.y <= -1.5) || heads.every((h) => h.y >= 5.5);
  if (steps === 1) return 0.25;
  const wide = steps === 2 ? 1 : steps === 3 ? 1.25 : heads.length <= 4 ? 1 : 2;
  return white < 3 || beyond ? 0.5 : wide;
}

/** The rise aimed at: about half the interval, within the cap (Ross pp. 97–104). */
function wantedRise(heads: readonly BeamHead[], up: boolean): number {
  if (mustBeFlat(heads, up)) return 0;
  const cap = riseCap(heads);
  const difference = last(heads).y - first(heads).y;
  return Math.sign(difference) * Math.min(cap, Math.max(0.25, Math.round(Math.abs(difference) * 2) / 4));
}

/** Inside the staff a beam's middle may sit on, hang from or straddle a line, but not float half way between two. */
export function seatedAt(y: number): boolean {
  if (y < -0.3 || y > 4.3) return true;
  return Math.abs(y - Math.floor(y) - 0.5) > 0.2;
}

/** y of the first end at which, with this rise, the shortest stem is exactly `stem` long. */
function baseFor(heads: readonly BeamHead[], shares: readonly number[], rise: number, stem: number, sign: number): number {
  let base = heads[0]?.y ?? 0;
  for (let i = 0; i < heads.length; i++) {
    const y = at(heads, i).y + sign * stem - rise * at(shares, i);
    base = i === 0 ? y : sign < 0 ? Math.min(base, y) : Math.max(base, y);
  }
  return base;
}

/** Every accidental between the stems keeps its distance from the innermost beam over or under it. */
function clearsSigns(heads: readonly BeamHead[], { y0, y1 }: BeamLine, sign: number): boolean {
  const first = at(heads, 0);
  const slope = (y1 - y0) / (last(heads).x - first.x || 1);
  return heads.every((head, i) => {
    if (!head.sign || i === 0) return true;
    const beams = Math.max(head.beams, at(heads, i - 1).beams);
    const inner = STYLE.beam / 2 + STYLE.beamPitch * (beams - 1) + STYLE.beamToAccidental;
    const { x0, x1 } = head.sign;
    const edge = sign < 0 ? -head.sign.y0 : head.sign.y1;
    const near = Math.min(...[Math.max(x0, first.x), x1].map((x) => sign * (y0 + slope * (x - first.x))));
    return near - inner >= edge - EPSILON;
  });
}

/** Farthest in quarter spaces that a beam is looked for from where its stems have their ideal length; with accidentals in its way. */
const FARTHEST = { plain: 6, signed: 12 } as const;

/** Chooses the ends on a grid of quarter spaces: nearest to the wanted stem and rise, seated, long enough. */
export function beamLine(heads: readonly BeamHead[], up: boolean): BeamLine {
  const rise = wantedRise(heads, up);
  const first = at(heads, 0);
  const last = heads.at(-1) as BeamHead;
  const span = last.x - first.x || 1;
  const shares = heads.map((h) => (h.x - first.x) / span);
  const reach = heads.reduce((most, h) => Math.max(most, h.beams), 1);
  const extra = Math.max(0, reach - 2) * STYLE.beamPitch;
  const least = STYLE.beamedStem + extra - STYLE.beam / 2;
  const ideal = STYLE.stemLength + extra - STYLE.beam / 2;
  const sign = up ? -1 : 1;
  const farthest = heads.some((h) => h.sign) ? FARTHEST.signed : FARTHEST.plain;
  let best: BeamLine | undefined;
  let bestCost = Number.POSITIVE_INFINITY;
  const steps = Math.round(Math.abs(rise) * 4);
  for (let s = 0; s <= steps; s++) {
    const r = (Math.sign(rise) * s) / 4;
    const base = baseFor(heads, shares, r, ideal, sign);
    for (let k = -2; k <= farthest; k++) {
      const y0 = Math.round(base * 4) / 4 + (sign * k) / 4;
      const y1 = y0 + r;
      if (!seatedAt(y0) || !seatedAt(y1)) continue;
      let shortest = Number.POSITIVE_INFINITY;
      let middle = true;
      for (let i = 0; i < heads.length; i++) {
        const head = at(heads, i);
        const y = y0 + r * at(shares, i);
        shortest = Math.min(shortest, sign * (y - head.y));
        if (sign * (y - 2) < -EPSILON && Math.abs(head.y - 2) >= 3) middle = false;
      }
      if (shortest < least - EPSILON) continue;
      if (farthest === FARTHEST.signed && !clearsSigns(heads, { y0, y1 }, sign)) continue;
      const cost = Math.abs(shortest - ideal) * 1.2 + Math.abs(r - rise) + (middle ? 0 : 4);
      if (cost < bestCost - EPSILON) {
        bestCost = cost;
        best = { y0, y1 };
      }
    }
  }
  const reachMiddle = best ?? {
    y0: Math.round(at(heads, 0).y * 4) / 4 + sign * ideal,
    y1: Math.round(at(heads, 0).y * 4) / 4 + sign * ideal,
  };
  return toMiddle(reachMiddle, heads, up);
}

/** Heads beyond the first ledger line: the beam comes at least to the middle line (Gould p. 14). */
function toMiddle(line: BeamLine, heads: readonly BeamHead[], up: boolean): BeamLine {
  const far = heads.some((h) => (up ? h.y >= 5.5 : h.y <= -1.5));
  if (!far) return line;
  const nearest = up ? Math.max(line.y0, line.y1) : Math.min(line.y0, line.y1);
  const shift = up ? Math.max(0, nearest - 2) : Math.min(0, nearest - 2);
  if (shift === 0) return line;
  // A little farther where an end would float.
  for (let k = 0; ; k++) {
    const by = shift + ((up ? 1 : -1) * k) / 4;
    const moved = { y0: line.y0 - by, y1: line.y1 - by };
    if (seatedAt(moved.y0) && seatedAt(moved.y1)) return moved;
  }
}
