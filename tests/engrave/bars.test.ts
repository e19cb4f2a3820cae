/** Lines cut into bars: exact time, ties, tuplets, slurs, signatures and barlines. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bar, BarNote } from '../../core/engrave/bar.js';
import { barsOf, slurSpans, usesSignatures } from '../../core/engrave/bars.js';
import { beamCount } from '../../core/engrave/beam-groups.js';
import { RHYTHM_NAMES } from '../../core/exercise/rhythm.js';
import type { Line } from '../../core/player/line.js';
import { realise } from '../../core/player/realise.js';
import { add, compare, equal, frac, mul, sum, text, toNumber, ZERO } from '../../core/theory/fraction.js';
import { METRES } from '../../core/theory/metre.js';
import { samePitch } from '../../core/theory/pitch.js';
import { exercise, player, realised, value, type Words } from '../player/fixture.js';
import { barText, isNote } from './notation.js';

const flute = player('flute');
const bars = (words: Words): readonly Bar[] => barsOf(realised({ order: { name: 'custom', keys: ['C', 'F'] }, ...words }, flute)).bars;

describe('bars in words', () => {
  it.each([
    // figure, rhythm, metre, padding, bars
    ['1 2 3 5', 'eighths', '4/4', 'flow', ['8 8 8 8 8 8 8 8']],
    ['1 2 3 5', 'eighths', '4/4', 'bar, long note', ['8 8 8 8~ 2', '8 8 8 8~ 2']],
    ['1 2 3 5', 'eighths', '4/4', 'bar, rests', ['8 8 8 8 r2', '8 8 8 8 r2']],
    ['1 2 3', 'eighths', '4/4', 'beat, long note', ['8 8 4 8 8 4']],
    ['1 2 3', 'eighths', '4/4', 'beat, rests', ['8 8 8 r8 8 8 8 r8']],
    ['1 2 3 4 5', 'eighths', '4/4', 'flow', ['8 8 8 8 8 8 8 8', '8 8 r4 r2']],
    ['1 2 3', 'dotted quarter and eighth', '4/4', 'flow', ['4. 8 4. 8', '4. 8 r2']],
    ['1 2 3 5', 'quarters', '3/4', 'flow', ['4 4 4', '4 4 4', '4 4 r4']],
    ['1 2 3', 'halves', '3/4', 'flow', ['2 4~', '4 2', '2 4~', '4 2']],
    ['1 3 5', 'eighth triplets', '2/4', 'bar, rests', ['8 8 8 r4', '8 8 8 r4']],
    ['1 3 5', 'eighth triplets', '4/4', 'bar, long note', ['8 8 8~ 4~ 2', '8 8 8~ 4~ 2']],
    ['1 2', 'quarter triplets', '4/4', 'bar, rests', ['4 4 r4 r2', '4 4 r4 r2']],
    ['1 2 3 4 5', '1/8', '5/8', 'flow', ['8 8 8 8 8', '8 8 8 8 8']],
  ] as const)('%s in %s, %s, %s', (figure, rhythm, metre, padding, expected) => {
    const [to, by] = padding === 'flow' ? ['flow' as const] : (padding.split(', ') as ['bar' | 'beat', string]);
    const own = to === 'flow' ? { to } : { to: to as 'bar', by: by === 'rests' ? ('rests' as const) : ('long-note' as const) };
    expect(bars({ figure, rhythm, metre, padding: own }).map(barText)).toEqual(expected);
  });
});

/** The same event written in two pieces and more is tied through. */
function tieFaults(all: readonly Bar[]): string[] {
  const notes = all.flatMap((bar) => bar.events.filter(isNote));
  return notes.flatMap((note, i) => {
    const next = notes[i + 1];
    const goesOn = next?.event === note.event;
    if (note.tieOut !== goesOn) return [`event ${note.event}: tie ${note.tieOut ? 'to nothing' : 'missing'}`];
    if (next && next.tieIn !== goesOn) return [`event ${next.event}: tied in wrongly`];
    if (next && goesOn && !samePitch(next.pitch, note.pitch)) return [`event ${note.event}: tied to another pitch`];
    return [];
  });
}

/** Bars do not add up, pieces do not follow one another, or a tuplet does not fill its time. */
function timeFaults(all: readonly Bar[]): string[] {
  return all.flatMap((bar) => {
    const faults: string[] = [];
    const total = sum(bar.events.map((e) => e.duration));
    if (!equal(total, bar.length)) faults.push(`bar ${bar.index}: ${text(total)} of ${text(bar.length)}`);
    let at = ZERO;
    for (const e of bar.events) {
      if (!equal(e.onset, at)) faults.push(`bar ${bar.index}: onset ${text(e.onset)} for ${text(at)}`);
      at = add(at, e.duration);
      const nominal = mul(e.base, frac(2 ** (e.dots + 1) - 1, 2 ** e.dots));
      const tuplet = e.tuplet === undefined ? undefined : bar.tuplets[e.tuplet];
      const ratio = tuplet ? frac(tuplet.normal, tuplet.actual) : frac(1);
      const full = e.kind === 'rest' && e.full;
      if (!full && !equal(e.duration, mul(nominal, ratio))) faults.push(`bar ${bar.index}: value ${text(nominal)} for ${text(e.duration)}`);
    }
    return faults;
  });
}

