import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breathCandidates } from '../../core/breath/candidates.js';
import type { BreathMark } from '../../core/breath/ladder.js';
import type { LungTime } from '../../core/breath/lung-time.js';
import { breatheByTurns, type Turns } from '../../core/ensemble/breathe-by-turns.js';
import { breatheTogether, commonLung } from '../../core/ensemble/breathe-together.js';
import type { Line } from '../../core/player/line.js';
import { add, text, toNumber } from '../../core/theory/fraction.js';
import { lineOf, lungs, QUARTER } from '../breath/lines.js';
import { value } from '../player/fixture.js';

type Player = { readonly line: Line; readonly lung: LungTime };

/**
 * Plays a line with breaths after the given events, told anew from the rule and not from the program's search: air falls
 * with sound; a breath takes half of the note before it, up to a second, or 0.4 s of a short note, up to three quarters (more
 * where the player breathes out first); it leaves exp(-b / 0.7) of what is missing; so does a rest. True if the air lasts.
 */
function lasts({ line, lung }: Player, after: ReadonlySet<number>, bpm: number): boolean {
  const perWhole = (60 / bpm) * 4;
  let missing = 0;
  for (const event of line.events) {
    const seconds = toNumber(event.duration) * perWhole;
    if (event.kind === 'rest') {
      missing *= Math.exp(-seconds / 0.7);
      continue;
    }
    const [full, quick] = [Math.max(1, lung.leastBreath), Math.max(0.4, lung.leastBreath)];
    const breath = after.has(event.index) ? Math.max(Math.min(full, seconds / 2), Math.min(quick, 0.75 * seconds)) : 0;
    missing += seconds - breath;
    if (missing > lung.seconds + 1e-9) return false;
    if (breath > 0) missing *= Math.exp(-breath / 0.7);
  }
  return true;
}

const timeOf = (line: Line, event: number): string => {
  const note = line.events[event] as Line['events'][number];
  return text(add(note.onset, note.duration));
};

/** Fewest breaths of all ways in which no two players breathe at one place: every way is tried. */
function bruteForce(players: readonly Player[], bpm: number): number | undefined {
  const places = breathCandidates((players[0] as Player).line).map(({ afterEvent }) => afterEvent);
  const choices = players.length + 1;
  let best: number | undefined;
  for (let code = 0; code < choices ** places.length; code++) {
    const taken = players.map(() => new Set<number>());
    let rest = code;
    let count = 0;
    for (const place of places) {
      const who = rest % choices;
      rest = Math.floor(rest / choices);
      if (who > 0) {
        taken[who - 1]?.add(place);
        count++;
      }
    }
    if (best !== undefined && count >= best) continue;
    if (players.every((player, i) => lasts(player, taken[i] as Set<number>, bpm))) best = count;
  }
  return best;
}

function faults(turns: Turns, players: readonly Player[], bpm: number): string[] {
  const found: string[] = [];
  const used = new Map<string, number>();
  turns.marks.forEach((marks, i) => {
    const player = players[i] as Player;
    if (!lasts(player, new Set(marks.map((mark) => mark.afterEvent)), bpm)) found.push(`player ${i + 1} runs out of air`);
    for (const { afterEvent } of marks) used.set(timeOf(player.line, afterEvent), (used.get(timeOf(player.line, afterEvent)) ?? 0) + 1);
  });
  for (const [place, count] of used) {
    if (count > turns.sharing) found.push(`${count} breathe at ${place}`);
    if (players.length > 1 && count === players.length) found.push(`all breathe at ${place}`);
  }
  const total = turns.marks.reduce((sum, marks) => sum + marks.length, 0);
  if (total !== turns.breaths) found.push(`${total} breaths, said to be ${turns.breaths}`);
  if (turns.breaths < turns.atLeast) found.push('fewer than the least');
  return found;
}

const found = (players: readonly Player[], bpm: number): Turns => {
  const turns = breatheByTurns(players, { beat: QUARTER, bpm });
  if (typeof turns === 'string') throw new Error(turns);
  return turns;
};

const TUNE = lineOf('C4 D4 E4 F4:1/2 | G4 A4 B4:1/2 C5 | C5:1/2 B4 A4');
const LONG = lineOf(Array.from({ length: 16 }, () => 'C4:1/8 D4:1/8 E4:1/8 G4:1/2').join(' | '));

