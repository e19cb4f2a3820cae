import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import type { Padding } from '../../core/exercise/exercise.js';
import { timeLine } from '../../core/player/timing.js';
import { add, equal, mod, text, ZERO } from '../../core/theory/fraction.js';
import { barLength, METRES } from '../../core/theory/metre.js';
import { exercise } from './fixture.js';

const FLOW: Padding = { to: 'flow' };
const pad = (to: 'beat' | 'bar', by: 'long-note' | 'rests'): Padding => ({ to, by });

/** Durations of two statements, `|` between them, rests with r, `=` before the closing note. */
function times(figure: string, rhythm: string, metre: string, padding: Padding, closing = false): string {
  const { events } = timeLine(exercise({ figure, rhythm, metre, padding }), 2, closing);
  const part = (statement: number): string =>
    events
      .filter((event) => event.statement === statement)
      .map((event) => (event.tone === undefined ? 'r' : '') + text(event.duration))
      .join(' ');
  return `${part(0)} | ${part(1)}${closing ? ` = ${part(2)}` : ''}`;
}

const THREE = '3:2(1/8 1/8 1/8)';

describe('padding and endings', () => {
  test.each([
    // Flow: the rhythm runs on across statements; rests fill the last bar.
    ['1 2 3', '1/4', '4/4', FLOW, false, '1/4 1/4 1/4 | 1/4 1/4 1/4 r1/2'],
    ['1 2 3', '1/4. 1/8', '4/4', FLOW, false, '3/8 1/8 3/8 | 1/8 3/8 1/8 r1/2'],
    // Padded: the rhythm begins anew.
    ['1 2 3', '1/4. 1/8', '4/4', pad('bar', 'long-note'), false, '3/8 1/8 1/2 | 3/8 1/8 1/2'],
    ['1 2 3', '1/4. 1/8', '4/4', pad('beat', 'rests'), false, '3/8 1/8 3/8 r1/8 | 3/8 1/8 3/8 r1/8'],
    ['1 2 3', '1/8', '4/4', pad('beat', 'long-note'), false, '1/8 1/8 1/4 | 1/8 1/8 1/4'],
    ['1 2 3', '1/8', '4/4', pad('bar', 'rests'), false, '1/8 1/8 1/8 r1/8 r1/2 | 1/8 1/8 1/8 r1/8 r1/2'],
    ['1 2 3', '1/8', '3/4', pad('bar', 'rests'), false, '1/8 1/8 1/8 r1/8 r1/4 | 1/8 1/8 1/8 r1/8 r1/4'],
    ['1 2 3', '1/16', '2/2', pad('bar', 'rests'), false, '1/16 1/16 1/16 r1/16 r1/4 r1/2 | 1/16 1/16 1/16 r1/16 r1/4 r1/2'],
    // Compound and uneven metres pad to their own beats.
    ['1 2', '1/8', '6/8', pad('beat', 'long-note'), false, '1/8 1/4 | 1/8 1/4'],
    ['1 2', '1/8', '6/8', pad('bar', 'rests'), false, '1/8 1/8 r1/8 r3/8 | 1/8 1/8 r1/8 r3/8'],
    ['1 2', '1/8', '5/8', pad('beat', 'long-note'), false, '1/8 1/4 | 1/8 1/8'],
    ['1', '1/8', '7/8', pad('bar', 'rests'), false, '1/8 r1/8 r1/4 r3/8 | 1/8 r1/8 r1/4 r3/8'],
    // Already on the boundary: nothing is added.
    ['1 2 3 4', '1/4', '4/4', pad('bar', 'rests'), false, '1/4 1/4 1/4 1/4 | 1/4 1/4 1/4 1/4'],
    // A statement padded to a beat leaves the last bar to rests.
    ['1 2', '1/8', '4/4', pad('beat', 'long-note'), false, '1/8 1/8 | 1/8 1/8 r1/2'],
    // A tuplet is completed first.
    ['1 2 3 5', THREE, '4/4', pad('beat', 'long-note'), false, '1/12 1/12 1/12 1/4 | 1/12 1/12 1/12 1/4'],
    ['1 2 3 5', THREE, '4/4', pad('bar', 'long-note'), false, '1/12 1/12 1/12 3/4 | 1/12 1/12 1/12 3/4'],
    ['1 2 3 5', THREE, '3/4', pad('bar', 'rests'), false, '1/12 1/12 1/12 1/12 r1/6 r1/4 | 1/12 1/12 1/12 1/12 r1/6 r1/4'],
    ['1 2 3 5', THREE, '4/4', FLOW, false, '1/12 1/12 1/12 1/12 | 1/12 1/12 1/12 1/12 r1/12 r1/4'],
    // A rest of the figure takes its turn; at the end it is lengthened like a note.
    ['1 r 3', '1/8', '4/4', pad('beat', 'long-note'), false, '1/8 1/8 1/4 | 1/8 1/8 1/4'],
    // The closing note: a half note at least, to the end of its bar.
    ['1 2 3 5', '1/8', '4/4', FLOW, true, '1/8 1/8 1/8 1/8 | 1/8 1/8 1/8 1/8 = 1'],
    ['1 2', '1/8', '4/4', FLOW, true, '1/8 1/8 | 1/8 1/8 = 1/2'],
    ['1 2 3', '1/8', '4/4', FLOW, true, '1/8 1/8 1/8 | 1/8 1/8 1/8 = 5/4'],
    ['1 2 3', '1/8', '3/8', FLOW, true, '1/8 1/8 1/8 | 1/8 1/8 1/8 = 3/4'],
    // In an open tuplet the closing note completes it, and goes on.
    ['1 2 3 5', THREE, '4/4', FLOW, true, '1/12 1/12 1/12 1/12 | 1/12 1/12 1/12 1/12 = 4/3'],
  ] as const)('%s in %s, %s, %o, closing %s', (figure, rhythm, metre, padding, closing, expected) => {
    expect(times(figure, rhythm, metre, padding, closing)).toBe(expected);
  });
});

