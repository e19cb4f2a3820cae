import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breathCandidates, type Candidate } from '../../core/breath/candidates.js';
import { type BreathOptions, type BreathPlan, breathPlan } from '../../core/breath/plan.js';
import { FULL_BREATH, refilled, stolenFrom } from '../../core/breath/reservoir.js';
import { timedLine } from '../../core/breath/timed-line.js';
import type { Line } from '../../core/player/line.js';
import { text, toNumber } from '../../core/theory/fraction.js';
import { codes, player, realised, value } from '../player/fixture.js';
import { lineOf, lungs, QUARTER } from './lines.js';

const IN_TIME: BreathOptions = { manner: 'in-time' };
const ADDED: BreathOptions = { manner: 'added-beat' };
const plan = (line: Line, bpm: number, seconds: number, options = ADDED): BreathPlan =>
  value(breathPlan(line, { beat: QUARTER, bpm }, lungs(seconds), options));
const placesOfPlan = ({ breaths }: BreathPlan): string => breaths.map(({ afterEvent, reason }) => `${afterEvent} ${reason}`).join(', ');

describe('the reservoir', () => {
  // Shares of the missing air in a breath of b seconds, from 1 - exp(-b / 0.7).
  it.each([
    [0.2, 0.25],
    [0.4, 0.44],
    [0.5, 0.51],
    [1, 0.76],
    [1.5, 0.88],
  ])('%d s moves %d of what is missing', (seconds, share) => expect(refilled(0, 1, seconds)).toBeCloseTo(share, 2));
});

describe('places', () => {
  it('needs none where the air lasts', () => {
    expect(placesOfPlan(plan(lineOf('C4 E4 G4 C5'), 60, 4))).toBe('');
    expect(plan(lineOf('C4 E4 G4 C5'), 60, 4).airAtEnd).toBe(0);
    expect(plan(lineOf('C4 E4 G4 C5'), 60, 3.999).breaths).toHaveLength(1);
  });

  it.each(['in-time', 'added-beat'] as const)(
    'breathes once, at the turnaround, with lungs for one pass only (%s; common practice)',
    (manner) => {
      // One pass lasts 0.5 of the whole; the lungs hold 0.7 of it, because one breath does not bring back all.
      const line = realised(
        { passes: 2, directions: 'alternate-from-up', turnaround: 'repeat-last-key', padding: { to: 'bar', by: 'long-note' } },
        player('alto-saxophone'),
      );
      const seconds = toNumber(line.duration) * 4 * (60 / 80);
      const once = plan(line, 80, 0.7 * seconds, { manner, breathSeconds: FULL_BREATH });
      expect(once.breaths.map(({ reason }) => reason)).toEqual(['turnaround']);
      expect(line.statements[line.events[once.breaths[0]?.afterEvent ?? 0]?.statement ?? 0]?.pass).toBe(1);
    },
  );

  it('prefers the end of a key to a place inside', () => {
    expect(placesOfPlan(plan(lineOf('C4 E4 G4 C5 | F4 A4 C5 F5 | A4 C5 E5 A5'), 60, 8))).toBe('7 end-of-key');
  });

  it('goes inside a slur only when nothing else is possible', () => {
    const line = lineOf('C4 E4 G4 C5 | F4 A4 C5 F5', { articulation: { groups: 'all' } });
    const roomy = plan(line, 60, 5.2);
    expect([placesOfPlan(roomy), roomy.forced]).toEqual(['3 end-of-key', 0]);
    const short = plan(line, 60, 3);
    expect(short.forced).toBeGreaterThan(0);
    expect(short.breaths.some(({ reason }) => reason === 'inside-slur')).toBe(true);
  });

  it('takes more breaths rather than a forbidden one', () => {
    // 12 s of sound: two breaths would do inside the slurs, the seams need three.
    const line = lineOf('C4 E4 G4 | C4 E4 G4 | C4 E4 G4 | C4 E4 G4', { articulation: { groups: 'all' } });
    const found = plan(line, 60, 5.5);
    expect([found.forced, found.breaths.length]).toEqual([0, 3]);
  });

  it('lets rests refill, and marks none at them', () => {
    const line = lineOf('C4 E4 G4 r:1/2 r:1/2 C4 E4 G4 r:1/2 r:1/2 C4 E4 G4');
    expect(plan(line, 60, 3.2).breaths).toEqual([]);
    expect(plan(lineOf('C4 E4 G4 C4 E4 G4 C4 E4 G4'), 60, 3.2).breaths.length).toBeGreaterThan(1);
  });

  it('says why, how long since the last, and how much air was left', () => {
    const [first, second] = plan(lineOf('C4 E4 G4 C5 | F4 A4 C5 F5 | A4 C5 E5 A5'), 60, 5).breaths;
    expect(first).toMatchObject({ afterEvent: 3, reason: 'end-of-key', secondsSinceLast: 4, airLeft: 1, seconds: 1 });
    expect(text(first!.onset)).toBe('1');
    expect(second?.airLeft).toBeCloseTo(5 - 4 * Math.exp(-1 / 0.7) - 4, 9);
  });
});