describe('breathing by turns', () => {
  it.each([
    ['one', TUNE, [3], 60],
    ['two alike', TUNE, [4, 4], 60],
    ['two unlike', TUNE, [3, 5.5], 60],
    ['three alike', TUNE, [5, 5, 5], 60],
    ['three unlike', TUNE, [4, 5, 8], 66],
    ['two with a rest', lineOf('C4 D4 E4 r F4 G4 A4:1/2 | C5 B4 A4'), [3, 3.5], 60],
    ['two that must hurry', lineOf('C4 D4 E4 F4 G4 A4 B4 C5'), [2.2, 2.4], 60],
  ] as const)('%s: as few breaths as a trial of all ways finds', (_, line, seconds, bpm) => {
    const players = seconds.map((s): Player => ({ line, lung: lungs(s) }));
    const best = bruteForce(players, bpm);
    const turns = breatheByTurns(players, { beat: QUARTER, bpm });
    if (best === undefined) return expect(typeof turns === 'string' || turns.sharing > 1).toBe(true);
    expect(typeof turns).toBe('object');
    const plan = turns as Turns;
    expect({ breaths: plan.breaths, exact: plan.exact, sharing: plan.sharing }).toEqual({ breaths: best, exact: true, sharing: 1 });
    expect(faults(plan, players, bpm)).toEqual([]);
  });

  it('agrees with the trial of all ways on random small groups', () => {
    const word = fc.constantFrom('C4', 'D4:1/8', 'E4:1/2', 'G4', 'A4:1/8', 'r:1/4', '|');
    const tune = fc.array(word, { minLength: 4, maxLength: 8 }).map((words) => `C4 ${words.join(' ').replace(/(\| )+\|/g, '|')} D4`);
    const seconds = fc.array(fc.double({ min: 1.2, max: 5, noNaN: true }), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(tune, seconds, (words, lung) => {
        const line = lineOf(words.replace(/\| r/g, '| C4 r'));
        const players = lung.map((s): Player => ({ line, lung: lungs(Math.round(s * 10) / 10) }));
        const best = bruteForce(players, 60);
        const turns = breatheByTurns(players, { beat: QUARTER, bpm: 60 });
        if (best === undefined) expect(typeof turns === 'string' || turns.sharing > 1).toBe(true);
        else {
          expect(typeof turns === 'string' ? turns : [turns.breaths, turns.exact, turns.sharing]).toEqual([best, true, 1]);
          expect(faults(turns as Turns, players, 60)).toEqual([]);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('keeps its rules and states its bound in large groups', () => {
    for (const size of [2, 4, 6, 9]) {
      const players = Array.from({ length: size }, (_, i): Player => ({ line: LONG, lung: lungs(6 + (i % 3)) }));
      const turns = found(players, 72);
      expect(faults(turns, players, 72)).toEqual([]);
      expect(turns.breaths).toBeLessThanOrEqual(2 * turns.atLeast);
    }
  });

  it('lets some share where there are too few places, but never all', () => {
    const line = lineOf('C4:1/1 | D4:1/1 | E4:1/1 | F4:1/1');
    const players = Array.from({ length: 5 }, (): Player => ({ line, lung: lungs(10) }));
    const turns = found(players, 60);
    expect(turns.sharing).toBeGreaterThan(1);
    expect(faults(turns, players, 60)).toEqual([]);
  });

  it('says why there is no plan', () => {
    const line = lineOf('C4:1/1 | D4:1/1');
    expect(breatheByTurns([{ line, lung: lungs(3) }], { beat: QUARTER, bpm: 60 })).toBe('air-runs-out');
    expect(
      breatheByTurns(
        [
          { line, lung: lungs(5) },
          { line, lung: lungs(5) },
        ],
        { beat: QUARTER, bpm: 60 },
      ),
    ).toBe('too-few-places');
  });

  it('a plan with two players at one place is seen', () => {
    const players = [5, 5].map((s): Player => ({ line: TUNE, lung: lungs(s) }));
    const turns = found(players, 60);
    const [first] = turns.marks as [readonly BreathMark[]];
    expect(faults({ ...turns, marks: [first, first] }, players, 60)).not.toEqual([]);
  });
});

describe('breathing together', () => {
  const players = [3, 5, 4].map((s, i): Player => ({ line: TUNE, lung: lungs(s, i === 1 ? 0.8 : 0) }));

  it('counts with the shortest lungs and the longest breath', () => {
    expect(commonLung(players.map(({ lung }) => lung))).toMatchObject({ seconds: 3, leastBreath: 0.8 });
  });

  it('is one plan that serves everyone', () => {
    const marks = value(breatheTogether(players, TUNE, { beat: QUARTER, bpm: 60 }));
    const places = marks.map((own, i) => own.map(({ afterEvent }) => timeOf((players[i] as Player).line, afterEvent)).join(' '));
    expect(new Set(places).size).toBe(1);
    // The breath of the one who must breathe out first is everybody's.
    const longest = players.map((player): Player => ({ ...player, lung: { ...player.lung, leastBreath: 0.8 } }));
    for (const [i, own] of marks.entries()) expect(lasts(longest[i] as Player, new Set(own.map((mark) => mark.afterEvent)), 60)).toBe(true);
  });

  it('tells when the shortest lungs do not last', () => {
    const { ok, issues } = breatheTogether([{ line: TUNE, lung: lungs(1) }], TUNE, { beat: QUARTER, bpm: 60 });
    expect([ok, issues.map(({ code }) => code)]).toEqual([false, ['air-runs-out']]);
  });
});