it('keeps the written value of a lengthened note', () => {
  const { events } = timeLine(exercise({ figure: '1 2 3', padding: pad('bar', 'long-note') }), 1, false);
  expect(events.map((event) => text(event.value.duration)).join(' ')).toBe('1/8 1/8 1/8');
  expect(text(events[2]?.duration ?? ZERO)).toBe('3/4');
});

it('gives a filling rest inside a tuplet the tuplet it belongs to', () => {
  const { events } = timeLine(exercise({ figure: '1', rhythm: THREE, padding: pad('beat', 'rests') }), 1, false);
  expect(events[1]?.value).toEqual({
    base: { n: 1, d: 4 },
    dots: 0,
    duration: { n: 1, d: 6 },
    tuplet: { actual: 3, normal: 2, total: { n: 1, d: 4 } },
  });
});

test('any rhythm in any metre: no gap, whole bars, and rests that are note values', () => {
  const rhythms = [
    '1/8',
    '1/16',
    '1/4.',
    '1/8. 1/16',
    THREE,
    '1/4 3:2(1/16 1/16 1/16)',
    '5:4(1/16 1/16 1/16 1/16 1/16)',
    '3:2(1/4 1/8) 1/8',
    '1/4..',
    '1/32 1/8',
  ];
  const paddings = [FLOW, pad('beat', 'long-note'), pad('beat', 'rests'), pad('bar', 'long-note'), pad('bar', 'rests')];
  fc.assert(
    fc.property(
      fc.constantFrom(...rhythms),
      fc.constantFrom(...METRES),
      fc.constantFrom(...paddings),
      fc.integer({ min: 1, max: 9 }),
      fc.integer({ min: 1, max: 5 }),
      fc.boolean(),
      (rhythm, metre, padding, tones, statements, closing) => {
        const figure = Array.from({ length: tones }, (_, i) => i + 1).join(' ');
        const asked = exercise({ figure, rhythm, metre, padding });
        const { events, duration } = timeLine(asked, statements, closing);
        let end = ZERO;
        for (const event of events) {
          expect(equal(event.onset, end)).toBe(true);
          expect(event.duration.n).toBeGreaterThan(0);
          if (event.tone === undefined) expect(event.duration).toEqual(event.value.duration);
          end = add(end, event.duration);
        }
        expect(equal(end, duration)).toBe(true);
        expect(mod(duration, barLength(asked.metre))).toEqual(ZERO);
        expect(events.filter((event) => event.tone !== undefined)).toHaveLength(tones * statements + (closing ? 1 : 0));
        if (padding.to !== 'flow') {
          const bars = events.filter((event) => event.tone === 0).map((event) => mod(event.onset, barLength(asked.metre)));
          if (padding.to === 'bar') expect(bars.every((at) => at.n === 0)).toBe(true);
        }
      },
    ),
    { numRuns: 400, seed: 12 },
  );
});
