import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Drawing, Mark } from '../../core/engrave/drawing.js';
import { glyphInk } from '../../core/engrave/ink.js';
import { packDrawing, unpackDrawing } from '../../core/engrave/packed.js';
import { testFonts } from '../fonts.js';

const fonts = testFonts();

/** Thousandths are kept as they are. */
const place = fc.integer({ min: -400_000, max: 400_000 }).map((n) => n / 1000);
const point = fc.tuple(place, place);
const box = fc.record({ x0: place, y0: place, x1: place, y1: place });
const owner = fc.record(
  { event: fc.integer({ min: 0, max: 9999 }), bar: fc.integer({ min: 0, max: 999 }), part: fc.integer({ min: 0, max: 40 }) },
  { requiredKeys: [] },
);

const mark: fc.Arbitrary<Mark> = fc.oneof(
  fc
    .record({
      role: fc.constantFrom('notehead', 'clef', 'breath'),
      owner,
      code: fc.constantFrom(0xe0a4, 0xe050, 0xe262),
      x: place,
      y: place,
      size: fc.constantFrom(1, 0.75),
    })
    .map((m): Mark => ({ kind: 'glyph', ...m, box: glyphInk(fonts, m.code, m.x, m.y, m.size) })),
  fc.record({ kind: fc.constant('rect'), role: fc.constantFrom('stem', 'barline', 'staff-line'), owner, box }),
  fc.record({
    kind: fc.constant('polygon'),
    role: fc.constant('beam'),
    owner,
    points: fc.array(point, { minLength: 3, maxLength: 40 }),
    box,
  }),
  fc.record({
    kind: fc.constant('lens'),
    role: fc.constantFrom('slur', 'tie'),
    owner,
    from: point,
    to: point,
    outer: fc.tuple(point, point),
    inner: fc.tuple(point, point),
    box,
  }),
  fc.record({
    kind: fc.constant('text'),
    role: fc.constantFrom('tempo', 'degree', 'label'),
    owner,
    font: fc.constantFrom('roman', 'bold-italic', 'music'),
    size: fc.constantFrom(1.5, 2),
    x: place,
    y: place,
    text: fc.string(),
    box,
  }),
) as fc.Arbitrary<Mark>;

describe('packed drawings', () => {
  it('come back as they were, mark by mark', () => {
    fc.assert(
      fc.property(fc.array(mark, { maxLength: 60 }), place, (marks, width) => {
        const drawing: Drawing = { marks, width, top: -2, bottom: 6 };
        expect(unpackDrawing(packDrawing(drawing), fonts)).toEqual(drawing);
      }),
    );
  });

  it('hold places to the nearest thousandth of a space', () => {
    const box = { x0: 1 / 3, y0: -2 / 3, x1: 100.00049, y1: 5e-4 };
    const packed = packDrawing({ marks: [{ kind: 'rect', role: 'stem', owner: {}, box }], width: 1 / 3, top: 0, bottom: 4 });
    const { marks, width } = unpackDrawing(packed, fonts);
    expect(marks[0]?.box).toEqual({ x0: 0.333, y0: -0.667, x1: 100, y1: 0.001 });
    expect(width).toBe(1 / 3);
  });

  it('are not overwritten by the next one', () => {
    const one: Drawing = {
      marks: [{ kind: 'rect', role: 'stem', owner: { event: 1 }, box: { x0: 1, y0: 2, x1: 3, y1: 4 } }],
      width: 10,
      top: 0,
      bottom: 4,
    };
    const packed = packDrawing(one);
    packDrawing({ ...one, marks: [{ kind: 'rect', role: 'barline', owner: { bar: 7 }, box: { x0: 9, y0: 9, x1: 9, y1: 9 } }] });
    expect(unpackDrawing(packed, fonts)).toStrictEqual(one);
  });

  it('grow with a drawing larger than the room kept for it', () => {
    const marks = Array.from(
      { length: 5000 },
      (_, i): Mark => ({ kind: 'rect', role: 'ledger', owner: { event: i }, box: { x0: i, y0: 0, x1: i + 1, y1: 1 } }),
    );
    const large: Drawing = { marks, width: 5000, top: 0, bottom: 4 };
    expect(unpackDrawing(packDrawing(large), fonts)).toStrictEqual(large);
  });

  it('refuse a role that is in no list', () => {
    const wrong = { kind: 'rect', role: 'ornament', owner: {}, box: { x0: 0, y0: 0, x1: 1, y1: 1 } } as unknown as Mark;
    expect(() => packDrawing({ marks: [wrong], width: 1, top: 0, bottom: 4 })).toThrow(/every kind and role/);
  });
});
