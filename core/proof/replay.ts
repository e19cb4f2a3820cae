/**
 * Replays the systems of an exercise: the pitches and durations that a player reads off the page. A signature holds
 * until the next, an accidental to the barline at its own staff position, a tie carries it over the barline (common
 * practice). Octave and letter come from the clef and the height of the head.
 */
import { at } from '../base/list.js';
import { GLYPH } from '../engrave/glyphs.js';
import type { Line } from '../player/line.js';
import type { Clef } from '../player/player.js';
import { add, type Fraction, frac, mul, ZERO } from '../theory/fraction.js';
import type { Pitch } from '../theory/pitch.js';
import type { ReadEvent, ReadNote, SystemReading } from './read-system.js';

/** Pitch on the top line of each clef, as octave × 7 + letter: F5, G4, E4, A3. */
const TOP: Readonly<Record<Clef, number>> = { treble: 5 * 7 + 3, alto: 4 * 7 + 4, tenor: 4 * 7 + 2, bass: 3 * 7 + 5 };

const ALTER: ReadonlyMap<number, number> = new Map([
  [GLYPH.accidentalDoubleFlat, -2],
  [GLYPH.accidentalFlat, -1],
  [GLYPH.accidentalNatural, 0],
  [GLYPH.accidentalSharp, 1],
  [GLYPH.accidentalDoubleSharp, 2],
]);

export const alterOf = (code: number): number => ALTER.get(code) ?? Number.NaN;

/** Staff step at this height; not whole when the mark stands between two positions. */
export const stepAt = (y: number, clef: Clef): number => TOP[clef] - 2 * y;

export const letterOf = (step: number): number => ((step % 7) + 7) % 7;

export type PlayedNote = {
  readonly kind: 'note';
  readonly system: number;
  /** Index into the system's events. */
  readonly event: number;
  /** From 0 through the exercise. */
  readonly bar: number;
  readonly step: number;
  readonly alter: number;
  /** Alteration of the printed accidental before it. */
  readonly sign: number | undefined;
  readonly tiedFrom: boolean;
  readonly tiedTo: boolean;
  readonly duration: Fraction;
};

export type PlayedRest = {
  readonly kind: 'rest';
  readonly system: number;
  readonly event: number;
  readonly bar: number;
  readonly duration: Fraction;
};

export type Played = PlayedNote | PlayedRest;

export type PlayedBar = {
  readonly events: readonly Played[];
  /** Signature in force, by letter. */
  readonly signature: ReadonlyMap<number, number>;
};

export const playedPitch = (note: PlayedNote): Pitch => {
  const octave = Math.floor(note.step / 7);
  return { letter: letterOf(note.step), octave, alter: note.alter };
};

/** What a tuplet number means: 3 in the time of 2. */
export type Ratios = ReadonlyMap<number, number>;

/** The tuplets of a line. */
export const ratiosOf = (line: Line): Ratios =>
  new Map(line.events.flatMap(({ value }) => (value.tuplet ? [[value.tuplet.actual, value.tuplet.normal] as const] : [])));

/** Time of a drawn event outside and inside its tuplet; a whole rest alone in its bar fills it. */
export function drawnDuration(event: ReadEvent, alone: boolean, bar: Fraction, ratios: Ratios): Fraction {
  if (event.kind === 'rest' && event.value === 1 && alone) return bar;
  if (!Number.isInteger(event.value) || event.value < 1) return ZERO;
  const dotted = mul(frac(1, event.value), frac(2 ** (event.dots + 1) - 1, 2 ** event.dots));
  if (event.tuplet === undefined) return dotted;
  return mul(dotted, frac(ratios.get(event.tuplet) ?? event.tuplet, event.tuplet));
}

type State = { signature: Map<number, number>; inForce: Map<number, number>; carried: Map<number, number> };

/** Signs of a signature as alterations by letter; a signature of naturals alone clears everything. */
function signatureOf(reading: SystemReading, index: number, clef: Clef): Map<number, number> {
  const signs = reading.signatures[index]?.signs ?? [];
  const letters = signs.map((sign) => [letterOf(stepAt(sign.y, clef)), alterOf(sign.code)] as const);
  return new Map(letters.filter(([, alter]) => alter !== 0));
}

/** Reads the systems in order into bars. The clef must be readable; a system without one is read in treble. */
export function replay(systems: readonly SystemReading[], bar: Fraction, ratios: Ratios): PlayedBar[] {
  const bars: { events: Played[]; signature: ReadonlyMap<number, number> }[] = [];
  const state: State = { signature: new Map(), inForce: new Map(), carried: new Map() };
  let first = 0;
  systems.forEach((reading, system) => {
    const clef = reading.clef ?? 'treble';
    // A system begins with its own signature, or with none.
    const header = reading.signatures.findIndex((s) => s.after === 0 && s.x0 < (reading.events[0]?.head.box.x0 ?? 0));
    state.signature = header < 0 ? new Map() : signatureOf(reading, header, clef);
    let current = -1;
    reading.events.forEach((event, index) => {
      if (event.bar !== current) {
        current = event.bar;
        state.inForce = new Map();
        const changed = reading.signatures.findIndex((s, i) => i !== header && s.after === current);
        if (changed >= 0) state.signature = signatureOf(reading, changed, clef);
      }
      const number = first + current;
      while (bars.length <= number) bars.push({ events: [], signature: new Map(state.signature) });
      const own = at(bars, number);
      const alone = reading.events.filter((e) => e.bar === event.bar).length === 1;
      const duration = drawnDuration(event, alone, bar, ratios);
      if (event.kind === 'rest') own.events.push({ kind: 'rest', system, event: index, bar: number, duration });
      else own.events.push(playedNote(event, index, reading, { system, bar: number, clef, duration }, state));
    });
    first += reading.barlines.length;
  });
  return bars;
}

type At = { readonly system: number; readonly bar: number; readonly clef: Clef; readonly duration: Fraction };

function playedNote(event: ReadNote, index: number, reading: SystemReading, at: At, state: State): PlayedNote {
  const step = stepAt(event.y, at.clef);
  const tie = reading.ties.find((t) => t.to === index);
  const tiedTo = reading.ties.some((t) => t.from === index);
  let sign: number | undefined;
  if (event.accidental) {
    sign = alterOf(event.accidental.code);
    state.inForce.set(stepAt(event.accidental.y, at.clef), sign);
  }
  const usual = state.signature.get(letterOf(step)) ?? 0;
  const alter = state.inForce.get(step) ?? (tie ? state.carried.get(step) : undefined) ?? usual;
  if (tiedTo) state.carried.set(step, alter);
  else state.carried.delete(step);
  return {
    kind: 'note',
    system: at.system,
    event: index,
    bar: at.bar,
    step,
    alter,
    sign,
    tiedFrom: tie !== undefined,
    tiedTo,
    duration: at.duration,
  };
}

/** Notes joined by ties, rests with their time, in order. */
export type Sounded = { readonly note: PlayedNote | undefined; readonly bar: number; readonly system: number; readonly duration: Fraction };

export function sounded(bars: readonly PlayedBar[]): Sounded[] {
  const found: Sounded[] = [];
  for (const event of bars.flatMap((b) => b.events)) {
    const last = found.at(-1);
    if (event.kind === 'note' && event.tiedFrom && last?.note?.step === event.step) {
      found[found.length - 1] = { ...last, duration: add(last.duration, event.duration) };
    } else {
      found.push({ note: event.kind === 'note' ? event : undefined, bar: event.bar, system: event.system, duration: event.duration });
    }
  }
  return found;
}
