import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Ladder, ladder } from '../../core/breath/ladder.js';
import { breathingPage, CAUTIONS } from '../../core/breath/page.js';
import type { BreathOptions } from '../../core/breath/plan.js';
import { ladderWords } from '../../core/breath/words.js';
import { beatText, METRONOME, tempoRungs } from '../../core/exercise/tempo.js';
import type { Line } from '../../core/player/line.js';
import { codes, player, realised, value } from '../player/fixture.js';
import { lineOf, lungs, QUARTER } from './lines.js';

const ADDED: BreathOptions = { manner: 'added-beat' };
const climb = (line: Line, tempos: readonly number[], seconds: number, options = ADDED): Ladder =>
  value(ladder(line, QUARTER, tempos, lungs(seconds), options));
const counts = ({ rungs }: Ladder): (number | undefined)[] => rungs.map(({ plan }) => plan?.breaths.length);

describe('tempos', () => {
  it('are the numbers of the traditional metronome (common practice)', () => {
    expect(METRONOME.join(' ')).toBe(
      '40 42 44 46 48 50 52 54 56 58 60 63 66 69 72 76 80 84 88 92 96 100 104 108 112 116 120 126 132 138 144 152 160 168 176 184 192 200 208',
    );
  });

  it.each([
    [60, 120, 3, [60, 88, 120]],
    [60, 120, 4, [60, 76, 100, 120]],
    [60, 66, 9, [60, 63, 66]],
    [61, 65, 3, [61, 63, 65]],
    [90, 90, 4, [90]],
  ])('from %d to %d in %d rungs: %o', (start, goal, rungs, expected) => expect(value(tempoRungs(start, goal, rungs))).toEqual(expected));

  it.each([
    [120, 60, 3, 'goal-below-start'],
    [60, 120, 1, 'ladder-rungs'],
    [60, 120, 2.5, 'ladder-rungs'],
    [0, 120, 3, 'tempo-out-of-range'],
    [60, Number.NaN, 3, 'not-a-number'],
  ])('from %d to %d in %d: %s', (start, goal, rungs, code) => expect(codes(tempoRungs(start, goal, rungs))).toEqual([code]));

  it('name their beat', () => expect([QUARTER, { n: 3, d: 8 }, { n: 1, d: 2 }].map(beatText)).toEqual(['♩', '♩.', '𝅗𝅥']));
});

