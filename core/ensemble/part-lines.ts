/** Lines from the plan of an ensemble: a part as its player reads it, and the same part at concert pitch for a score. */

import { assert, good, type Issue, isError, type Result } from '../base/issue.js';
import { zip } from '../base/list.js';
import type { Exercise } from '../exercise/exercise.js';
import { keyId, planRoute } from '../exercise/route.js';
import { printedKey, sungTones } from '../player/fit.js';
import type { Line } from '../player/line.js';
import type { Clef, Instrument, Player, SpellingPreference } from '../player/player.js';
import { asPlayed, type Chosen, lineFrom } from '../player/realise.js';
import { writtenKey } from '../player/spelling.js';
import type { Interval } from '../theory/interval.js';
import type { Key } from '../theory/key.js';
import { midi, type Pitch, type PitchClass, transpose } from '../theory/pitch.js';
import { type PartPlan, type PlannedPart, plannedPlayer, ROOT, type SharedPlan, sharedRoute } from './part-plan.js';

/** The pitch of this class with this MIDI key number. */
function pitchAt(tone: PitchClass, key: number): Pitch {
  const low = midi({ ...tone, octave: 0 });
  const octave = (key - low) / 12;
  assert(Number.isInteger(octave), 'a root is an octave of its tonic');
  return { letter: tone.letter, alter: tone.alter, octave };
}

/** The line of a plan for this reader, `shift` semitones above the roots of the plan. */
function lineOf(exercise: Exercise, player: Player, { shared, roots, held }: PartPlan, shift: number): Result<Line> {
  const route = sharedRoute(exercise, shared);
  const chosen = zip(route.statements, roots).map(([statement, root]): Chosen => {
    const id = keyId(statement.key);
    const key = writtenKey(printedKey(exercise, statement.key), player);
    const holds = held.includes(id);
    const turned = shared.turned[id];
    return {
      statement,
      writtenKey: key,
      root: pitchAt(key.tonic, root + shift),
      tones: holds ? ROOT : asPlayed(turned ?? sungTones(exercise, statement.key.mode), statement),
      turned: !holds && turned !== undefined,
      held: holds,
    };
  });
  const all = planRoute(exercise, shared.from).statements.filter(({ key }) => shared.leftOut.includes(keyId(key)));
  const leftOut = [...new Map(all.map(({ key }) => [keyId(key), writtenKey(printedKey(exercise, key), player)])).values()];
  return lineFrom(exercise, player, route, chosen, leftOut);
}

/** The part as its chair reads it. Issue `closing-note-outside-compass` at ['ending']. */
export const partLine = (exercise: Exercise, { chair, plan }: PlannedPart): Result<Line> =>
  lineOf(exercise, plannedPlayer(chair.player, plan), plan, 0);

/** A part and its line. */
export type PlayedPart = PlannedPart & { readonly line: Line };

/** The parts with their lines. Fails with the issues of all whose line cannot be made. */
export function playedParts(exercise: Exercise, parts: readonly PlannedPart[]): Result<readonly PlayedPart[]> {
  const played: PlayedPart[] = [];
  const issues: Issue[] = [];
  for (const part of parts) {
    const line = partLine(exercise, part);
    issues.push(...line.issues);
    if (line.ok) played.push({ ...part, line: line.value });
  }
  return issues.some(isError) ? { ok: false, issues } : good(played, issues);
}

/**
 * Semitones from the part's written pitch to the pitch at which a concert score writes it. Whole octaves stay as they are,
 * so that piccolo, glockenspiel and double bass stand where their players read them (W3C MusicXML 4.0, `concert-score`).
 */
export const concertShift = ({ transposition }: Instrument): number => (transposition.semitones % 12 === 0 ? 0 : transposition.semitones);

/** Middle of a compass below which a part is written in bass clef: G♯3, a third below middle C. (House choice.) */
const BASS_BELOW = 56;

/** Bass clef for what lies below middle C on the whole, so that few ledger lines are needed. (Common practice.) */
function concertClef(instrument: Instrument, middle: number): Clef {
  if (concertShift(instrument) === 0) return instrument.clef;
  return middle < BASS_BELOW ? 'bass' : 'treble';
}

/** The chair as the reader of a concert score sees it: nothing transposed but octaves. */
export function concertPlayer(player: Player, spelling: SpellingPreference): Player {
  const { instrument, compass } = player;
  const shift = concertShift(instrument);
  const interval: Interval = shift === 0 ? { steps: 0, semitones: 0 } : instrument.transposition;
  const low = transpose(compass.low, interval);
  const high = transpose(compass.high, interval);
  const middle = (midi(low) + midi(high)) / 2;
  const rest = instrument.transposition.semitones - shift;
  return {
    ...player,
    compass: { low, high },
    spelling,
    instrument: {
      ...instrument,
      clef: concertClef(instrument, middle),
      transposition: { steps: (rest / 12) * 7, semitones: rest },
      pitchedIn: undefined,
    },
  };
}

/** The part as a concert score shows it: the same sounds, spelled in the concert key. */
export function concertLine(exercise: Exercise, { chair, plan }: PlannedPart, spelling: SpellingPreference): Result<Line> {
  const own = plannedPlayer(chair.player, plan);
  return lineOf(exercise, concertPlayer(own, spelling), plan, concertShift(own.instrument));
}

/** Concert keys of the statements of an exercise, as spelled in a score; `anyone` of the ensemble. */
export function concertKeys(exercise: Exercise, shared: SharedPlan, spelling: SpellingPreference, anyone: Player): Key[] {
  const reader = { ...anyone, spelling, instrument: { ...anyone.instrument, transposition: { steps: 0, semitones: 0 } } };
  return sharedRoute(exercise, shared).statements.map(({ key }) => writtenKey(printedKey(exercise, key), reader));
}
