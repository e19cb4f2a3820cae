/** The breaths of the exercise in focus as the window tries them: at any tempo, for the edition's player or another. */
import { good, type Result } from '../../../core/base/issue.js';
import type { EditionSpec } from '../../../core/book/book.js';
import type { Ladder } from '../../../core/breath/ladder.js';
import { type Breather, withoutBreath } from '../../../core/breath/lung-time.js';
import type { BreathPlan } from '../../../core/breath/plan.js';
import { airFor, type BreathSettings, breathsOf, ladderOf, planAt } from '../../../core/breath/policy.js';
import type { Workshop } from '../../../core/build/workshop.js';
import { type Beats, beatText, METRONOME, tempoOf } from '../../../core/exercise/tempo.js';
import type { Line } from '../../../core/player/line.js';
import { toNumber } from '../../../core/theory/fraction.js';
import type { BreathingView, BreathView } from '../contract/answers/exercise.js';
import type { BreatherAsk } from '../contract/fields.js';

const breatherOf = ({ longTone, ...facts }: BreatherAsk): Breather => ({
  ...facts,
  ...(longTone === undefined ? {} : { longTone: { seconds: longTone } }),
});

/** What the edition says, but for what the window asks to try. */
export const settingsFor = (
  { breath }: EditionSpec,
  { breather, manner }: { readonly breather?: BreatherAsk | undefined; readonly manner?: BreathSettings['manner'] | undefined },
): BreathSettings => ({ ...breath, manner: manner ?? breath.manner, breather: breather ? breatherOf(breather) : breath.breather });

/** Tempos offered where the exercise names none. */
const PLAIN_TEMPOS = METRONOME.filter((n) => n >= 50 && n <= 120 && n % 10 === 0);

/** The ladder of the page; where the exercise names no tempo, one over plain tempos. */
function ladderShown(line: Line, settings: BreathSettings): Result<Ladder | undefined> {
  const { tempo } = line.exercise;
  if (!tempo) return ladderOf(line, tempoOf(line.exercise), PLAIN_TEMPOS, settings);
  const printed = breathsOf(line, settings);
  return printed.ok ? good(printed.value?.ladder) : printed;
}

/** Tempos to try: those of the ladder. */
export function temposShown(line: Line, settings: BreathSettings): readonly number[] {
  const found = ladderShown(line, settings);
  const { tempo } = line.exercise;
  return (found.ok && found.value?.rungs.map(({ bpm }) => bpm)) || (tempo ? [tempo.from, tempo.to] : PLAIN_TEMPOS);
}

const breathViews = ({ breaths }: BreathPlan): BreathView[] =>
  breaths.map(({ afterEvent, onset, reason, seconds }) => ({
    afterEvent,
    at: toNumber(onset),
    reason,
    seconds,
    forced: reason === 'inside-beam' || reason === 'inside-slur',
  }));

/** `settings` as `settingsFor` gives them; shown also where the edition prints no marks. */
export function breathingView(line: Line, { beat, bpm }: Beats, settings: BreathSettings, { cache }: Workshop): BreathingView {
  const asked: BreathSettings = { ...settings, print: 'marks-and-ladders' };
  const about = { bpm, beat: beatText(beat), manner: settings.manner };
  const air = airFor(line, asked);
  if (!air.ok || !air.value) {
    const issue = air.ok ? withoutBreath(line.player.instrument) : air.issues[0];
    return { ...about, breaths: [], rungs: [], lungWords: '', lungSeconds: 0, issue };
  }
  const remembered = <T>(kind: string, make: () => T): T => cache.cached([kind, cache.identity(line), asked, bpm], make);
  const plan = remembered('plan', () => planAt(line, { beat, bpm }, asked));
  const ladder = cache.cached(['ladder', cache.identity(line), asked], () => ladderShown(line, asked));
  const rungs = ladder.ok ? (ladder.value?.rungs ?? []) : [];
  return {
    ...about,
    breaths: plan.ok && plan.value ? breathViews(plan.value) : [],
    rungs: rungs.map((rung) => ({ bpm: rung.bpm, count: rung.plan?.breaths.length })),
    lungWords: air.value.words,
    lungSeconds: air.value.seconds,
    issue: plan.ok ? undefined : plan.issues[0],
  };
}
