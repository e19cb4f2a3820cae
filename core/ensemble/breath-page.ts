/** The page "Breathing in this book" of a part: how the ensemble breathes. Markdown. */
import { CAUTIONS, IN_TIME, MEASURE_YOUR_OWN } from '../breath/page.js';

const TOGETHER = `
A comma above the staff is a place to breathe. In this ensemble all breathe together: the commas stand at the same places in
every part. They were computed for the shortest breath among the players, at the tempo named under each exercise, so nobody
runs out of air, and most could play on. Breathe with the others even so, for then everyone begins the next note together.
`.trim();

const BY_TURNS = `
A comma above the staff is a place to breathe. In this ensemble the players of a group breathe by turns: no two of them at the
same place, so that the sound of the group never stops. Every player has a copy of his own, and the copies differ in their
commas. Keep to yours. Leave the note before softly, breathe, and come in again softly in the middle of what the others play.
`.trim();

/** `words` is the wording of the lung time that counts for this part. */
export function ensembleBreathingPage(plan: 'together' | 'staggered', words: string): string {
  return [
    plan === 'together' ? TOGETHER : BY_TURNS,
    `Playing time from one breath: ${words}. The numbers behind an estimate are uncertain: it may be wrong by nearly half or double.`,
    IN_TIME,
    '## Your own long tone',
    MEASURE_YOUR_OWN,
    '## Take care',
    CAUTIONS,
  ].join('\n\n');
}