describe('in time', () => {
  it('takes half of a long note, up to a full breath, and of a quick one what a catch breath needs, up to three quarters', () => {
    expect(plan(lineOf('C4:1/1 E4:1/1 | G4:1/1 C5:1/1'), 60, 9, IN_TIME).breaths[0]?.seconds).toBe(FULL_BREATH);
    expect(plan(lineOf('C4 E4 G4 C5 | E4 G4 C5 E5'), 60, 5, IN_TIME).breaths[0]?.seconds).toBe(0.5);
    expect(plan(lineOf('C4 E4 G4 C5 | E4 G4 C5 E5'), 120, 3, IN_TIME).breaths[0]?.seconds).toBe(0.375);
    expect(stolenFrom(0.6, FULL_BREATH, 0.4)).toBe(0.4);
  });

  it('shortens that note and leaves all else where it was', () => {
    const line = lineOf('C4:1/2 E4:1/2 | G4:1/2 C5:1/2');
    const timed = timedLine(line, plan(line, 60, 7, IN_TIME));
    expect(timed.events.map(({ start }) => start)).toEqual([0, 2, 4, 6]);
    expect(timed.events.map(({ length }) => length)).toEqual([2, 2 - FULL_BREATH, 2, 2]);
    expect([text(timed.duration), timed.seconds]).toEqual(['2', 8]);
  });

  it('gives oboe players time to let the old air out', () => {
    const line = lineOf('C4:1/2 E4:1/2 | G4:1/2 C5:1/2');
    const oboe = value(breathPlan(line, { beat: QUARTER, bpm: 100 }, lungs(4, 0.8), IN_TIME));
    // Half of the half note would be 0.6 s.
    expect(oboe.breaths[0]?.seconds).toBe(0.8);
    const added = value(breathPlan(line, { beat: QUARTER, bpm: 120 }, lungs(3.2, 0.8), ADDED));
    expect([text(added.added), added.breaths[0]?.seconds]).toEqual(['1/2', 1]);
  });
});

describe('an added beat', () => {
  it('is one beat unless said otherwise (common practice), and moves what follows', () => {
    const line = lineOf('C4 E4 G4 C5 | F4 A4 C5 F5');
    const one = plan(line, 60, 5);
    expect([text(one.added), one.breaths[0]?.seconds]).toEqual(['1/4', 1]);
    const timed = timedLine(line, one);
    expect(timed.events.map(({ onset }) => text(onset)).join(' ')).toBe('0 1/4 1/2 3/4 5/4 3/2 7/4 2');
    expect(timed.events.every(({ length }) => length === 1)).toBe(true);
    expect([text(timed.duration), timed.seconds]).toEqual(['9/4', 9]);
    const two = plan(line, 60, 5, { manner: 'added-beat', added: { n: 1, d: 2 } });
    expect([two.breaths[0]?.seconds, text(timedLine(line, two).duration)]).toEqual([2, '5/2']);
  });
});

