/**
 * Which signs are printed. A sign holds to the barline at its own staff position, a tie carries it over, and a letter that
 * was altered in the bar before gets a courtesy sign (Indiana University, Jacobs School of Music, composition department's
 * notation style guide; common practice).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signBar } from '../../core/engrave/accidentals.js';
import type { BarEvent } from '../../core/engrave/bar.js';
import { signatureAlter } from '../../core/theory/key.js';
import { parsePitch, pitchName, stepOf } from '../../core/theory/pitch.js';
import { events, isNote, signText } from './notation.js';

/** Bars separated by `|` as printed under a signature. */
function printedBars(words: string, fifths: number): string {
  let altered: ReadonlySet<number> = new Set();
  const bars = words.split('|').map((bar) => {
    const signed = signBar(events(bar), fifths, altered);
    altered = signed.altered;
    return signed.events.map(signText).join(' ');
  });
  return bars.join(' | ');
}

describe('signs of a bar', () => {
  it.each([
    // signature, notes, printed
    [0, 'C4 D4 E4', 'C4 D4 E4'],
    [0, 'F#4 F#4', '#F4 F4'],
    [0, 'F#4 F#5', '#F4 #F5'],
    [0, 'F#4 F4', '#F4 nF4'],
    [0, 'F#4 F4 F#4', '#F4 nF4 #F4'],
    [0, 'F#4 G4 F5', '#F4 G4 F5'],
    [0, 'Bb4 Bbb4 Bb4', 'bB4 bbB4 bB4'],
    [0, 'F##5 F#5', '##F5 #F5'],
    [1, 'F#4 F4 F#4', 'F4 nF4 #F4'],
    [1, 'F4', 'nF4'],
    [-3, 'Eb4 E4 Eb5', 'E4 nE4 E5'],
    [7, 'C#4 C4 C##4', 'C4 nC4 ##C4'],
    [-7, 'Fb4 F4 Fbb4', 'F4 nF4 bbF4'],
    [0, 'F#4 r F#4', '#F4 r F4'],
  ])('under %i: %s → %s', (fifths, notes, printed) => {
    expect(printedBars(notes, fifths)).toBe(printed);
  });
});

describe('from bar to bar', () => {
  it.each([
    [0, 'F#4 | F#4', '#F4 | #F4'],
    [0, 'F#4 | F4', '#F4 | (n)F4'],
    [0, 'F#4 | F4 F4', '#F4 | (n)F4 F4'],
    [0, 'F#4 | F5 F4', '#F4 | (n)F5 (n)F4'],
    [0, 'F#4 | G4 | F4', '#F4 | G4 | F4'],
    [0, 'F#4 F4 | F4', '#F4 nF4 | (n)F4'],
    [2, 'F4 | F#4', 'nF4 | (#)F4'],
    [-2, 'B4 | Bb4', 'nB4 | (b)B4'],
    [0, 'F#4 | ~F#4 G4 | F4', '#F4 | F4 G4 | (n)F4'],
    [0, 'F#4 | ~F#4 F#4', '#F4 | F4 #F4'],
    [0, 'F#4 | ~F#4 F4', '#F4 | F4 (n)F4'],
    [0, 'G4 | F4', 'G4 | F4'],
  ])('under %i: %s → %s', (fifths, notes, printed) => {
    expect(printedBars(notes, fifths)).toBe(printed);
  });
});

/** What a player reads: signature, signs in force at each staff position, ties. */
function read(bars: readonly (readonly BarEvent[])[], fifths: number): string[] {
  const pitches: string[] = [];
  let tied = '';
  for (const bar of bars) {
    const inForce = new Map<number, number>();
    for (const event of bar) {
      if (event.kind === 'rest') continue;
      const step = stepOf(event.pitch);
      if (event.sign) inForce.set(step, event.sign.alter);
      const alter = inForce.get(step) ?? signatureAlter(fifths, event.pitch.letter);
      const name = event.tieIn ? tied : pitchName({ letter: event.pitch.letter, octave: event.pitch.octave, alter });
      pitches.push(name);
      tied = name;
    }
  }
  return pitches;
}

const note = fc
  .record({ letter: fc.constantFrom('C', 'D', 'F', 'B'), sign: fc.constantFrom('bb', 'b', '', '#', '##'), octave: fc.constantFrom(4, 5) })
  .map(({ letter, sign, octave }) => `${letter}${sign}${octave}`);
const music = fc.array(fc.array(note, { minLength: 1, maxLength: 6 }), { minLength: 1, maxLength: 4 });

function signedBars(bars: readonly string[], fifths: number): BarEvent[][] {
  let altered: ReadonlySet<number> = new Set();
  return bars.map((bar) => {
    const signed = signBar(events(bar), fifths, altered);
    altered = signed.altered;
    return signed.events;
  });
}

describe('any music', () => {
  it('reads back as it was written', () => {
    fc.assert(
      fc.property(music, fc.integer({ min: -7, max: 7 }), fc.boolean(), (bars, fifths, tie) => {
        // The last note of a bar goes on into the next one.
        const words = bars.map((bar, i) => (tie && i > 0 ? [`~${bars[i - 1]?.at(-1)}`, ...bar] : bar).join(' '));
        const expected = words.flatMap((w) => w.split(' ').map((n) => pitchName(parsePitch(n.replace('~', '')) as never)));
        expect(read(signedBars(words, fifths), fifths)).toEqual(expected);
      }),
      { numRuns: 1000 },
    );
  });

  it('has no sign that could be left out but courtesies', () => {
    fc.assert(
      fc.property(music, fc.integer({ min: -7, max: 7 }), (bars, fifths) => {
        const signed = signedBars(
          bars.map((b) => b.join(' ')),
          fifths,
        );
        const whole = read(signed, fifths);
        signed.forEach((bar, b) => {
          bar.forEach((event, i) => {
            if (!isNote(event) || !event.sign) return;
            const { sign } = event;
            const bare = { ...event, sign: undefined };
            const without = signed.map((other, k) => (k === b ? other.map((e, j) => (j === i ? bare : e)) : other));
            const same = read(without, fifths).join() === whole.join();
            expect(same, `${signText(event)}`).toBe(sign.courtesy);
          });
        });
      }),
      { numRuns: 300 },
    );
  });
});

it('sees a sign that is missing', () => {
  const [bar] = signedBars(['F#4 F4'], 0);
  const broken = bar?.map((e) => (isNote(e) && e.sign?.alter === 0 ? { ...e, sign: undefined } : e)) ?? [];
  expect(read([broken], 0)).toEqual(['F#4', 'F#4']);
});
