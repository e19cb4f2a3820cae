/**
 * The one policy for breath. Whoever reads a line (an edition, a student, a chair, the window's slider) states how breaths
 * are taken and for whose lungs; from that and the line come the air, the plan at a tempo, the ladder, the marks and the
 * words. Everything that prints, plays or writes breaths asks here.
 */
import { bad, good, type Issue, isError, type Result } from '../base/issue.js';
import { type Beats, tempoRungs } from '../exercise/tempo.js';
import type { Line } from '../player/line.js';
import type { Instrument } from '../player/player.js';
import { type Fraction, toNumber, ZERO } from '../theory/fraction.js';
import { type BreathMark, type Ladder, ladder } from './ladder.js';
import { type Breather, type LungTime, lungTime } from './lung-time.js';
import { type BreathPlan, breathPlan, type PlayedBreaths } from './plan.js';
import { CATCH_BREATH, stolenFrom } from './reservoir.js';
import { ladderWords } from './words.js';

/** How breaths are computed and printed for one reader. */
export type BreathSettings = {
  readonly print: 'none' | 'marks' | 'marks-and-ladders';
  /** The note before gives up the time, or the music stops for `added` (one beat when undefined). */
  readonly manner: 'in-time' | 'added-beat';
  readonly added: Fraction | undefined;
  /** For whom; nothing known is an adult. */
  readonly breather: Breather;
};

/** Marks and ladders, in time, for an adult of whom nothing is known. */
export const BREATH_DEFAULT: BreathSettings = { print: 'marks-and-ladders', manner: 'in-time', added: undefined, breather: {} };

/** Marks in time for this person: how a booklet's and an ensemble's breaths are taken. */
export const inTimeFor = (breather: Breather): BreathSettings => ({ ...BREATH_DEFAULT, breather });

/** What is printed of an exercise's breaths: the marks over the line and the words under it. */
export type PrintedBreaths = { readonly marks: readonly BreathMark[]; readonly words: string };

/** An exercise with the breaths of one player. The marks are those of the working tempo, the slowest that has a plan. */
export type BreathedExercise = PrintedBreaths & { readonly ladder: Ladder };

/** The breaths of everything that one reader gets. */
export type ReaderBreaths<Exercise extends PrintedBreaths = PrintedBreaths> = {
  /** For whom they were computed: the air at no particular dynamic. */
  readonly lung: LungTime;
  readonly manner: BreathSettings['manner'];
  readonly added: Fraction | undefined;
  /** Print the words under each exercise. */
  readonly ladders: boolean;
  /** By exercise id. */
  readonly exercises: ReadonlyMap<string, Exercise>;
  /** Markdown of the page about breathing, where it is not that of an edition. */
  readonly text?: string;
};

/** Rungs of a ladder: as many as fit one line under an exercise. */
const RUNGS = 4;

/** The air of a reader at no particular dynamic; undefined where nobody breathes or no breaths are wanted. */
export function airOf(instrument: Instrument, { print, breather }: BreathSettings): Result<LungTime | undefined> {
  return print === 'none' ? good(undefined) : lungTime(breather, instrument);
}

/** The air for one line: at the dynamic of its exercise. */
export function airFor({ exercise: { dynamic }, player }: Line, { print, breather }: BreathSettings): Result<LungTime | undefined> {
  return print === 'none' ? good(undefined) : lungTime(breather, player.instrument, { dynamic });
}

/** No breaths, and a warning instead of an error, where the air runs out wherever one breathes. */
function softened(issues: readonly Issue[]): Result<undefined> {
  const told = issues.map((issue): Issue => (issue.code === 'air-runs-out' ? { ...issue, severity: 'warning' } : issue));
  return told.some(isError) ? bad(...told) : good(undefined, told);
}

/** The plan of a line at one tempo; undefined where nobody breathes or no breaths are wanted. Fails as `breathPlan` does. */
export function planAt(line: Line, tempo: Beats, settings: BreathSettings): Result<BreathPlan | undefined> {
  const air = airFor(line, settings);
  if (!air.ok) return air;
  return air.value ? breathPlan(line, tempo, air.value, settings) : good(undefined);
}

/** The same to be heard: where the air runs out wherever one breathes, the line is played through, and a warning says so. */
export function heardAt(line: Line, tempo: Beats, settings: BreathSettings): Result<BreathPlan | undefined> {
  const plan = planAt(line, tempo, settings);
  return plan.ok ? plan : softened(plan.issues);
}

/** Marks that one of several players reads, as they sound: in time, out of the note before, which may be shorter than others have it. */
export function heardMarks(
  line: Line,
  { marks, lung, tempo }: { marks: readonly BreathMark[]; lung: LungTime; tempo: Beats },
): PlayedBreaths {
  const breaths = marks.map((mark) => {
    const note = line.events[mark.afterEvent];
    const seconds = note ? (toNumber(note.duration) / toNumber(tempo.beat)) * (60 / tempo.bpm) : 0;
    return { ...mark, seconds: stolenFrom(seconds, mark.seconds, Math.max(lung.leastBreath, CATCH_BREATH)) };
  });
  return { tempo, manner: 'in-time', added: ZERO, breaths };
}

/** Tempos of the ladder of a line: from the slowest of its exercise to the fastest; only this one where it names none. */
export const ladderTempos = ({ exercise: { tempo } }: Line, { bpm }: Pick<Beats, 'bpm'>): Result<readonly number[]> =>
  tempoRungs(tempo?.from ?? bpm, tempo?.to ?? bpm, RUNGS);

/** The ladder of a line over these tempos; undefined where nobody breathes or no breaths are wanted. Fails as `ladder` does. */
export function ladderOf(
  line: Line,
  { beat }: Pick<Beats, 'beat'>,
  tempos: readonly number[],
  settings: BreathSettings,
): Result<Ladder | undefined> {
  const air = airFor(line, settings);
  if (!air.ok) return air;
  return air.value ? ladder(line, beat, tempos, air.value, settings) : good(undefined);
}

/**
 * What is printed of a line's breaths, with the ladder behind it. Undefined for an exercise without a tempo: nothing can be
 * said then. Where the air lasts at no tempo of the exercise it is undefined too, with a warning that names the note.
 */
export function breathsOf(line: Line, settings: BreathSettings): Result<BreathedExercise | undefined> {
  const { tempo } = line.exercise;
  if (!tempo) return good(undefined);
  const tempos = ladderTempos(line, { bpm: tempo.from });
  if (!tempos.ok) return tempos;
  const found = ladderOf(line, tempo, tempos.value, settings);
  if (!found.ok) return softened(found.issues);
  const { value } = found;
  return good(value && { ladder: value, marks: value.marks, words: ladderWords(value) }, found.issues);
}
