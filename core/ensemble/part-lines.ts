/** Lines from the plan of an ensemble: a part as its player reads it, and the same part at concert pitch for a score. */

import { assert, type Result } from '../base/issue.js';
import type { Exercise } from '../exercise/exercise.js';
import { keyId, planRoute } from '../exercise/route.js';
import { printedKey, type Sung, sungTones } from '../player/fit.js';
import type { Line } from '../player/line.js';
import type { Clef, Instrument, Player, SpellingPreference } from '../player/player.js';
import { asPlayed, type Chosen, lineFrom } from '../player/realise.js';
import { writtenKey } from '../player/spelling.js';
import type { Interval } from '../theory/interval.js';
import type { Key } from '../theory/key.js';
import { midi, type Pitch, type PitchClass, transpose } from '../theory/pitch.js';
import { commonRoute, type ExercisePlan, type PartPlan, plannedPlayer } from './exercise-plan.js';

/** The pitch of this class with this MIDI key number. */
function pitchAt(tone: PitchClass, key: number): Pitch {
  const low = midi({ ...tone, octave: 0 });
  const octave = (key - low) / 12;
  assert(Number.isInteger(octave), 'a root is an octave of its tonic');
  return { letter: tone.letter, alter: tone.alter, octave };
}

const ROOT: readonly Sung[] = [{ interval: { steps: 0, semitones: 0 }, degree: '1' }];

function lineOf(exercise: Exercise, player: Player, plan: ExercisePlan, part: PartPlan, shift: number): Result<Line> {
  const route = commonRoute(exercise, plan);
  const chosen = route.statements.map((statement, i): Chosen => {
    const id = keyId(statement.key);
    const key = writtenKey(printedKey(exercise, statement.key), player);
    const held = part.held.includes(id);
    const turned = plan.turned[id];
    const tones = held ? ROOT : asPlayed(turned ?? sungTones(exercise, statement.key.mode), statement);
    return {
      statement,
      writtenKey: key,
      root: pitchAt(key.tonic, (part.roots[i] as number) + shift),
      tones,
      turned: !held && turned !== undefined,
      held,
    };
  });
  const all = planRoute(exercise, plan.from).statements.filter(({ key }) => plan.leftOut.includes(keyId(key)));
  const leftOut = [...new Map(all.map(({ key }) => [keyId(key), writtenKey(printedKey(exercise, key), player)])).values()];
  return lineFrom(exercise, player, route, chosen, leftOut);
}

/** The part of one chair. Issue `closing-note-outside-compass` at ['ending']. */
export function partLine(exercise: Exercise, player: Player, plan: ExercisePlan, part: PartPlan): Result<Line> {
  return lineOf(exercise, plannedPlayer(player, part), plan, part, 0);
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

/** The part of one chair as a concert score shows it: the same sounds, spelled in the concert key. */
export function concertLine(
  exercise: Exercise,
  player: Player,
  plan: ExercisePlan,
  part: PartPlan,
  spelling: SpellingPreference,
): Result<Line> {
  const own = plannedPlayer(player, part);
  return lineOf(exercise, concertPlayer(own, spelling), plan, part, concertShift(own.instrument));
}

/** Concert keys of the statements of an ensemble, as spelled in a score. */
export function concertKeys(exercise: Exercise, plan: ExercisePlan, spelling: SpellingPreference, anyone: Player): Key[] {
  const reader = { ...anyone, spelling, instrument: { ...anyone.instrument, transposition: { steps: 0, semitones: 0 } } };
  return commonRoute(exercise, plan).statements.map(({ key }) => writtenKey(printedKey(exercise, key), reader));
}
