/** One exercise as it sounds, in seconds and hertz: what a player of tones needs to know. */

import { bad, error, good, type Issue, type Result } from '../../../core/base/issue.js';
import type { BreathSettings } from '../../../core/breath/policy.js';
import type { Workshop } from '../../../core/build/workshop.js';
import { performed } from '../../../core/export/sound.js';
import { toNumber } from '../../../core/theory/fraction.js';
import type { Playback } from '../contract/answers/playback.js';
import type { Ask } from '../contract/questions.js';
import { settingsFor, temposShown } from './breath-view.js';
import { lineInFocus } from './exercise-view.js';

const noSuchExercise = (): Issue =>
  error(
    'exercise-not-shown',
    [],
    'This exercise cannot be played by this instrument as it stands; mend its faults, or choose another instrument.',
  );

/** MIDI key number → hertz, equal temperament, A4 = 440 Hz (ISO 16). */
export const hertzOf = (key: number): number => 440 * 2 ** ((key - 69) / 12);

/** Where no breath plan can be made the line sounds without breaths, and the issue says why. */
export function performExercise(ask: Ask<'perform'>, shop: Workshop): Result<Playback> {
  const read = shop.read(ask.source);
  const index = read.editions[ask.edition];
  const set = index === undefined ? undefined : shop.build(read, index);
  const found = set?.ok ? lineInFocus(read, set.value, ask.focus) : undefined;
  if (!set?.ok || !found) return bad(noSuchExercise());
  const { line, id } = found;
  const settings = settingsFor(set.value.spec, ask);
  const breath: BreathSettings = ask.breaths ? settings : { ...settings, print: 'none' };
  const wish = { click: true, countIn: 1, ...(ask.bpm === undefined ? {} : { bpm: ask.bpm }) };
  const run = performed(line, breath, wish);
  if (!run.ok) return run;
  const { tempo, notes, clicks, start, duration, secondsPerWhole } = run.value;
  const zero = toNumber(start) * secondsPerWhole;
  const seconds = (whole: number) => whole * secondsPerWhole - zero;
  const at = clicks.map(({ onset, strong }) => ({ at: seconds(toNumber(onset)), strong }));
  return good({
    exercise: id,
    bpm: tempo.bpm,
    ladder: temposShown(line, settings),
    notes: notes.map(({ event, key, onset, length }) => ({
      event,
      start: seconds(toNumber(onset)),
      length: length * secondsPerWhole,
      hertz: hertzOf(key),
    })),
    clicks: at.filter((click) => click.at >= -1e-9),
    countIn: at.filter((click) => click.at < -1e-9),
    seconds: seconds(toNumber(duration)),
    issue: run.issues[0],
  });
}
