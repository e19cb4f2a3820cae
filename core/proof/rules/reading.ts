/** Rules 6, 7 and 15: what a player reads off the page against what is to be played. */
import { at, first, last } from '../../base/list.js';
import type { Line, LineEvent, LineNote } from '../../player/line.js';
import { add, compare, equal, type Fraction, frac, mod, mul, sum, text, ZERO } from '../../theory/fraction.js';
import { barLength, beatStarts, eighthGroups, metreText } from '../../theory/metre.js';
import { midi, type Pitch, pitchName, stepOf } from '../../theory/pitch.js';
import type { Finding } from '../fault.js';
import { type PlacedExercise, type PlacedSystem, systemFinding } from '../placed-system.js';
import type { ReadNote, SystemReading } from '../read-system.js';
import {
  drawnDuration,
  letterOf,
  type Played,
  type PlayedBar,
  type PlayedNote,
  playedPitch,
  type Ratios,
  ratiosOf,
  type Sounded,
  sounded,
} from '../replay.js';
import type { Rule } from '../rule.js';

type SoundedNote = Sounded & { readonly note: PlayedNote };

const isSoundedNote = (heard: Sounded): heard is SoundedNote => heard.note !== undefined;

const samePlace = (a: Pitch, b: Pitch): boolean => stepOf(a) === stepOf(b) && a.alter === b.alter;

/** A finding in a bar of the exercise, which stands in this system. */
const tell = ({ systems }: PlacedExercise, system: number, bar: number, what: string): Finding => {
  const placed = at(systems, system);
  return systemFinding(placed, bar - placed.firstBar, what);
};

/** Bar in which something begins. */
const barOf = (onset: Fraction, length: Fraction): number => Math.floor((onset.n * length.d) / (onset.d * length.n));

const isLineNote = (event: LineEvent): event is LineNote => event.kind === 'note';

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

/** The first note that is read as another, or in another bar, than the line has it. */
function misread(exercise: PlacedExercise, drawn: readonly SoundedNote[], notes: readonly LineNote[], length: Fraction): Finding[] {
  for (const [i, { note, bar, system }] of drawn.slice(0, notes.length).entries()) {
    const meant = at(notes, i);
    const found = playedPitch(note);
    const start = barOf(meant.onset, length);
    if (!samePlace(found, meant.written)) {
      const name = Number.isInteger(note.step) ? pitchName(found) : 'no pitch';
      return [tell(exercise, system, bar, `Note ${i + 1} reads ${name} and should be ${pitchName(meant.written)}.`)];
    }
    if (bar !== start) return [tell(exercise, system, bar, `Note ${i + 1} stands in bar ${bar + 1} and belongs in bar ${start + 1}.`)];
  }
  return [];
}

/** What is wrong in a note of the line itself, as it is written for its player. */
function miswritten(note: LineNote, line: Line): string | undefined {
  const name = `Note ${note.index + 1}`;
  const written = pitchName(note.written);
  if (!soundsAs(note, line)) return `${name}, written ${written}, does not sound ${pitchName(note.sounding)} on this instrument.`;
  return spelledInKey(note, line) ? undefined : `${name}, ${written}, is not degree ${note.degree} of its key.`;
}

/** Rule 6. */
export function replayTest(exercise: PlacedExercise, bars: readonly PlayedBar[]): Finding[] {
  const { line, systems } = exercise;
  const length = barLength(line.exercise.metre);
  const notes = line.events.filter(isLineNote);
  const drawn = sounded(bars).filter(isSoundedNote);
  const findings: Finding[] = [];
  if (drawn.length !== notes.length) {
    const what = `The page has ${drawn.length} notes and the line has ${notes.length}.`;
    findings.push(tell(exercise, systems.length - 1, last(systems).firstBar, what));
  }
  findings.push(...misread(exercise, drawn, notes, length));
  for (const note of notes) {
    const wrong = miswritten(note, line);
    if (wrong === undefined) continue;
    const bar = barOf(note.onset, length);
    const system = systems.findLastIndex((s) => s.firstBar <= bar);
    findings.push(tell(exercise, Math.max(0, system), bar, wrong));
  }
  return findings;
}

const isPlayedNote = (event: Played): event is PlayedNote => event.kind === 'note';

/**
 * Rule 7. A sign is needed where the alteration differs from what is in force at its staff position. A reminder is due
 * the first time that a letter altered in the bar before is met unaltered, at each staff position, if the signature has
 * not changed. Every other sign is redundant.
 */