describe('when no plan works', () => {
  it('names the note and the tempo at which it works', () => {
    const failed = breathPlan(lineOf('C4 E4 | G4:1/1 C5'), { beat: QUARTER, bpm: 40 }, lungs(5), ADDED);
    expect(codes(failed)).toEqual(['air-runs-out']);
    const [issue] = failed.issues;
    expect(issue?.message).toContain('G4 (note 3, in G)');
    const works = Number(/works from ♩ = (\d+)/.exec(issue?.message ?? '')?.[1]);
    expect(breathPlan(lineOf('C4 E4 | G4:1/1 C5'), { beat: QUARTER, bpm: works }, lungs(5), ADDED).ok).toBe(true);
    expect(breathPlan(lineOf('C4 E4 | G4:1/1 C5'), { beat: QUARTER, bpm: works - 1 }, lungs(5), ADDED).ok).toBe(false);
  });

  it('says so when no tempo helps', () => {
    const failed = breathPlan(lineOf('C4:1/1 '.repeat(3)), { beat: QUARTER, bpm: 40 }, lungs(0.3), IN_TIME);
    expect(failed.issues[0]?.message).toContain('no tempo up to 400 helps');
  });

  it.each([
    [{ beat: QUARTER, bpm: 0 }, ADDED, 'tempo-out-of-range'],
    [{ beat: QUARTER, bpm: -60 }, ADDED, 'tempo-out-of-range'],
    [{ beat: QUARTER, bpm: Number.NaN }, ADDED, 'not-a-number'],
    [{ beat: { n: 0, d: 1 }, bpm: 60 }, ADDED, 'tempo-without-note'],
    [{ beat: QUARTER, bpm: 60 }, { manner: 'added-beat', added: { n: 0, d: 1 } }, 'added-beat-not-positive'],
    [{ beat: QUARTER, bpm: 60 }, { manner: 'in-time', breathSeconds: -1 }, 'breath-length'],
    [{ beat: QUARTER, bpm: 60 }, { manner: 'in-time', breathSeconds: Number.NaN }, 'breath-length'],
  ] as const)('%o %o: %s', (tempo, options, code) => {
    expect(codes(breathPlan(lineOf('C4 E4'), tempo, lungs(5), options))).toEqual([code]);
  });
});

/** Random short lines: notes of five lengths, rests, statements, sometimes slurs. */
const lines = fc
  .record({
    words: fc.array(
      fc.record({
        name: fc.constantFrom('C4', 'E4', 'F4', 'B4', 'C5', 'A5', 'r'),
        length: fc.constantFrom('1/16', '1/8', '1/4', '1/4.', '1/2'),
        join: fc.constantFrom('', '', '', ' |', ' /|'),
      }),
      { minLength: 2, maxLength: 11 },
    ),
    groups: fc.constantFrom<'all' | number[]>([], [], [2], [1, 3], 'all'),
  })
  .map(({ words, groups }) => ({
    text: `C4:1/8 ${words.map(({ name, length, join }, i) => `${name}:${length}${i + 1 < words.length ? join : ''}`).join(' ')} G4:1/8`,
    groups,
  }));

const manners = fc.constantFrom<BreathOptions>(
  IN_TIME,
  ADDED,
  { manner: 'in-time', breathSeconds: 1 },
  { manner: 'added-beat', added: { n: 1, d: 8 } },
);

/** Plays a line note by note with breaths after these events; true if the air lasts. Written apart from the code under test. */
function lasts(line: Line, bpm: number, seconds: number, options: BreathOptions, after: ReadonlySet<number>): boolean {
  let air = seconds;
  const whole = 240 / bpm;
  for (const event of line.events) {
    const length = (event.duration.n / event.duration.d) * whole;
    if (event.kind === 'rest') {
      air = seconds - (seconds - air) * Math.exp(-length / 0.7);
      continue;
    }
    if (!after.has(event.index)) air -= length;
    else {
      const added = options.added ? (options.added.n / options.added.d) * whole : whole / 4;
      const breath =
        options.manner === 'added-beat'
          ? added
          : Math.max(Math.min(length / 2, options.breathSeconds ?? 1), Math.min(0.4, options.breathSeconds ?? 1, 0.75 * length));
      air -= options.manner === 'added-beat' ? length : length - breath;
      if (air < -1e-9) return false;
      air = seconds - (seconds - air) * Math.exp(-breath / 0.7);
    }
    if (air < -1e-9) return false;
  }
  return true;
}

/** The better of any two places less than a quarter apart, taken one by one from the best. Written apart from the code under test. */
function aQuarterApart(line: Line, candidates: readonly Candidate[]): Candidate[] {
  const end = ({ afterEvent }: Candidate): number => {
    const event = line.events[afterEvent]!;
    return event.onset.n / event.onset.d + event.duration.n / event.duration.d;
  };
  const best = [...candidates].sort((a, b) => Number(a.forbidden) - Number(b.forbidden) || a.cost - b.cost || a.afterEvent - b.afterEvent);
  const kept: Candidate[] = [];
  for (const one of best) if (kept.every((other) => Math.abs(end(other) - end(one)) > 0.25 - 1e-9)) kept.push(one);
  return kept.sort((a, b) => a.afterEvent - b.afterEvent);
}

