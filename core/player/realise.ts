/** Realising: an exercise as one player plays it, every note with its pitch and its exact time. */

import { assert, bad, error, good, type Issue, note, type Result } from '../base/issue.js';
import { at } from '../base/list.js';
import type { Exercise } from '../exercise/exercise.js';
import { keyId, planRoute, type Route, type Statement } from '../exercise/route.js';
import { add, div, equal, type Fraction, sub, ZERO } from '../theory/fraction.js';
import { UNISON } from '../theory/interval.js';
import type { ConcertKey } from '../theory/key.js';
import { type Key, keyText, transposeKey } from '../theory/key.js';
import { barLength, metreText } from '../theory/metre.js';
import { chroma, midi, type Pitch, type PitchClass, transpose } from '../theory/pitch.js';
import { compassText, inCompass } from './compass.js';
import {
  fitKey,
  type KeyFit,
  listText,
  lowestRoot,
  misfitIssue,
  type Option,
  printedKey,
  type Sung,
  spanOf,
  sungTones,
  turnKey,
} from './fit.js';
import type { Line, LineEvent, PlacedStatement } from './line.js';
import type { Compass, Player } from './player.js';
import { planRegister, rootsNear } from './register-plan.js';
import { simplified, soundingChroma, writtenKey } from './spelling.js';
import { type Timed, timeLine, tupletAcrossBarline } from './timing.js';

/** Chroma above concert C of the key that the route begins on. */
export function firstChroma(exercise: Exercise, player: Player): number {
  const { start, order } = exercise;
  if (start.kind === 'concert') return chroma(start.key);
  if (start.kind === 'written') return soundingChroma(chroma(start.key), player);
  const span = spanOf(sungTones(exercise, order.keys[0]?.mode ?? 'major'));
  return soundingChroma(lowestRoot(player, span), player);
}

type Plan = { readonly route: Route; readonly fits: ReadonlyMap<string, KeyFit>; readonly leftOut: readonly Key[] };

/** The route with a fit for each of its keys, after the exercise's remedy for misfits. */
function planKeys(exercise: Exercise, player: Player, without: ReadonlySet<string>): Result<Plan> {
  const from = firstChroma(exercise, player);
  const route = planRoute(exercise, from, without);
  const keys = new Map(route.statements.map(({ key }) => [keyId(key), key]));
  const fits = new Map([...keys].map(([id, key]) => [id, fitKey(exercise, key, player)]));
  const misfits = [...fits].filter(([, fit]) => fit.options.length === 0);
  if (misfits.length === 0) return good({ route, fits, leftOut: [] });
  const names = listText([...new Set(misfits.map(([, fit]) => keyText(fit.writtenKey)))]);
  const told = (code: string, what: string): Issue =>
    note(code, ['figure'], `The exercise "${exercise.title || exercise.id}" ${what} for ${player.instrument.name} in written ${names}.`);

  if (exercise.misfit.kind === 'leave-out' && misfits.length < fits.size) {
    const leftOut = misfits.map(([, fit]) => fit.writtenKey);
    const shorter = planRoute(exercise, from, new Set([...without, ...misfits.map(([id]) => id)]));
    return good({ route: shorter, fits, leftOut }, [told('keys-left-out', 'is left out')]);
  }
  if (exercise.misfit.kind === 'turn') {
    for (const [id, fit] of misfits) fits.set(id, turnKey(exercise, fit, player));
    const still = [...fits.values()].filter((fit) => fit.options.length === 0);
    if (still.length === 0) return good({ route, fits, leftOut: [] }, [told('figure-turned', 'turns at the limit of the compass')]);
    return bad(misfitIssue(exercise, player, still));
  }
  return bad(
    misfitIssue(
      exercise,
      player,
      misfits.map(([, fit]) => fit),
    ),
  );
}

/** With misfit `level`, a player for whom some key does not fit gets the compass of that level for this exercise. */
function planWithRemedy(exercise: Exercise, player: Player, without: ReadonlySet<string>): { plan: Result<Plan>; player: Player } {
  const plan = planKeys(exercise, player, without);
  if (plan.ok || exercise.misfit.kind !== 'level') return { plan, player };
  const wider = { ...player, compass: player.instrument.compass[exercise.misfit.level] };
  return { plan: planKeys(exercise, wider, without), player: wider };
}

