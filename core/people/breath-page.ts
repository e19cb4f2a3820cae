/** The page about breathing in a student's booklet. Markdown. */
import { CAUTIONS, IN_TIME, MARKS_ARE_SUGGESTIONS, MEASURE_YOUR_OWN } from '../breath/cautions.js';

const FOUND = `
A comma above the staff is a place to breathe. The commas were computed for your own breath at the tempo that you play now, so
that the air lasts from each to the next. A comma in parentheses falls away at your goal. The line under an exercise counts the
breaths at each tempo on the way there.
`.trim();

/** `words` is the wording of the student's lung time. */
export function bookletBreathingPage(words: string): string {
  return [
    FOUND,
    `Playing time from one breath: ${words}. A number that was estimated may be wrong by nearly half or double.`,
    IN_TIME,
    MARKS_ARE_SUGGESTIONS,
    '## Your own long tone',
    MEASURE_YOUR_OWN,
    '## Take care',
    CAUTIONS,
  ].join('\n\n');
}
