/** Texts in Markdown for the page "Breathing in this book". No claim about health is made in any of them. */

export const BREATHING_TITLE = 'Breathing in This Book';

export const HOW_THE_MARKS_WERE_FOUND = `
A comma above the staff is a place to breathe. Every mark was computed: the notes up to it, at the tempo printed, last no
longer than the air of the player for whom this book was made. The marks stand where players like to breathe: first where
one pass turns into the next, then at the end of a key, then after a long note or before a leap, and inside a slur or a
beam only where the air would otherwise run out. At a rest there is no mark, because a rest is a breath already.

A comma in parentheses is needed at the first tempo and no longer at the last. The line under an exercise counts the
breaths at each tempo. Needing fewer of them as the tempo rises is the aim.
`.trim();

/** For whom: `words` is the wording of the lung time. */
export const forWhom = (player: string, words: string): string =>
  `The marks were computed for ${player}. Playing time from one breath: ${words}. No two players have the same air, and the numbers behind an estimate are uncertain: it may be wrong by nearly half or double.`;

export const MEASURE_YOUR_OWN = `
To measure your own long tone, sit or stand as you play, rested and warmed up. Breathe in comfortably, play one note in the
middle of your compass at *mezzo forte*, and let it last until the tone is no longer good; do not press out the rest. Take
the time. Do this three times with a pause of a minute or more between, and write down the longest. About two thirds of it
is a good length for a phrase. Measure again after some months.
`.trim();

export const MARKS_ARE_SUGGESTIONS = `
The marks are suggestions. Breathe earlier when you need to, and leave a breath out when you do not. Where your teacher
marks another place, take that place.
`.trim();

export const IN_TIME = `
Breathe in time: shorten the note before the comma, and begin the next note exactly where it is written.
`.trim();

/** `value` is the value added at each comma in words: `one beat`. */
export const addedBeat = (value: string): string =>
  `At a comma play the note before to its full length, stop for ${value}, and go on. Count the pause as an extra: it belongs to no bar, so bar numbers and beams stay as they are printed.`;

export const CAUTIONS = `
Stop when you feel dizzy, and rest until it has passed. Do not force the air, and do not hold it against a closed throat.
Take breaks. Ask a teacher when playing feels tight or tiring.

If you have a heart, lung or eye condition, are pregnant, or have had surgery, ask a physician before you practice long
tones or long phrases.

The numbers of seconds in this book serve to place breath marks. They are no medical measurement, say nothing about anyone's
health, and promise no effect on it.
`.trim();

/** The whole page, title included. */
export function breathingPage(player: string, lungWords: string, manner: 'in-time' | 'added-beat', added: string): string {
  return [
    `# ${BREATHING_TITLE}`,
    HOW_THE_MARKS_WERE_FOUND,
    forWhom(player, lungWords),
    manner === 'in-time' ? IN_TIME : addedBeat(added),
    MARKS_ARE_SUGGESTIONS,
    '## Your own long tone',
    MEASURE_YOUR_OWN,
    '## Take care',
    CAUTIONS,
  ].join('\n\n');
}

const FOR_A_STUDENT = `
A comma above the staff is a place to breathe. The commas were computed for your own breath at the tempo that you play now, so
that the air lasts from each to the next. A comma in parentheses falls away at your goal. The line under an exercise counts the
breaths at each tempo on the way there.
`.trim();

/** `words` is the wording of the student's lung time. */
export function bookletBreathingPage(words: string): string {
  return [
    FOR_A_STUDENT,
    `Playing time from one breath: ${words}. A number that was estimated may be wrong by nearly half or double.`,
    IN_TIME,
    MARKS_ARE_SUGGESTIONS,
    '## Your own long tone',
    MEASURE_YOUR_OWN,
    '## Take care',
    CAUTIONS,
  ].join('\n\n');
}

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
