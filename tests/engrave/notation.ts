/** A small language for the tests of this folder: written values, bars and events in a few words. */
import type { Bar, BarEvent, BarNote } from '../../core/engrave/bar.js';
import { add, type Fraction, frac, parseFraction, ZERO } from '../../core/theory/fraction.js';
import { type Metre, parseMetre } from '../../core/theory/metre.js';
import type { Written } from '../../core/theory/notate.js';
import { accidentalText, letterName, parsePitch, pitchName } from '../../core/theory/pitch.js';

export const fraction = (text: string): Fraction => {
  const found = parseFraction(text);
  if (!found) throw new Error(`not a fraction: ${text}`);
  return found;
};

export const metre = (text: string): Metre => {
  const found = parseMetre(text);
  if (!found) throw new Error(`not a metre: ${text}`);
  return found;
};

/** `4.` for a dotted quarter, `1` for a whole note. */
export const valueText = ({ base, dots }: Pick<Written, 'base' | 'dots'>): string => `${base.d}${'.'.repeat(dots)}`;

/** Values with ties between them: `4~8`. */
export const valuesText = (pieces: readonly Pick<Written, 'base' | 'dots'>[]): string => pieces.map(valueText).join('~');

const SIGNS: Readonly<Record<number, string>> = { [-2]: 'bb', [-1]: 'b', 0: 'n', 1: '#', 2: '##' };

/** The printed sign before the letter, a courtesy in brackets: `#F5`, `(n)F5`, `F5`. */
export function signText(event: BarEvent): string {
  if (event.kind === 'rest') return 'r';
  const name = `${letterName(event.pitch.letter)}${event.pitch.octave}`;
  if (!event.sign) return name;
  const sign = SIGNS[event.sign.alter];
  return event.sign.courtesy ? `(${sign})${name}` : `${sign}${name}`;
}

export const barText = (bar: Bar): string =>
  bar.events.map((e) => `${e.kind === 'rest' ? 'r' : ''}${valueText(e)}${e.kind === 'note' && e.tieOut ? '~' : ''}`).join(' ');

/** `F#4` and `Bb3` in words of print, for messages. */
export const printed = (pitch: BarNote['pitch']): string => `${letterName(pitch.letter)}${accidentalText(pitch.alter)}${pitch.octave}`;

/**
 * Events of a bar from words: a pitch, or `r`; `/` and a value as in `1/8.`; `~` in front for a note that is tied in.
 * A word without a value has the value of the word before (an eighth at first): `C4/1/4 D4 r`.
 */
export function events(words: string, tuplet?: number): BarEvent[] {
  let base = frac(1, 8);
  let dots = 0;
  let onset = ZERO;
  return words
    .split(' ')
    .filter((word) => word !== '')
    .map((word, event): BarEvent => {
      const [name, value] = [word.replace(/\/.*/, ''), /\/(.*)/.exec(word)?.[1]];
      if (value !== undefined) {
        base = fraction(value.replace('.', ''));
        dots = value.endsWith('.') ? 1 : 0;
      }
      const duration = dots ? frac(base.n * 3, base.d * 2) : base;
      const common = { event, onset, duration, base, dots, tuplet };
      onset = add(onset, duration);
      if (name === 'r') return { kind: 'rest', ...common, full: false };
      const tieIn = name.startsWith('~');
      const pitch = parsePitch(tieIn ? name.slice(1) : name);
      if (!pitch) throw new Error(`not a pitch: ${name}`);
      return { kind: 'note', ...common, pitch, tieIn, tieOut: false, sign: undefined };
    });
}

export const isNote = (event: BarEvent): event is BarNote => event.kind === 'note';

export const nameOf = (event: BarNote): string => pitchName(event.pitch);