const shape = { metre: fc.constantFrom(...METRES), rhythm: fc.constantFrom(...RHYTHM_NAMES.map((r) => r.name)) };
const lines = fc
  .record({
    ...shape,
    figure: fc.constantFrom('1 2 3 5', '1 2 3', '1 2 3 4 5', '1 3 r 5', '5 r 1', '1', '1 b2 3 #4 5 6 7'),
    padding: fc.constantFrom<NonNullable<Words['padding']>>(
      { to: 'flow' },
      { to: 'beat', by: 'rests' },
      { to: 'beat', by: 'long-note' },
      { to: 'bar', by: 'rests' },
      { to: 'bar', by: 'long-note' },
    ),
    signs: fc.constantFrom<'accidentals' | 'signature'>('accidentals', 'signature'),
    ending: fc.constantFrom<'none' | 'long-root'>('none', 'long-root'),
    passes: fc.constantFrom<1 | 2>(1, 2),
    keys: fc.uniqueArray(fc.constantFrom('C', 'F', 'Bb', 'Db', 'E', 'F#', 'A'), { minLength: 1, maxLength: 4 }),
  })
  .map(({ keys, ...words }) => realise(exercise({ ...words, order: { name: 'custom', keys } }), flute))
  // A tuplet may not cross a barline: such an exercise is refused before it gets here.
  .filter((line) => line.ok)
  .map((line): Line => value(line));

describe('any rhythm, metre and padding', () => {
  it('gives bars that add up exactly, tied where an event goes on', () => {
    fc.assert(
      fc.property(lines, (line) => {
        const { bars: all } = barsOf(line);
        expect(timeFaults(all)).toEqual([]);
        expect(tieFaults(all)).toEqual([]);
        expect(text(sum(all.map((b) => b.length)))).toBe(text(line.duration));
        // Every event of the line, and nothing else, in its order.
        const order = all.flatMap((b) => b.events.map((e) => e.event));
        expect([...new Set(order)]).toEqual(line.events.map((e) => e.index));
        expect(order.every((e, i) => i === 0 || e >= (order[i - 1] as number))).toBe(true);
      }),
      { numRuns: 400 },
    );
  });

  it('beams only what has a beam, in one bar, in order, without gaps', () => {
    fc.assert(
      fc.property(lines, (line) => {
        for (const bar of barsOf(line).bars) {
          const seen = new Set<number>();
          for (const group of bar.beams) {
            expect(group.length).toBeGreaterThan(1);
            group.forEach((i, k) => {
              const e = bar.events[i];
              expect(e?.kind === 'note' && beamCount(e.base) > 0).toBe(true);
              expect(seen.has(i)).toBe(false);
              if (k > 0) expect(i).toBe((group[k - 1] as number) + 1);
              seen.add(i);
            });
          }
        }
      }),
      { numRuns: 200 },
    );
  });

  it('puts a statement where it begins, once', () => {
    fc.assert(
      fc.property(lines, (line) => {
        const starts = barsOf(line).bars.flatMap((b) => b.starts.map((s) => ({ ...s, bar: b.index })));
        expect(starts.map((s) => s.statement)).toEqual(line.statements.map((s) => s.index));
        for (const s of starts) {
          const placed = line.statements[s.statement];
          const length = barsOf(line).bars[0]?.length;
          expect(placed && length && Math.floor(toNumber(placed.onset) / toNumber(length) + 1e-9)).toBe(s.bar);
          expect(line.events[s.event]?.statement).toBe(s.statement);
        }
      }),
      { numRuns: 100 },
    );
  });
});

it('sees what is wrong', () => {
  const [bar] = bars({ padding: { to: 'bar', by: 'long-note' } });
  if (!bar) throw new Error('no bar');
  expect(timeFaults([{ ...bar, events: bar.events.slice(1) }]).length).toBeGreaterThan(0);
  const cut = bar.events.map((e) => (isNote(e) ? { ...e, tieOut: false } : e));
  expect(tieFaults([{ ...bar, events: cut }])).toEqual(['event 3: tie missing']);
});

