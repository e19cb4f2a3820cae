import { describe, expect, it } from 'vitest';
import { breathCandidates, EXTRA_COST, PLACE_COST, placesOf } from '../../core/breath/candidates.js';
import { beamGroups, slurGroups } from '../../core/breath/groups.js';
import { barsOf } from '../../core/engrave/bars.js';
import type { Articulation } from '../../core/exercise/exercise.js';
import { player, realised } from '../player/fixture.js';
import { lineOf } from './lines.js';

/** `0 turnaround, 1 end-of-key+1`: note index, reason, and what is added to the reason's cost. */
const places = (text: string, words: Parameters<typeof lineOf>[1] = {}): string =>
  breathCandidates(lineOf(text, words))
    .map(({ afterEvent, reason, cost }) => `${afterEvent} ${reason}${cost > PLACE_COST[reason] ? `+${cost - PLACE_COST[reason]}` : ''}`)
    .join(', ');

/** Groups as brackets over the events: `[0 1] 2 [3 4]`. */
function brackets(groups: Int32Array): string {
  const parts: number[][] = [];
  groups.forEach((group, i) => {
    if (i > 0 && group !== -1 && group === groups[i - 1]) parts.at(-1)?.push(i);
    else parts.push([i]);
  });
  return parts.map((part) => (part.length > 1 ? `[${part.join(' ')}]` : part.join(''))).join(' ');
}

describe('where one may breathe', () => {
  // Common practice: turnaround, end of a key, after a long note, before a skip, and only then inside a figure.
  it.each([
    ['C4 E4 | A4 C5', '0 inside-key+4, 1 end-of-key, 2 inside-key+4'],
    ['C4 | A4 || F4', '0 end-of-key, 1 turnaround+4'],
    ['C4 G4 /| C4 G4', '0 before-leap+4, 1 end-of-set, 2 before-leap+4'],
    ['C4 E4 G4:1/2 B4 G4', '0 inside-key, 1 inside-key, 2 after-long-note, 3 inside-key+4'],
    ['C4 D4 F4 A4', '0 inside-key+1, 1 inside-key, 2 inside-key+4'],
  ])('%s', (text, ...expected) => expect(places(text)).toBe(expected.join(', ')));

  it('needs no candidate beside a rest', () => {
    expect(places('C4 r E4 | r F4 A4 C5')).toBe('4 inside-key, 5 inside-key+4');
  });

  it('does not part a leading note from its tonic', () => {
    const [, before] = [places('C5 B4 C5 E5'), breathCandidates(lineOf('C5 B4 C5 E5'))[1]];
    expect(before?.cost).toBe(PLACE_COST['inside-key'] + EXTRA_COST.beforeStep + EXTRA_COST.leadingNote);
    // A semitone up that leads nowhere costs no more than any step.
    expect(breathCandidates(lineOf('C5 E5 F5 A5'))[1]?.cost).toBe(PLACE_COST['inside-key'] + EXTRA_COST.beforeStep);
  });

  it('forbids the inside of a slur and of a beam, not the seam between two', () => {
    const slurs: Articulation = { groups: [2] };
    expect(places('C4 E4 G4 C5 | C4 E4', { articulation: slurs })).toBe(
      '0 inside-slur, 1 inside-key, 2 inside-slur+4, 3 end-of-key, 4 inside-slur+4',
    );
    expect(places('C4:1/8 E4:1/8 G4:1/8 B4:1/8 D5:1/8')).toContain('2 inside-beam');
    expect(places('C4:1/8 E4:1/8 G4:1/8 B4:1/8 D5:1/8 F5:1/8')).toContain('3 inside-key');
  });

  it('ranks the places as the table says, every forbidden one behind all others', () => {
    const order = Object.values(PLACE_COST);
    expect(order).toEqual([...order].sort((a, b) => a - b));
    const dearest = PLACE_COST['inside-key'] + EXTRA_COST.beforeStep + EXTRA_COST.leadingNote;
    expect(PLACE_COST['end-of-key'] + EXTRA_COST.beforeStep).toBeLessThan(PLACE_COST['after-long-note']);
    expect(dearest).toBeLessThan(PLACE_COST['inside-beam']);
  });

  it('keeps the time of the line whether or not forbidden places are left out', () => {
    for (const rhythm of ['eighths', 'eighth triplets', 'quarters']) {
      const line = realised({ rhythm, passes: 2, padding: { to: 'bar', by: 'rests' } }, player('clarinet-in-bb'));
      const notes = line.events.filter((event) => event.kind === 'note').reduce((sum, { duration }) => sum + duration.n / duration.d, 0);
      for (const steps of placesOf(line).choices()) {
        expect(steps.play.reduce((sum, play) => sum + play, steps.tail)).toBeCloseTo(notes, 9);
      }
    }
  });
});

