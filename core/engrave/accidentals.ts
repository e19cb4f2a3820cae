/**
 * Which accidentals are printed. A sign lasts to the barline at its own staff position; a tie carries it over the
 * barline; a letter altered in one bar and back to the signature in the next gets a courtesy sign the first time at
 * each position. Sources: W3C MusicXML 4.0 (accidental, cautionary); courtesy rule as in university style guides.
 */
import { signatureAlter } from '../theory/key.js';
import { stepOf } from '../theory/pitch.js';
import type { BarEvent, Sign } from './bar.js';

/** Letters that stand altered against the signature anywhere in the bar, for the courtesies of the next. */
export type Altered = ReadonlySet<number>;

export function signBar(events: readonly BarEvent[], fifths: number, before: Altered): { events: BarEvent[]; altered: Altered } {
  const inForce = new Map<number, number>();
  const reminded = new Set<number>();
  const altered = new Set<number>();
  const signed = events.map((event): BarEvent => {
    if (event.kind === 'rest') return event;
    const { letter, alter } = event.pitch;
    const step = stepOf(event.pitch);
    const usual = signatureAlter(fifths, letter);
    if (alter !== usual) altered.add(letter);
    const current = inForce.get(step) ?? usual;
    if (event.tieIn) return event;
    let sign: Sign | undefined;
    if (alter !== current) sign = { alter, courtesy: false };
    else if (alter === usual && before.has(letter) && !reminded.has(step) && !inForce.has(step)) sign = { alter, courtesy: true };
    reminded.add(step);
    inForce.set(step, alter);
    if (!sign) return event;
    const { event: index, onset, duration, base, dots, tuplet, pitch, tieIn, tieOut } = event;
    return { kind: 'note', event: index, onset, duration, base, dots, tuplet, pitch, tieIn, tieOut, sign };
  });
  return { events: signed, altered };
}
