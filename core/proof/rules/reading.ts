/** Rules 6, 7 and 15: what a player reads off the page against what is to be played. */
import type { Line, LineNote } from '../../player/line.js';
import { add, compare, equal, type Fraction, frac, mod, mul, sum, text, ZERO } from '../../theory/fraction.js';
import { barLength, beatStarts, eighthGroups, metreText } from '../../theory/metre.js';
import { midi, type Pitch, pitchName, stepOf } from '../../theory/pitch.js';
import type { Fault } from '../fault.js';
import { type PlacedExercise, type PlacedSystem, systemFault } from '../placed-system.js';
import type { ReadGroup, ReadNote } from '../read-system.js';
import {
  drawnDuration,
  letterOf,
  type Played,
  type PlayedBar,
  type PlayedNote,
  playedPitch,
  type Ratios,
  replay,
  type Sounded,
  sounded,
} from '../replay.js';

/** Tuplets of the line: what each number stands for. */
export function ratiosOf(line: Line): Ratios {
  return new Map(line.events.flatMap(({ value }) => (value.tuplet ? [[value.tuplet.actual, value.tuplet.normal] as const] : [])));
}

export function readBars(exercise: PlacedExercise): PlayedBar[] {
  return replay(
    exercise.systems.map((s) => s.reading),
    barLength(exercise.line.exercise.metre),
    ratiosOf(exercise.line),
  );
}

const samePlace = (a: Pitch, b: Pitch): boolean => stepOf(a) === stepOf(b) && a.alter === b.alter;

/** Bars before the given system's, so that a bar of the exercise becomes a bar of the system. */
const tell = (rule: 6 | 7 | 15, exercise: PlacedExercise, system: number, bar: number, what: string): Fault => {
  const at = exercise.systems[system] as PlacedSystem;
  return systemFault(rule, at, bar - at.firstBar, what);
};

/** What a note sounds, from what is written: by letters and semitones of the instrument's transposition. */
function soundsAs(note: LineNote, line: Line): boolean {
  const { steps, semitones } = line.player.instrument.transposition;
  return stepOf(note.written) + steps === stepOf(note.sounding) && midi(note.written) + semitones === midi(note.sounding);
}

/** Letter of the degree in the written key: `b3` in A flat is a C. Degree -7 is the seventh below, of the same letter. */
function spelledInKey(note: LineNote, line: Line): boolean {
  const statement = line.statements[note.statement];
  if (!statement || line.exercise.simpleSpelling) return true;
  const degree = Number(/\d+$/.exec(note.degree)?.[0] ?? Number.NaN);
  return letterOf(statement.writtenKey.tonic.letter + degree - 1) === note.written.letter;
}

/** Rule 6. */
export function replayTest(exercise: PlacedExercise, bars: readonly PlayedBar[]): Fault[] {
  const { line } = exercise;
  const faults: Fault[] = [];
  const heard = sounded(bars);
  const length = barLength(line.exercise.metre);
  const notes = line.events.filter((e): e is LineNote => e.kind === 'note');
  const drawn = heard.filter((h): h is Sounded & { note: PlayedNote } => h.note !== undefined);
  const last = exercise.systems.length - 1;
  if (drawn.length !== notes.length) {
    faults.push(
      tell(
        6,
        exercise,
        last,
        exercise.systems[last]?.firstBar ?? 0,
        `The page has ${drawn.length} notes and the line has ${notes.length}.`,
      ),
    );
  }
  for (let i = 0; i < Math.min(drawn.length, notes.length); i++) {
    const { note, bar, system } = drawn[i] as (typeof drawn)[number];
    const meant = notes[i] as LineNote;
    const found = playedPitch(note);
    const start = Math.floor((meant.onset.n * length.d) / (meant.onset.d * length.n));
    if (!samePlace(found, meant.written)) {
      const name = Number.isInteger(note.step) ? pitchName(found) : 'no pitch';
      faults.push(tell(6, exercise, system, bar, `Note ${i + 1} reads ${name} and should be ${pitchName(meant.written)}.`));
      break;
    }
    if (bar !== start) {
      faults.push(tell(6, exercise, system, bar, `Note ${i + 1} stands in bar ${bar + 1} and belongs in bar ${start + 1}.`));
      break;
    }
  }
  for (const note of notes) {
    const bar = Math.floor((note.onset.n * length.d) / (note.onset.d * length.n));
    const system = Math.max(
      0,
      exercise.systems.findLastIndex((s) => s.firstBar <= bar),
    );
    if (!soundsAs(note, line)) {
      faults.push(
        tell(
          6,
          exercise,
          system,
          bar,
          `Note ${note.index + 1}, written ${pitchName(note.written)}, does not sound ${pitchName(note.sounding)} on this instrument.`,
        ),
      );
    } else if (!spelledInKey(note, line)) {
      faults.push(
        tell(6, exercise, system, bar, `Note ${note.index + 1}, ${pitchName(note.written)}, is not degree ${note.degree} of its key.`),
      );
    }
  }
  return faults;
}

const isNote = (event: Played): event is PlayedNote => event.kind === 'note';

/**
 * Rule 7. A sign is needed where the alteration differs from what is in force at its staff position. A reminder is due
 * the first time that a letter altered in the bar before is met unaltered, at each staff position, if the signature has
 * not changed. Every other sign is redundant.
 */