/** Least (forbidden, breaths, cost) over every subset: of places allowed and apart, then allowed, then apart, then all. */
function bruteForce(line: Line, bpm: number, seconds: number, options: BreathOptions): [number, number, number] | undefined {
  const all = breathCandidates(line);
  const allowed = all.filter(({ forbidden }) => !forbidden);
  for (const candidates of [aQuarterApart(line, allowed), allowed, aQuarterApart(line, all), all]) {
    const best = bestOf(candidates, line, bpm, seconds, options);
    if (best) return best;
  }
  return undefined;
}

function bestOf(
  candidates: readonly Candidate[],
  line: Line,
  bpm: number,
  seconds: number,
  options: BreathOptions,
): [number, number, number] | undefined {
  let best: [number, number, number] | undefined;
  for (let subset = 0; subset < 2 ** candidates.length; subset++) {
    const chosen = candidates.filter((_, i) => subset & (1 << i));
    const rank: [number, number, number] = [
      chosen.filter(({ forbidden }) => forbidden).length,
      chosen.length,
      chosen.reduce((sum, { cost }) => sum + cost, 0),
    ];
    const better = !best || rank[0] < best[0] || (rank[0] === best[0] && (rank[1] < best[1] || (rank[1] === best[1] && rank[2] < best[2])));
    if (better && lasts(line, bpm, seconds, options, new Set(chosen.map(({ afterEvent }) => afterEvent)))) best = rank;
  }
  return best;
}

describe('the minimum', () => {
  it('is that of trying every set of places', () => {
    fc.assert(
      fc.property(
        lines,
        fc.double({ min: 0.8, max: 8, noNaN: true }),
        fc.integer({ min: 40, max: 160 }),
        manners,
        (words, seconds, bpm, options) => {
          const line = lineOf(words.text, { articulation: { groups: words.groups } });
          const found = breathPlan(line, { beat: QUARTER, bpm }, lungs(seconds), options);
          const expected = bruteForce(line, bpm, seconds, options);
          expect(found.ok ? [found.value.forced, found.value.breaths.length, found.value.cost] : undefined).toEqual(expected);
          if (found.ok)
            expect(lasts(line, bpm, seconds, options, new Set(found.value.breaths.map(({ afterEvent }) => afterEvent)))).toBe(true);
        },
      ),
      { numRuns: 400, seed: 4 },
    );
  });

  it('a careless player who breathes as late as possible does no better', () => {
    const line = realised({ passes: 2, rhythm: 'quarter and two eighths' }, player('trumpet-in-bb'));
    const candidates = breathCandidates(line).filter(({ forbidden }) => !forbidden);
    const late = new Set<number>();
    for (let last = 0; !lasts(line, 96, 6, ADDED, late) && last < candidates.length; last++) {
      const next = candidates.findLast(
        ({ afterEvent }) => !late.has(afterEvent) && lasts({ ...line, events: line.events.slice(0, afterEvent + 1) }, 96, 6, ADDED, late),
      );
      if (!next) break;
      late.add(next.afterEvent);
    }
    expect(lasts(line, 96, 6, ADDED, late)).toBe(true);
    expect(plan(line, 96, 6).breaths.length).toBeLessThanOrEqual(late.size);
  });

  it('halving the tempo never lowers the number of breaths', () => {
    fc.assert(
      fc.property(
        lines,
        fc.double({ min: 1, max: 8, noNaN: true }),
        fc.integer({ min: 40, max: 200 }),
        manners,
        (words, seconds, bpm, options) => {
          const line = lineOf(words.text, { articulation: { groups: words.groups } });
          const fast = breathPlan(line, { beat: QUARTER, bpm }, lungs(seconds), options);
          const slow = breathPlan(line, { beat: QUARTER, bpm: bpm / 2 }, lungs(seconds), options);
          if (!fast.ok) expect(slow.ok).toBe(false);
          if (fast.ok && slow.ok) expect(slow.value.breaths.length).toBeGreaterThanOrEqual(fast.value.breaths.length);
        },
      ),
      { numRuns: 1000, seed: 4 },
    );
  });

  it('is the same every time', () => {
    const line = realised({ passes: 2, directions: 'alternate-from-up' }, player('flute'));
    expect(plan(line, 72, 7, IN_TIME)).toEqual(plan({ ...line }, 72, 7, IN_TIME));
  });
});
