/** Realising: an exercise as one player plays it, every note with its pitch and its exact time. */
import type { ConcertKey, Exercise } from '../exercise/exercise.js';
import { keyId, planRoute, type Route, type Statement } from '../exercise/route.js';
import { assert, bad, error, good, type Issue, note, type Result } from '../issue.js';
import { add, equal, type Fraction, sub, ZERO } from '../theory/fraction.js';
import { type Key, keyText, transposeKey } from '../theory/key.js';
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
import { type Timed, timeLine } from './timing.js';

/** Chroma above concert C of the key that the route begins on. */
function firstChroma(exercise: Exercise, player: Player): number {
  const { start, order } = exercise;
  if (start.kind === 'concert') return chroma(start.key);
  if (start.kind === 'written') return soundingChroma(chroma(start.key), player);
  const span = spanOf(sungTones(exercise, order.keys[0]?.mode ?? 'major'));
  return soundingChroma(lowestRoot(player, span), player);
}

type Plan = { readonly route: Route; readonly fits: ReadonlyMap<string, KeyFit>; readonly leftOut: readonly Key[] };

/** The route with a fit for each of its keys, after the exercise's remedy for misfits. */
function planKeys(exercise: Exercise, player: Player): Result<Plan> {
  const from = firstChroma(exercise, player);
  const route = planRoute(exercise, from);
  const keys = new Map(route.statements.map(({ key }) => [keyId(key), key]));
  const fits = new Map([...keys].map(([id, key]) => [id, fitKey(exercise, key, player)]));
  const misfits = [...fits].filter(([, fit]) => fit.options.length === 0);
  if (misfits.length === 0) return good({ route, fits, leftOut: [] });
  const names = listText([...new Set(misfits.map(([, fit]) => keyText(fit.writtenKey)))]);
  const told = (code: string, what: string): Issue =>
    note(code, ['figure'], `The exercise "${exercise.title || exercise.id}" ${what} for ${player.instrument.name} in written ${names}.`);

  if (exercise.misfit.kind === 'leave-out' && misfits.length < fits.size) {
    const leftOut = misfits.map(([, fit]) => fit.writtenKey);
    const shorter = planRoute(exercise, from, new Set(misfits.map(([id]) => id)));
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
function planWithRemedy(exercise: Exercise, player: Player): { plan: Result<Plan>; player: Player } {
  const plan = planKeys(exercise, player);
  if (plan.ok || exercise.misfit.kind !== 'level') return { plan, player };
  const wider = { ...player, compass: player.instrument.compass[exercise.misfit.level] };
  return { plan: planKeys(exercise, wider), player: wider };
}

/** The tones in the order a statement plays them. */
const asPlayed = (tones: readonly Sung[], statement: Statement): readonly Sung[] =>
  statement.direction === 'up' ? tones : [...tones].reverse();

/** Key numbers of the notes of a statement in the order played. */
function keyNumbers(option: Option, statement: Statement): number[] {
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
  if (exercise.ending === 'long-root' && inCompass(last.option.root, player.compass)) return good(last.option.root);
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

/** A statement with the placement that the register plan chose. */
type Chosen = { readonly statement: Statement; readonly fit: KeyFit; readonly option: Option; readonly tones: readonly Sung[] };

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
    const option = fit.options[register[i] as number] as Option;
    return { statement, fit, option, tones: asPlayed(option.tones, statement) };
  });
}

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
    const tone = stop && slot.tone !== undefined ? stop.tones[slot.tone] : undefined;
    const pitch = stop ? tone && transpose(stop.option.root, tone.interval) : closing;
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
  return chosen.map(({ statement, fit, option }, i) => {
    const onset = onsets[i] as Fraction;
    return {
      ...statement,
      writtenKey: fit.writtenKey,
      soundingKey: transposeKey(fit.writtenKey, player.instrument.transposition),
      root: option.root,
      onset,
      duration: sub(onsets[i + 1] ?? duration, onset),
      turned: fit.turned,
    };
  });
}

/**
 * The line of an exercise for a player: first key, route, spelling, register, then time. Issues: `figure-too-wide` at
 * ['figure'] when the figure does not fit in some key and no remedy helps, `closing-note-outside-compass` at
 * ['ending']; notes `keys-left-out` and `figure-turned` when a remedy changed the line. With misfit `level` the line's
 * player has the compass of that level if it was needed.
 */
export function realise(exercise: Exercise, reader: Player): Result<Line> {
  const { plan: planned, player } = planWithRemedy(exercise, reader);
  if (!planned.ok) return planned;
  const { route, leftOut } = planned.value;
  const chosen = choose(exercise, planned.value, player);
  const last = chosen.at(-1);
  assert(last, 'a route has a statement');
  let closing: Pitch | undefined;
  if (route.endingKey) {
    const tone = last.tones.findLast((one) => one !== undefined);
    assert(tone, 'a figure has a note');
    const found = closingPitch(route.endingKey, exercise, player, last, transpose(last.option.root, tone.interval));
    if (!found.ok) return found;
    closing = found.value;
  }
  const { events, duration } = timeLine(exercise, chosen.length, closing !== undefined);
  const line: Line = {
    exercise,
    player,
    statements: placed(chosen, events, duration, player),
    events: eventsOf(events, chosen, closing, exercise, player),
    turnaround: route.turnaround,
    duration,
    leftOut,
  };
  return good(line, planned.issues);
}