/** The tones in the order a statement plays them. */
export const asPlayed = (tones: readonly Sung[], statement: Statement): readonly Sung[] =>
  statement.direction === 'up' ? tones : [...tones].reverse();

/** Key numbers of the notes of a statement in the order played. */
export function keyNumbers(option: Option, statement: Statement): number[] {
  const root = midi(option.root);
  return asPlayed(option.tones, statement).flatMap((tone) => (tone ? [root + tone.interval.semitones] : []));
}

/** The octave of a tone nearest to a note, inside the compass; of two as near, the lower. */
function nearest(tone: PitchClass, to: Pitch, compass: Compass): Pitch | undefined {
  const far = (pitch: Pitch): number => Math.abs(midi(pitch) - midi(to));
  const [best] = rootsNear(tone, compass)
    .filter((pitch) => inCompass(pitch, compass))
    .sort((a, b) => far(a) - far(b) || midi(a) - midi(b));
  return best;
}

/** Written pitch of the closing note: the root just played, if that is the note; else the nearest octave of it. */
function closingPitch(ending: ConcertKey, exercise: Exercise, player: Player, last: Chosen, lastNote: Pitch): Result<Pitch> {
  const { tonic } = writtenKey(printedKey(exercise, ending), player);
  if (exercise.ending === 'long-root' && inCompass(last.root, player.compass)) return good(last.root);
  const found = nearest(tonic, lastNote, player.compass);
  if (found) return good(found);
  return bad(
    error(
      'closing-note-outside-compass',
      ['ending'],
      `The closing note of "${exercise.title || exercise.id}" lies outside the compass of ${player.instrument.name} (${compassText(player.compass)}). Choose another ending, or a wider compass.`,
    ),
  );
}

/** A statement with its placement: the written pitch of degree 1, and the tones in the order played. */
export type Chosen = {
  readonly statement: Statement;
  readonly writtenKey: Key;
  readonly root: Pitch;
  readonly tones: readonly Sung[];
  readonly turned: boolean;
  /** The root is held for the whole statement instead of the figure. */
  readonly held: boolean;
};

function choose(exercise: Exercise, plan: Plan, player: Player): Chosen[] {
  const stops = plan.route.statements.map((statement) => {
    const fit = plan.fits.get(keyId(statement.key));
    assert(fit, 'every key of the route was fitted');
    return { statement, fit };
  });
  const register = planRegister(
    stops.map(({ statement, fit }) => fit.options.map((option) => keyNumbers(option, statement))),
    { contour: exercise.contour, compass: player.compass, fromLowest: exercise.start.kind === 'lowest' },
  );
  return stops.map(({ statement, fit }, i) => {
    const option = at(fit.options, at(register, i));
    const { writtenKey, turned } = fit;
    return { statement, writtenKey, root: option.root, tones: asPlayed(option.tones, statement), turned, held: false };
  });
}

/** The slots of a held statement made one, up to its last tone and the end of its tuplet; rests that fill up after it stay. */
function withHeld(timed: readonly Timed[], chosen: readonly Chosen[]): readonly Timed[] {
  if (!chosen.some((stop) => stop.held)) return timed;
  const merged = chosen.flatMap(({ held }, s) => {
    const own = timed.filter((slot) => slot.statement === s);
    if (!held) return own;
    let last = own.findLastIndex((slot) => slot.tone !== undefined);
    while (own[last + 1]?.value.tuplet) last++;
    const first = at(own, 0);
    const end = at(own, last);
    const duration = sub(add(end.onset, end.duration), first.onset);
    const { tuplet: _, ...plain } = first.value;
    return [{ statement: s, tone: 0, onset: first.onset, duration, value: plain }, ...own.slice(last + 1)];
  });
  return [...merged, ...timed.filter((slot) => slot.statement === chosen.length)];
}

const HELD: Sung = { interval: UNISON, degree: '1' };

