/** A line as a reader's edition sounds: in MIDI, in practice sound, in the window's playback. */
import { good, type Issue, type Result } from '../base/issue.js';
import { type BreathSettings, heardAt } from '../breath/policy.js';
import { type Beats, tempoOf, tempoRungs } from '../exercise/tempo.js';
import { type Performance, type PerformanceOptions, perform } from '../output/sound/performance.js';
import type { Line } from '../player/line.js';

export type SoundWish = Pick<PerformanceOptions, 'countIn' | 'click'> & {
  /** Beats a minute; the working tempo of the exercise when not said. */
  readonly bpm?: number;
};

/** The line at one tempo, with the breaths that are planned for it; a warning where it must go through without. */
function performedAt(line: Line, tempo: Beats, breath: BreathSettings, { countIn, click }: SoundWish): Result<Performance> {
  const plan = heardAt(line, tempo, breath);
  if (!plan.ok) return plan;
  const run = perform(line, { tempo, countIn, click, ...(plan.value ? { breaths: plan.value } : {}) });
  return run.ok ? good(run.value, plan.issues) : run;
}

/** The line as it sounds for a reader who breathes like this. */
export const performed = (line: Line, breath: BreathSettings, wish: SoundWish = {}): Result<Performance> =>
  performedAt(line, tempoOf(line.exercise, wish.bpm), breath, wish);

/** The same in so many runs, from the tempo that is wished to the fastest of the exercise. */
export function performedFaster(line: Line, breath: BreathSettings, wish: SoundWish, runs: number): Result<readonly Performance[]> {
  const { beat, bpm } = tempoOf(line.exercise, wish.bpm);
  const tempos = tempoRungs(bpm, Math.max(bpm, line.exercise.tempo?.to ?? bpm), runs);
  if (!tempos.ok) return tempos;
  const issues: Issue[] = [];
  const all: Performance[] = [];
  for (const rung of tempos.value) {
    const run = performedAt(line, { beat, bpm: rung }, breath, wish);
    if (!run.ok) return run;
    issues.push(...run.issues);
    all.push(run.value);
  }
  return good(all, issues);
}
