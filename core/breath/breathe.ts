/** A line with the breaths of one player: what is printed over the notes and under the exercise. */
import { good, type Result } from '../base/issue.js';
import type { Line } from '../player/line.js';
import { type BreathMark, type Ladder, ladder, ladderWords } from './ladder.js';
import type { LungTime } from './lung-time.js';
import type { BreathOptions } from './plan.js';
import { tempoRungs } from './tempo.js';

export type BreathedExercise = {
  readonly ladder: Ladder;
  /** Of the working tempo, the slowest of the exercise. */
  readonly marks: readonly BreathMark[];
  /** `♩ 60: 5 breaths · 84: 3 · 120: 1`. */
  readonly words: string;
};

/** Rungs of a printed ladder: as many as fit one line under an exercise. */
const PRINTED_RUNGS = 4;

/**
 * Breaths from the exercise's first tempo to its last. Undefined for an exercise without a tempo: nothing can be said then.
 * Where the air lasts at no tempo of the exercise the result is good and undefined too, with a warning that names the note.
 */
export function breatheExercise(line: Line, lung: LungTime, options: BreathOptions): Result<BreathedExercise | undefined> {
  const { tempo } = line.exercise;
  if (!tempo) return good(undefined);
  const rungs = tempoRungs(tempo.from, tempo.to, PRINTED_RUNGS);
  if (!rungs.ok) return rungs;
  const found = ladder(line, tempo.beat, rungs.value, lung, options);
  if (!found.ok)
    return good(
      undefined,
      found.issues.map((issue) => ({ ...issue, severity: 'warning' })),
    );
  return good({ ladder: found.value, marks: found.value.marks, words: ladderWords(found.value) }, found.issues);
}
