/** One exercise as it sounds, in seconds and hertz: what a player of tones needs to know. */

import { bad, error, good, type Issue, type Result } from '../../core/base/issue.js';
import type { Workshop } from '../../core/build/workshop.js';
import { perform } from '../../core/output/sound/performance.js';
import { toNumber } from '../../core/theory/fraction.js';
import { beatsOf, ladderOf, lineInFocus, planFor } from './show.js';
import type { PerformAsk, Performance } from './views.js';

const noSuchExercise = (): Issue =>
  error(
    'exercise-not-shown',
    [],
    'This exercise cannot be played by this instrument as it stands; mend its faults, or choose another instrument.',
  );

/** MIDI key number → hertz, equal temperament, A4 = 440 Hz (ISO 16). */
export const hertzOf = (key: number): number => 440 * 2 ** ((key - 69) / 12);

/** Where no breath plan can be made the line sounds without breaths, and the issue says why. */
export function performExercise(ask: PerformAsk, shop: Workshop): Result<Performance> {
  const read = shop.read(ask.source);
  const index = read.editions[ask.edition];
  const set = index === undefined ? undefined : shop.set(read, index);
  const found = set?.ok ? lineInFocus(read, set.value, ask.focus) : undefined;
  if (!found) return bad(noSuchExercise());
  const { line, id } = found;
  const beats = beatsOf(line, ask.bpm);
  const plan = ask.breaths ? planFor(line, ask.bpm, ask.breather, ask.manner) : undefined;
  const performed = perform(line, { tempo: beats, click: true, countIn: 1, ...(plan?.ok ? { breaths: plan.value } : {}) });
  if (!performed.ok) return performed;
  const { notes, clicks, start, duration, secondsPerWhole } = performed.value;
  const zero = toNumber(start) * secondsPerWhole;
  const seconds = (whole: number) => whole * secondsPerWhole - zero;
  const at = clicks.map(({ onset, strong }) => ({ at: seconds(toNumber(onset)), strong }));
  return good({
    exercise: id,
    bpm: beats.bpm,
    ladder: ladderOf(line),
    notes: notes.map(({ event, key, onset, length }) => ({
      event,
      start: seconds(toNumber(onset)),
      length: length * secondsPerWhole,
      hertz: hertzOf(key),
    })),
    clicks: at.filter((click) => click.at >= -1e-9),
    countIn: at.filter((click) => click.at < -1e-9),
    seconds: seconds(toNumber(duration)),
    issue: plan && !plan.ok ? plan.issues[0] : undefined,
  });
}