describe('tuplets', () => {
  it('keep their notes together and carry their numbers', () => {
    const [bar] = bars({ figure: '1 2 3', rhythm: 'eighth triplets', metre: '4/4', padding: { to: 'flow' } });
    expect(bar?.tuplets).toEqual([
      { actual: 3, normal: 2, events: [0, 1, 2] },
      { actual: 3, normal: 2, events: [3, 4, 5] },
    ]);
    expect(bar?.beams).toEqual([
      [0, 1, 2],
      [3, 4, 5],
    ]);
  });

  it('count a sextuplet as six in the time of four', () => {
    const [bar] = bars({ figure: '1 2 3 4 5 6', rhythm: 'sixteenth sextuplets', padding: { to: 'bar', by: 'rests' } });
    expect(bar?.tuplets).toEqual([{ actual: 6, normal: 4, events: [0, 1, 2, 3, 4, 5] }]);
  });
});

describe('slurs', () => {
  const spans = (figure: string, groups: 'all' | readonly number[], words: Words = {}): string =>
    slurSpans(realised({ figure, order: { name: 'custom', keys: ['C', 'F'] }, articulation: { groups }, ...words }, flute))
      .map((s) => `${s.from}-${s.to}`)
      .join(' ');

  it.each([
    ['1 2 3 5', 'all', '0-3 4-7'],
    ['1 2 3 5', [2], '0-1 2-3 4-5 6-7'],
    ['1 2 3 5', [1, 3], '1-3 5-7'],
    ['1 2 3 5', [2, 1, 1], '0-1 4-5'],
    ['1 2 3 5', [1], ''],
    ['1 2 3 5', [], ''],
    ['1 2 3', [2], '0-1 3-4'],
    ['1 2 r 3 5', 'all', '0-1 3-4 5-6 8-9'],
    ['1 r 2 3', [4], '2-3 6-7'],
  ] as const)('%s in groups of %s: %s', (figure, groups, expected) => {
    expect(spans(figure, groups)).toBe(expected);
  });

  it('never begin in one statement and end in the next', () => {
    const line = realised({ figure: '1 2 3 5 3', articulation: { groups: [3] } }, flute);
    for (const { from, to } of slurSpans(line)) expect(line.events[from]?.statement).toBe(line.events[to]?.statement);
  });
});

describe('signatures', () => {
  const words: Words = { order: { name: 'custom', keys: ['C', 'F', 'A'] }, signs: 'signature', padding: { to: 'bar', by: 'long-note' } };

  it('change where a statement in another key begins, after a double barline', () => {
    const all = barsOf(realised(words, flute)).bars;
    expect(all.map((b) => [b.fifthsBefore, b.fifths, b.barline])).toEqual([
      [undefined, 0, 'double'],
      [0, -1, 'double'],
      [-1, 3, 'final'],
    ]);
    expect(all.flatMap((b) => b.events.filter(isNote).filter((n) => n.sign))).toEqual([]);
  });

  it('are left out where a statement begins inside a bar', () => {
    const line = realised({ ...words, padding: { to: 'flow' }, metre: '3/4' }, flute);
    expect(usesSignatures(line)).toBe(false);
    expect(barsOf(line).bars.every((b) => b.fifths === 0 && b.fifthsBefore === undefined)).toBe(true);
  });
});

describe('barlines', () => {
  it('are double at the turnaround and final at the end', () => {
    const all = bars({ passes: 2, padding: { to: 'bar', by: 'rests' } });
    expect(all.map((b) => b.barline)).toEqual(['single', 'double', 'single', 'final']);
    expect(all.map((b) => b.turnaround)).toEqual([false, true, false, false]);
  });

  it('know where they cut a statement', () => {
    const all = bars({ figure: '1 2 3 4 5 6', padding: { to: 'flow' }, order: { name: 'custom', keys: ['C', 'F', 'G', 'D'] } });
    expect(all.map((b) => b.cutsStatement)).toEqual([true, true, false]);
  });
});

describe('articulation marks', () => {
  const marked = (groups: 'all' | readonly number[]): number[] => [
    ...barsOf(
      realised({ order: { name: 'custom', keys: ['C'] }, articulation: { groups, mark: 'staccato' }, ending: 'long-root' }, flute),
    ).marks.keys(),
  ];

  it('stand on tongued notes only, and not on the closing note', () => {
    expect(marked([2, 1, 1])).toEqual([2, 3]);
    expect(marked([1])).toEqual([0, 1, 2, 3]);
    expect(marked('all')).toEqual([]);
  });
});

it('a breath is handed through', () => {
  const breaths = new Map([[3, { parenthesised: true }]]);
  expect(barsOf(realised({}, flute), breaths).breaths).toBe(breaths);
});

it('the longest bar is never longer than its metre', () => {
  const line = realised({ rhythm: 'halves', metre: '3/8', figure: '1 2' }, flute);
  for (const bar of barsOf(line).bars)
    for (const e of bar.events) expect(compare(add(e.onset, e.duration), bar.length)).toBeLessThanOrEqual(0);
  const tied = barsOf(line).bars.flatMap((b) => b.events.filter((e): e is BarNote => isNote(e) && e.tieIn));
  expect(tied.length).toBeGreaterThan(0);
});