/** Gives every stretch of time its note or rest. */
function eventsOf(
  timed: readonly Timed[],
  chosen: readonly Chosen[],
  closing: Pitch | undefined,
  exercise: Exercise,
  player: Player,
): LineEvent[] {
  let end = ZERO;
  return timed.map((slot, index): LineEvent => {
    assert(equal(slot.onset, end), 'events follow one another without a gap');
    end = add(slot.onset, slot.duration);
    const { statement, onset, duration, value } = slot;
    const stop = chosen[statement];
    const sung = stop && slot.tone !== undefined ? stop.tones[slot.tone] : undefined;
    const tone = stop?.held && slot.tone !== undefined ? HELD : sung;
    const pitch = stop ? tone && transpose(stop.root, tone.interval) : closing;
    if (!pitch) return { kind: 'rest', index, statement, onset, duration, value };
    const written = exercise.simpleSpelling ? simplified(pitch) : pitch;
    return {
      kind: 'note',
      index,
      statement,
      tone: slot.tone ?? 0,
      degree: tone?.degree ?? '1',
      written,
      sounding: transpose(written, player.instrument.transposition),
      onset,
      duration,
      value,
    };
  });
}

function placed(chosen: readonly Chosen[], timed: readonly Timed[], duration: Fraction, player: Player): PlacedStatement[] {
  const onsets: Fraction[] = [];
  for (const slot of timed) onsets[slot.statement] ??= slot.onset;
  return chosen.map(({ statement, writtenKey, root, turned, held }, i) => {
    const onset = at(onsets, i);
    const { index, pass, key, direction, keyIndex, set } = statement;
    return {
      index,
      pass,
      key,
      direction,
      keyIndex,
      set,
      writtenKey,
      soundingKey: transposeKey(writtenKey, player.instrument.transposition),
      root,
      onset,
      duration: sub(onsets[i + 1] ?? duration, onset),
      turned,
      held,
    };
  });
}

function cutTuplet({ title, metre }: Exercise, { onset, value }: Timed): Issue {
  const past = div(onset, barLength(metre));
  const bar = Math.floor(past.n / past.d) + 1;
  const { actual = 3, normal = 2 } = value.tuplet ?? {};
  return error(
    'tuplet-across-barline',
    ['rhythm'],
    `In the exercise "${title}" a tuplet of ${actual} in the time of ${normal} would run over the end of bar ${bar} in ${metreText(metre)}; choose a metre or a rhythm in which tuplets stay inside the bar, or let each statement begin a bar.`,
  );
}

/**
 * The line when the placement of every statement is known: closing note and time. Issue `closing-note-outside-compass`
 * at ['ending'].
 */
export function lineFrom(
  exercise: Exercise,
  player: Player,
  route: Route,
  chosen: readonly Chosen[],
  leftOut: readonly Key[],
): Result<Line> {
  const last = chosen.at(-1);
  assert(last, 'a route has a statement');
  let closing: Pitch | undefined;
  if (route.endingKey) {
    const tone = last.held ? HELD : last.tones.findLast((one) => one !== undefined);
    assert(tone, 'a figure has a note');
    const found = closingPitch(route.endingKey, exercise, player, last, transpose(last.root, tone.interval));
    if (!found.ok) return found;
    closing = found.value;
  }
  const timed = timeLine(exercise, chosen.length, closing !== undefined);
  const cut = tupletAcrossBarline(timed.events, exercise.metre);
  if (cut) return bad(cutTuplet(exercise, cut));
  const events = withHeld(timed.events, chosen);
  return good({
    exercise,
    player,
    statements: placed(chosen, events, timed.duration, player),
    events: eventsOf(events, chosen, closing, exercise, player),
    turnaround: route.turnaround,
    duration: timed.duration,
    leftOut,
  });
}

/**
 * The line of an exercise for a player: first key, route, spelling, register, then time. `without` names keys (by
 * `keyId`) that are not to be played at all. Issues: `figure-too-wide` at ['figure'] when the figure does not fit in some
 * key and no remedy helps, `closing-note-outside-compass` at ['ending']; notes `keys-left-out` and `figure-turned` when a
 * remedy changed the line. With misfit `level` the line's player has the compass of that level if it was needed.
 */
export function realise(exercise: Exercise, reader: Player, without: ReadonlySet<string> = new Set()): Result<Line> {
  const { plan: planned, player } = planWithRemedy(exercise, reader, without);
  if (!planned.ok) return planned;
  const { route, leftOut } = planned.value;
  const line = lineFrom(exercise, player, route, choose(exercise, planned.value, player), leftOut);
  return line.ok ? good(line.value, planned.issues) : line;
}