describe('the ladder', () => {
  const line = realised({ passes: 2, directions: 'alternate-from-up' }, player('alto-saxophone'));

  it('needs fewer breaths as the tempo rises, and says so in one line', () => {
    const found = climb(line, [60, 84, 120], 12);
    expect(counts(found)).toEqual([5, 4, 2]);
    expect(ladderWords(found)).toBe('♩ 60: 5 breaths · 84: 4 · 120: 2');
    expect(ladderWords(climb(line, [120, 160], 16))).toBe('♩ 120: 1 breath · 160: 1');
    expect(ladderWords(climb(lineOf('C4 E4'), [60], 8))).toBe('♩ 60: no breaths');
  });

  it('marks the breaths that fall away before the goal', () => {
    const { marks, rungs } = climb(line, [60, 84, 120], 12);
    const goal = rungs[2]?.plan?.breaths.map(({ afterEvent }) => afterEvent);
    expect(marks.map(({ afterEvent }) => afterEvent)).toEqual(rungs[0]?.plan?.breaths.map(({ afterEvent }) => afterEvent));
    expect(marks.filter(({ fallsAway }) => !fallsAway).every(({ afterEvent }) => goal?.includes(afterEvent))).toBe(true);
    expect(marks.filter(({ fallsAway }) => fallsAway).length).toBeGreaterThan(0);
  });

  it('keeps to the places of the slower rung where that costs no further breath', () => {
    // Alone the fast tempo would choose the turnaround; after the slow one, a place that is already taken.
    const six = lineOf('C4 E4 G4 C5 | C4 E4 G4 C5 | C4 E4 G4 C5 || C4 E4 G4 C5 | C4 E4 G4 C5 | C4 E4 G4 C5');
    const places = (found: Ladder) => found.rungs.map(({ plan }) => plan?.breaths.map(({ afterEvent }) => afterEvent));
    expect(places(climb(six, [100], 11))).toEqual([[11]]);
    expect(places(climb(six, [60, 100], 11))).toEqual([[7, 15], [15]]);
  });

  it('leaves a rung without a plan where the air runs out, with a warning; fails when all do', () => {
    const long = lineOf('C4:1/1 G4:1/1 C4:1/1');
    const some = ladder(long, QUARTER, [40, 100], lungs(4), ADDED);
    expect(counts(value(some))).toEqual([undefined, 2]);
    expect(some.issues.map(({ code, severity }) => `${code} ${severity}`)).toEqual(['air-runs-out warning']);
    expect(ladderWords(value(some))).toBe('♩ 40: too slow · 100: 2 breaths');
    expect(codes(ladder(long, QUARTER, [20, 40], lungs(3), ADDED))).toEqual(['air-runs-out', 'air-runs-out']);
    expect(codes(ladder(long, QUARTER, [], lungs(3), ADDED))).toEqual(['ladder-empty']);
    expect(codes(ladder(long, QUARTER, [0], lungs(3), ADDED))).toEqual(['tempo-out-of-range']);
  });

  it('is monotone over random lines, tempos and lungs', () => {
    const words = fc.array(
      fc.tuple(
        fc.constantFrom('C4', 'E4', 'B4', 'C5', 'A5', 'r'),
        fc.constantFrom('1/16', '1/8', '1/4', '1/2'),
        fc.constantFrom('', '', '', ' |', ' /|'),
      ),
      { minLength: 4, maxLength: 60 },
    );
    const options = fc.constantFrom<BreathOptions>(ADDED, { manner: 'in-time' }, { manner: 'in-time', breathSeconds: 1 });
    const groups = fc.constantFrom<'all' | number[]>([], [2], [3], 'all');
    fc.assert(
      fc.property(
        words,
        groups,
        fc.double({ min: 1, max: 10, noNaN: true }),
        fc.uniqueArray(fc.constantFrom(...METRONOME), { minLength: 2, maxLength: 6 }),
        options,
        (notes, slurs, seconds, tempos, how) => {
          const text = notes.map(([name, length, join], i) => `${name}:${length}${i + 1 < notes.length ? join : ''}`).join(' ');
          const found = ladder(lineOf(`C4 ${text} C4`, { articulation: { groups: slurs } }), QUARTER, tempos, lungs(seconds), how);
          if (!found.ok) return;
          const rungs = counts(found.value);
          const planned = rungs.filter((count) => count !== undefined);
          expect(planned).toEqual([...planned].sort((a, b) => b - a));
          // Once the air lasts it lasts at every faster tempo.
          expect(rungs.slice(rungs.findIndex((count) => count !== undefined))).toEqual(planned);
        },
      ),
      { numRuns: 300, seed: 4 },
    );
  });
});

describe('texts for the page', () => {
  const page = breathingPage('alto saxophone', 'about 9 s, an estimate: measure yours', 'added-beat', 'one beat');
  it.each([
    'dizzy',
    'rest until',
    'Do not force',
    'Ask a teacher',
    'heart, lung or eye condition',
    'pregnant',
    'surgery',
    'physician',
    'no medical measurement',
  ])('warns: %s', (words) => expect(CAUTIONS).toContain(words));
  it.each(['alto saxophone', 'about 9 s', 'long tone', 'suggestions', 'stop for one beat', 'bar numbers', 'dizzy'])('tells: %s', (words) =>
    expect(page).toContain(words),
  );
  it('claims nothing about health', () => {
    expect(page).not.toMatch(/\b(improves?|strengthens?|heals?|cures?|healthier|increases? (your )?(lung|capacity))\b/i);
  });
});
