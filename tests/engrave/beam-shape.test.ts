/**
 * Where beams lie. Rises, flat cases and seats: Ross, The Art of Music Engraving, pp. 97–121; Gould, Behind Bars, pp. 17–22
 * (both second-hand).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BeamHead, type BeamLine, beamLine, riseCap, seatedAt } from '../../core/engrave/draw/beam-shape.js';
import { beamUp } from '../../core/engrave/draw/stems.js';
import { STYLE } from '../../core/engrave/style.js';

/** Heads at these y, so far apart that the white between them is 3 spaces unless told otherwise. */
const heads = (ys: readonly number[], apart = 4.5, beams = 1): BeamHead[] => ys.map((y, i) => ({ x: i * apart, y, beams }));

const rise = (ys: readonly number[], apart?: number): number => {
  const { y0, y1 } = beamLine(heads(ys, apart), beamUp(ys));
  return y1 - y0;
};

describe('the largest rise', () => {
  it.each([
    ['unison', [3, 3], 0],
    ['second', [3, 2.5], 0.25],
    ['third', [3, 2], 1],
    ['fourth', [3, 1.5], 1.25],
    ['seventh', [3, 0], 1],
    ['octave of two notes', [3.5, 0], 1],
    ['octave of six notes', [3.5, 3, 2.5, 2, 1, 0], 2],
    ['third beyond the first ledger line', [6.5, 5.5], 0.5],
    ['second beyond the first ledger line', [6, 5.5], 0.25],
    ['sixth above the staff', [-1.5, -4], 0.5],
  ])('of a %s is %s → %d', (_, ys, cap) => {
    expect(riseCap(heads(ys))).toBe(cap);
  });

  it('is half a space for notes closer than three spaces', () => {
    expect(riseCap(heads([3, 1], 3))).toBe(0.5);
    expect(riseCap(heads([3, 2.5], 3))).toBe(0.25);
  });
});

describe('flat beams', () => {
  it.each([
    ['equal outer notes', [3, 2, 2.5, 3]],
    ['one pitch', [1, 1, 1, 1]],
    ['a repeated pattern', [3.5, 2.5, 3.5, 2.5]],
    ['an inner note nearer the beam than both outer ones, stems up', [3, 2, 3.5]],
    ['an inner note nearer the beam than both outer ones, stems down', [0.5, 2, 0]],
  ])('%s', (_, ys) => {
    expect(rise(ys)).toBe(0);
  });
});

describe('slanted beams', () => {
  it.each([
    [[3.5, 3], -1],
    [[3, 3.5], 1],
    [[4, 3.5, 3, 2.5], -1],
    [[0, 0.5, 1, 1.5], 1],
    [[1.5, 1, 0.5, 0], -1],
  ])('%j go the way of the notes', (ys, sign) => {
    expect(Math.sign(rise(ys)) * sign).toBeGreaterThanOrEqual(0);
  });

  it('slant where there is room for it', () => {
    expect(rise([4, 3.5, 3, 2.5])).toBeLessThan(0);
    expect(rise([0, 0.5, 1, 1.5])).toBeGreaterThan(0);
  });
});

describe('a seat', () => {
  it.each([
    [1, true],
    [1.25, true],
    [0.75, true],
    [1.5, false],
    [2.4, false],
    [3.6, false],
    [-1.5, true],
    [5.5, true],
  ])('of a beam with its middle at %d: %s', (y, seated) => {
    expect(seatedAt(y)).toBe(seated);
  });
});

type Fault = string;

/** What the rules forbid of a beam. */
function faults(line: BeamLine, group: readonly BeamHead[], up: boolean): Fault[] {
  const found: Fault[] = [];
  const first = group[0] as BeamHead;
  const last = group.at(-1) as BeamHead;
  const slant = line.y1 - line.y0;
  if (Math.abs(slant) > riseCap(group) + 1e-9) found.push(`rises ${slant}`);
  if (slant !== 0 && Math.sign(slant) !== Math.sign(last.y - first.y)) found.push('leans against the notes');
  if (slant !== 0 && first.y === last.y) found.push('leans between equal notes');
  if (!seatedAt(line.y0) || !seatedAt(line.y1)) found.push(`floats at ${line.y0} ${line.y1}`);
  const sign = up ? -1 : 1;
  for (const head of group) {
    const beam = line.y0 + (slant * (head.x - first.x)) / (last.x - first.x || 1);
    const outer = sign * (beam - head.y) + STYLE.beam / 2;
    if (outer < STYLE.beamedStem - 1e-9) found.push(`stem of ${outer}`);
    const inner = outer - STYLE.beam - STYLE.beamPitch * (head.beams - 1);
    // Ross p. 121, Gould p. 19: no nearer than 2½ with the innermost beam's thickness included, for one or two beams.
    if (head.beams <= 2 && inner + STYLE.beam < 2.5 - 1e-9) found.push(`beam ${inner} from its head`);
    if (up ? head.y >= 5.5 && beam > 2 + 1e-9 : head.y <= -1.5 && beam < 2 - 1e-9) found.push('short of the middle line');
  }
  return found;
}

const groups = fc.record({
  ys: fc.array(
    fc.integer({ min: -8, max: 16 }).map((step) => step / 2),
    { minLength: 2, maxLength: 8 },
  ),
  apart: fc.double({ min: 1.8, max: 6, noNaN: true }),
  beams: fc.constantFrom(1, 2, 3),
});

it('any group keeps the rules', () => {
  fc.assert(
    fc.property(groups, ({ ys, apart, beams }) => {
      const group = heads(ys, apart, beams);
      const up = beamUp(ys);
      expect(faults(beamLine(group, up), group, up)).toEqual([]);
    }),
    { numRuns: 3000 },
  );
});

// Positions are on a grid of quarter spaces; what falls between two of them may be rounded one way here, the other way there.
it('music turned upside down has its beam upside down, to a quarter space', () => {
  fc.assert(
    fc.property(groups, ({ ys, apart, beams }) => {
      const up = beamUp(ys);
      const mirrored = ys.map((y) => 4 - y);
      const line = beamLine(heads(ys, apart, beams), up);
      const turned = beamLine(heads(mirrored, apart, beams), !up);
      expect(Math.abs(Math.abs(turned.y1 - turned.y0) - Math.abs(line.y1 - line.y0))).toBeLessThan(0.251);
    }),
    { numRuns: 500 },
  );
});

it('sees what is wrong', () => {
  const group = heads([3, 2.5]);
  expect(faults({ y0: -0.5, y1: -2 }, group, true)).toContain('rises -1.5');
  expect(faults({ y0: 1, y1: 1 }, group, true)).toContain('stem of 1.75');
  expect(faults({ y0: -1, y1: -0.75 }, group, true)).toContain('leans against the notes');
  expect(faults({ y0: 4.5, y1: 4.5 }, heads([8, 8]), true)).toContain('short of the middle line');
});