export function courtesies(exercise: PlacedExercise, bars: readonly PlayedBar[]): Finding[] {
  const findings: Finding[] = [];
  let altered = new Set<number>();
  bars.forEach((bar, index) => {
    const previous = bars[index - 1];
    const before = previous && sameSignature(previous, bar) ? altered : new Set<number>();
    altered = new Set();
    const inForce = new Map<number, number>();
    const met = new Set<number>();
    for (const note of bar.events.filter(isPlayedNote)) {
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
        findings.push(tell(exercise, note.system, index, `${name} carries no reminder after the bar before.`));
      if (!due && !needed && note.sign !== undefined)
        findings.push(tell(exercise, note.system, index, `${name} carries a sign it does not need.`));
    }
  });
  return findings;
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
export function metre(exercise: PlacedExercise, bars: readonly PlayedBar[]): Finding[] {
  const findings: Finding[] = [];
  const { line, systems } = exercise;
  const length = barLength(line.exercise.metre);
  const time = systems[0]?.reading.time;
  if (time && (time.beats !== line.exercise.metre.beats || time.unit !== line.exercise.metre.unit)) {
    const what = `The time signature reads ${time.beats}/${time.unit} and should read ${metreText(line.exercise.metre)}.`;
    findings.push(tell(exercise, 0, 0, what));
  }
  bars.forEach((bar, index) => {
    const total = sum(bar.events.map((e) => e.duration));
    const system = bar.events[0]?.system ?? 0;
    if (!equal(total, length))
      findings.push(tell(exercise, system, index, `The bar holds ${text(total)} and should hold ${text(length)}.`));
  });
  const count = mul(line.duration, frac(length.d, length.n));
  if (!equal(count, frac(bars.length))) {
    const what = `The exercise has ${bars.length} bars and should have ${text(count)}.`;
    findings.push(tell(exercise, systems.length - 1, Math.max(0, bars.length - 1), what));
  }
  findings.push(...durations(exercise, bars), ...systems.flatMap((system) => crossingBeams(system, exercise, length)));
  return findings;
}

/** Each note lasts as long as it should: the first that does not is told. */
function durations(exercise: PlacedExercise, bars: readonly PlayedBar[]): Finding[] {
  const notes = exercise.line.events.filter(isLineNote);
  const drawn = sounded(bars).filter(isSoundedNote).slice(0, notes.length);
  const wrong = drawn.findIndex(({ duration }, i) => !equal(at(notes, i).duration, duration));
  if (wrong < 0) return [];
  const { system, bar, duration } = at(drawn, wrong);
  return [tell(exercise, system, bar, `Note ${wrong + 1} lasts ${text(duration)} and should last ${text(at(notes, wrong).duration)}.`)];
}

/** When the events of a system begin in their bars. */
function onsetsOf({ events }: SystemReading, length: Fraction, ratios: Ratios): Fraction[] {
  const onsets: Fraction[] = [];
  let bar: number | undefined;
  let now = ZERO;
  for (const event of events) {
    if (event.bar !== bar) now = ZERO;
    bar = event.bar;
    onsets.push(now);
    now = add(now, drawnDuration(event, false, length, ratios));
  }
  return onsets;
}

/** A beam across a border of the metre. Tuplets are groups by themselves. */
function crossingBeams(placed: PlacedSystem, exercise: PlacedExercise, length: Fraction): Finding[] {
  const { reading } = placed;
  const onsets = onsetsOf(reading, length, ratiosOf(exercise.line));
  return reading.groups.flatMap((group) => {
    const notes = group.notes.map((i) => at(reading.events, i)).filter((e): e is ReadNote => e.kind === 'note');
    const bar = notes[0]?.bar ?? 0;
    if (notes.some((n) => n.bar !== bar)) return [systemFinding(placed, bar, 'A beam crosses a barline.')];
    if (notes.every((n) => n.tuplet !== undefined)) return [];
    const [from, to] = [at(onsets, first(group.notes)), at(onsets, last(group.notes))];
    const crossed = beamBorders(notes, exercise).find((border) => compare(from, border) < 0 && compare(border, to) <= 0);
    return crossed ? [systemFinding(placed, bar, `A beam crosses the beat at ${text(mod(crossed, length))} of the bar.`)] : [];
  });
}

export const REPLAY: Rule = {
  number: 6,
  id: 'replay',
  title: 'What is printed, read back, is what is to be played',
  check: { exercise: ({ exercise, bars }) => replayTest(exercise, bars) },
};

export const COURTESIES: Rule = {
  number: 7,
  id: 'courtesies',
  title: 'Every needed reminder is printed and no other',
  check: { exercise: ({ exercise, bars }) => courtesies(exercise, bars) },
};

export const METRE: Rule = {
  number: 15,
  id: 'metre',
  title: 'Bars are full and beams show the beat',
  check: { exercise: ({ exercise, bars }) => metre(exercise, bars) },
};