describe('slurs', () => {
  it.each([
    ['C4 D4 E4 F4 | G4 A4', 'all', '[0 1 2 3] [4 5]'],
    ['C4 D4 E4 F4 | G4 A4', [2], '[0 1] [2 3] [4 5]'],
    ['C4 D4 E4 F4 G4 | G4 A4', [1, 3], '0 [1 2 3] 4 5 6'],
    ['C4 D4 E4 | G4 A4 B4', [2], '[0 1] 2 [3 4] 5'],
    ['C4 D4 r E4 F4', 'all', '[0 1] 2 [3 4]'],
    ['C4 D4 E4 r F4 G4 A4', [1, 3], '0 [1 2] 3 4 [5 6]'],
    ['C4 D4 r F4 G4 A4', [2, 1], '[0 1] 2 [3 4] 5'],
    ['C4 D4 E4', [], '0 1 2'],
  ] as const)('%s, %s: %s', (text, groups, expected) => {
    expect(brackets(slurGroups(lineOf(text, { articulation: { groups } })))).toBe(expected);
  });
});

describe('beams', () => {
  // Gould, Behind Bars, p. 153 (second-hand), and common practice.
  const eight = 'C4:1/8 '.repeat(8);
  it.each([
    ['4/4', eight, '[0 1 2 3] [4 5 6 7]'],
    ['3/4', 'C4:1/8 '.repeat(6), '[0 1] [2 3] [4 5]'],
    ['6/8', 'C4:1/8 '.repeat(6), '[0 1 2] [3 4 5]'],
    ['4/4', 'C4:1/16 '.repeat(8), '[0 1 2 3] [4 5 6 7]'],
    ['2/2', 'C4:1/16 '.repeat(8), '[0 1 2 3] [4 5 6 7]'],
    ['4/4', 'C4:1/8 C4:1/8 C4:1/8 C4:1/16 C4:1/16', '[0 1] [2 3 4]'],
    ['4/4', 'C4:1/4 C4:1/8 C4:1/8 C4:1/2', '0 [1 2] 3'],
    ['4/4', 'C4:1/8 r:1/8 C4:1/8 C4:1/8', '0 1 [2 3]'],
    ['2/4', 'C4:1/4. C4:1/8 C4:1/8 C4:1/8 C4:1/4', '0 1 [2 3] 4'],
    // A quarter tied over the barline, or over the middle of the bar, ends under a beam.
    ['2/4', 'C4:1/4. C4:1/4 C4:1/8 C4:1/4', '0 [1 2] 3'],
    ['4/4', 'C4:1/4 C4:1/8 C4:1/4 C4:1/8 C4:1/4', '0 [1 2 3] 4'],
    ['3/4', 'C4:1/2 C4:1/8 C4:1/4. C4:1/4', '0 [1 2] 3'],
  ])('%s %s', (metre, text, expected) => expect(brackets(beamGroups(lineOf(text, { metre })))).toBe(expected));

  it('breathes in no beam that a note is tied into while there is another place', () => {
    expect(places('C4:1/4. C4:1/4 E4:1/8 G4:1/4', { metre: '2/4' })).toContain('1 inside-beam');
    expect(places('C4:1/4 C4:1/4 E4:1/8 G4:1/4', { metre: '2/4' })).toContain('1 inside-key');
  });

  it.each([
    ['quarters', '5/8'],
    ['quarters', '7/8'],
    ['quarters', '3/8'],
    ['dotted quarter and eighth', '4/4'],
    ['eighth and two sixteenths', '5/8'],
    ['sixteenths', '6/8'],
    ['1/4 1/16 1/16 1/8', '3/4'],
    ['dotted eighth and sixteenth', '9/8'],
    ['1/8 1/4 1/8', '3/8'],
  ])('are those that are printed: %s in %s', (rhythm, name) => {
    const line = realised({ rhythm, metre: name, padding: { to: 'flow' }, passes: 2 }, player('flute'));
    const groups = beamGroups(line);
    const printed = new Set(
      barsOf(line).bars.flatMap(({ beams, events }) =>
        beams.flatMap((beam) => beam.slice(1).map((i, k) => `${events[beam[k] as number]?.event} ${events[i]?.event}`)),
      ),
    );
    const parted = line.events.slice(1).filter(({ index }) => groups[index] !== -1 && groups[index] === groups[index - 1]);
    const own = parted.map(({ index }) => `${index - 1} ${index}`);
    const between = [...printed].filter((pair) => pair.split(' ')[0] !== pair.split(' ')[1]);
    expect(between.filter((pair) => !own.includes(pair))).toEqual([]);
    expect(own.filter((pair) => !printed.has(pair))).toEqual([]);
  });

  it('gives each triplet its own', () => {
    const line = realised({ rhythm: 'eighth triplets' }, player('flute'));
    expect(brackets(beamGroups(line)).slice(0, 23)).toBe('[0 1 2] [3 4 5] [6 7 8]');
  });
});