export function courtesies(exercise: PlacedExercise, bars: readonly PlayedBar[]): Fault[] {
  const faults: Fault[] = [];
  let altered = new Set<number>();
  bars.forEach((bar, index) => {
    const before = index > 0 && sameSignature(bars[index - 1] as PlayedBar, bar) ? altered : new Set<number>();
    altered = new Set();
    const inForce = new Map<number, number>();
    const met = new Set<number>();
    for (const note of bar.events.filter(isNote)) {
      const letter = letterOf(note.step);
      const usual = bar.signature.get(letter) ?? 0;
      if (note.alter !== usual) altered.add(letter);
      const needed = !note.tiedFrom && note.alter !== (inForce.get(note.step) ?? usual);
      const due = !note.tiedFrom && !needed && note.alter === usual && before.has(letter) && !met.has(note.step);
      if (!note.tiedFrom) {
        met.add(note.step);
        inForce.set(note.step, note.alter);
      }
      const name = pitchName(playedPitch(note));
      if (due && note.sign === undefined)
        faults.push(tell(7, exercise, note.system, index, `${name} carries no reminder after the bar before.`));
      if (!due && !needed && note.sign !== undefined)
        faults.push(tell(7, exercise, note.system, index, `${name} carries a sign it does not need.`));
    }
  });
  return faults;
}

const sameSignature = (a: PlayedBar, b: PlayedBar): boolean =>
  a.signature.size === b.signature.size && [...a.signature].every(([letter, alter]) => b.signature.get(letter) === alter);

/** Starts of these lengths laid end to end, without the bar's end. */
function borders(lengths: readonly Fraction[]): Fraction[] {
  return lengths.map((_, i) => sum(lengths.slice(0, i)));
}

/** Beams may join within these borders: eighths by the half bar in 4/4, shorter notes by the beat (Gould p. 153). */
function beamBorders(group: readonly ReadNote[], exercise: PlacedExercise): Fraction[] {
  const { metre } = exercise.line.exercise;
  if (group.every((n) => n.value <= 8 && n.tuplet === undefined)) return borders(eighthGroups(metre));
  return metreText(metre) === '2/2' ? [0, 1, 2, 3].map((i) => frac(i, 4)) : beatStarts(metre).slice(0, -1);
}

/** Rule 15. */
export function metre(exercise: PlacedExercise, bars: readonly PlayedBar[]): Fault[] {
  const faults: Fault[] = [];
  const { line } = exercise;
  const length = barLength(line.exercise.metre);
  const first = exercise.systems[0]?.reading.time;
  if (first && (first.beats !== line.exercise.metre.beats || first.unit !== line.exercise.metre.unit)) {
    faults.push(
      tell(15, exercise, 0, 0, `The time signature reads ${first.beats}/${first.unit} and should read ${metreText(line.exercise.metre)}.`),
    );
  }
  bars.forEach((bar, index) => {
    const total = sum(bar.events.map((e) => e.duration));
    const system = bar.events[0]?.system ?? 0;
    if (!equal(total, length))
      faults.push(tell(15, exercise, system, index, `The bar holds ${text(total)} and should hold ${text(length)}.`));
  });
  const count = mul(line.duration, frac(length.d, length.n));
  if (!equal(count, frac(bars.length))) {
    faults.push(
      tell(
        15,
        exercise,
        exercise.systems.length - 1,
        Math.max(0, bars.length - 1),
        `The exercise has ${bars.length} bars and should have ${text(count)}.`,
      ),
    );
  }
  faults.push(...durations(exercise, bars), ...beamFaults(exercise, length));
  return faults;
}

/** Each note lasts as long as it should: the first that does not is told. */
function durations(exercise: PlacedExercise, bars: readonly PlayedBar[]): Fault[] {
  const notes = exercise.line.events.filter((e): e is LineNote => e.kind === 'note');
  const drawn = sounded(bars).filter((h) => h.note !== undefined);
  for (let i = 0; i < Math.min(notes.length, drawn.length); i++) {
    const [meant, found] = [notes[i] as LineNote, drawn[i] as Sounded];
    if (equal(meant.duration, found.duration)) continue;
    return [
      tell(15, exercise, found.system, found.bar, `Note ${i + 1} lasts ${text(found.duration)} and should last ${text(meant.duration)}.`),
    ];
  }
  return [];
}

/** A beam across a border of the metre. Tuplets are groups by themselves. */
function beamFaults(exercise: PlacedExercise, length: Fraction): Fault[] {
  const ratios = ratiosOf(exercise.line);
  return exercise.systems.flatMap((at) => {
    const onsets: Fraction[] = [];
    at.reading.events.forEach((event, i) => {
      const before = at.reading.events[i - 1];
      const time = before && drawnDuration(before, false, length, ratios);
      onsets.push(before && time && before.bar === event.bar ? add(onsets[i - 1] as Fraction, time) : ZERO);
    });
    return at.reading.groups.flatMap((group: ReadGroup) => {
      const notes = group.notes.map((i) => at.reading.events[i]).filter((e): e is ReadNote => e?.kind === 'note');
      const [first, last] = [group.notes[0] as number, group.notes.at(-1) as number];
      const bar = notes[0]?.bar ?? 0;
      if (notes.some((n) => n.bar !== bar)) return [systemFault(15, at, bar, 'A beam crosses a barline.')];
      if (notes.every((n) => n.tuplet !== undefined)) return [];
      const crossed = beamBorders(notes, exercise).find(
        (b) => compare(onsets[first] as Fraction, b) < 0 && compare(b, onsets[last] as Fraction) <= 0,
      );
      if (!crossed) return [];
      return [systemFault(15, at, bar, `A beam crosses the beat at ${text(mod(crossed, length))} of the bar.`)];
    });
  });
}
