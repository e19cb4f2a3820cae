/** Where to breathe in a line at a tempo, and why: the cheapest set of breaths with which the air never runs out. */
import { bad, error, good, type Issue, type Result } from '../base/issue.js';
import { type Beats, secondsPerWhole, tempoIssues, tempoText } from '../exercise/tempo.js';
import type { Line, LineEvent } from '../player/line.js';
import { add, type Fraction, frac, mul, toNumber } from '../theory/fraction.js';
import { keyText } from '../theory/key.js';
import { accidentalText, letterName } from '../theory/pitch.js';
import { type BreathReason, type Places, placesOf, type Steps } from './candidates.js';
import type { LungTime } from './lung-time.js';
import { CATCH_BREATH, FULL_BREATH, refilled } from './reservoir.js';
import { type Air, breathAt, cheapestBreaths, SLACK } from './search.js';

export type BreathOptions = {
  /** `in-time`: the note before gives up the time. `added-beat`: the music stops for `added`, then goes on. */
  readonly manner: 'in-time' | 'added-beat';
  /** Value by which the music stops; one beat of the tempo when not said. (Common practice.) */
  readonly added?: Fraction;
  /** Seconds of the longest breath in time; a full breath when not said. The note before decides how much of it there is. */
  readonly breathSeconds?: number;
};

export type Breath = {
  /** Index of the note after which it is taken. */
  readonly afterEvent: number;
  /** End of that note in the line as written, before any added beats. */
  readonly onset: Fraction;
  readonly reason: BreathReason;
  /** Seconds from the end of the last breath or rest, or from the start, to this breath. */
  readonly secondsSinceLast: number;
  /** Seconds of air left when it begins. */
  readonly airLeft: number;
  /** How long it lasts. */
  readonly seconds: number;
};

export type BreathPlan = {
  readonly tempo: Beats;
  readonly lung: LungTime;
  readonly manner: BreathOptions['manner'];
  /** What each breath adds to the music; zero in time. */
  readonly added: Fraction;
  readonly breaths: readonly Breath[];
  /** How many stand inside a slur or a beam because the air would run out otherwise. */
  readonly forced: number;
  /** Sum of the costs of the places. */
  readonly cost: number;
  /** Seconds of air left after the last note. */
  readonly airAtEnd: number;
};

/** What of a plan is heard. */
export type PlayedBreaths = Pick<BreathPlan, 'tempo' | 'manner' | 'added' | 'breaths'>;

/** Highest number of beats a minute tried when asking at what tempo a line works. */
const FASTEST = 400;

/** Stops last whole multiples of the added value, so that a breath which must also let air out finds the time. */
function addedValue(tempo: Beats, lung: LungTime, options: BreathOptions, perWhole: number): Fraction {
  const value = options.added ?? tempo.beat;
  const times = Math.max(1, Math.ceil(lung.leastBreath / (toNumber(value) * perWhole) - SLACK));
  return mul(value, frac(times));
}

function airOf(tempo: Beats, lung: LungTime, options: BreathOptions, bpm = tempo.bpm): Air {
  const perWhole = secondsPerWhole({ beat: tempo.beat, bpm });
  const inTime = options.manner === 'in-time';
  const breath = inTime
    ? Math.max(lung.leastBreath, options.breathSeconds ?? FULL_BREATH)
    : toNumber(addedValue(tempo, lung, options, perWhole)) * perWhole;
  return { lungs: lung.seconds, secondsPerWhole: perWhole, breath, quick: Math.max(lung.leastBreath, CATCH_BREATH), inTime };
}

type Taken = { readonly step: number; readonly since: number; readonly left: number; readonly seconds: number };

/** Breaths taken; the step before which the air runs out, -1 if it never does; the air at the end. */
type Walk = { readonly breaths: readonly Taken[]; readonly failsAt: number; readonly left: number };

/** Plays the line and keeps count of the air, breathing at these steps, or at every step. */
function walk(steps: Steps, how: Air, at?: readonly number[]): Walk {
  const breaths: Taken[] = [];
  let air = how.lungs;
  let since = 0;
  for (let step = 0; step < steps.count; step++) {
    const play = (steps.play[step] as number) * how.secondsPerWhole;
    const rest = steps.candidate[step] === -1;
    const breathes = !rest && (!at || at[breaths.length] === step);
    const seconds = rest ? (steps.span[step] as number) * how.secondsPerWhole : breathes ? breathAt(steps, step, how) : 0;
    const sounding = breathes && how.inTime ? play - seconds : play;
    air -= sounding;
    since += sounding;
    if (air < -SLACK) return { breaths, failsAt: step, left: air };
    if (breathes) breaths.push({ step, since, left: Math.max(0, air), seconds });
    if (!rest && !breathes) continue;
    air = refilled(air, how.lungs, seconds);
    since = 0;
  }
  air -= steps.tail * how.secondsPerWhole;
  return { breaths, failsAt: air < -SLACK ? steps.count : -1, left: Math.max(0, air) };
}

/** Smallest whole number of beats a minute at which the air lasts: a faster tempo never needs more air, so halving finds it. */
function worksFrom(places: Places, tempo: Beats, lung: LungTime, options: BreathOptions): number | undefined {
  const lasts = (bpm: number): boolean => walk(places.all, airOf(tempo, lung, options, bpm)).failsAt === -1;
  if (!lasts(FASTEST)) return undefined;
  let fails = Math.floor(tempo.bpm);
  let works = FASTEST;
  while (works - fails > 1) {
    const middle = (works + fails) >> 1;
    if (lasts(middle)) works = middle;
    else fails = middle;
  }
  return works;
}

/** The note in which the air runs out even when every possible breath is taken. */
function failingNote(line: Line, places: Places, failsAt: number): LineEvent | undefined {
  const upTo = failsAt < places.all.count ? (places.all.event[failsAt] as number) : line.events.length - 1;
  return line.events.slice(0, upTo + 1).findLast((event) => event.kind === 'note');
}

function runsOut(line: Line, places: Places, tempo: Beats, lung: LungTime, options: BreathOptions): Issue {
  const note = failingNote(line, places, walk(places.all, airOf(tempo, lung, options)).failsAt);
  const key = note && line.statements[note.statement]?.writtenKey;
  const what =
    note?.kind === 'note' ? `${letterName(note.written.letter)}${accidentalText(note.written.alter)}${note.written.octave}` : 'the line';
  const where = note ? ` (note ${note.index + 1}${key ? `, in ${keyText(key)}` : ''})` : '';
  const works = worksFrom(places, tempo, lung, options);
  const remedy = works
    ? `it works from ${tempoText({ beat: tempo.beat, bpm: works })}`
    : `no tempo up to ${FASTEST} helps: add rests or choose shorter notes`;
  return error(
    'air-runs-out',
    [],
    `At ${tempoText(tempo)} the air (${lung.words}) runs out in ${what}${where}, wherever one breathes: ${remedy}.`,
  );
}

function optionIssues(options: BreathOptions): Issue[] {
  const issues: Issue[] = [];
  if (options.added && options.added.n <= 0)
    issues.push(error('added-beat-not-positive', ['added'], 'The added beat must be longer than nothing: give a note value such as 1/4.'));
  if (options.breathSeconds !== undefined && !(options.breathSeconds > 0 && options.breathSeconds <= 10))
    issues.push(error('breath-length', ['breathSeconds'], 'The length of a breath must be above 0 and at most 10 seconds.'));
  return issues;
}

/** Further wishes of a ladder: stay within the places of a slower tempo, and never breathe more often. */
export type Bounds = { readonly within: readonly Breath[]; readonly most: number };

/**
 * The plan with fewest forbidden places, then fewest breaths, then the least cost of places: an exact minimum over all
 * candidates. Fails with `air-runs-out`, naming the note and the tempo at which it works, if the air does not last even
 * when every breath is taken, and on a tempo or an option that makes no sense.
 */
export function breathPlan(line: Line, tempo: Beats, lung: LungTime, options: BreathOptions, bounds?: Bounds): Result<BreathPlan> {
  const wrong = [...tempoIssues(tempo), ...optionIssues(options)];
  if (wrong.length > 0) return bad(...wrong);
  const places = placesOf(line);
  const how = airOf(tempo, lung, options);
  let wanted: Uint8Array | undefined;
  if (bounds) {
    wanted = new Uint8Array(line.events.length);
    for (const { afterEvent } of bounds.within) wanted[afterEvent] = 1;
  }
  const found = cheapestBreaths(places, how, wanted, bounds?.most);
  if (!found) return bad(runsOut(line, places, tempo, lung, options));
  const taken = walk(found.steps, how, found.taken);
  let forced = 0;
  let cost = 0;
  const breaths = taken.breaths.map(({ step, since, left, seconds }): Breath => {
    const candidate = places.candidates[found.steps.candidate[step] as number]!;
    const note = line.events[candidate.afterEvent] as LineEvent;
    if (candidate.forbidden) forced++;
    cost += candidate.cost;
    return {
      afterEvent: candidate.afterEvent,
      onset: add(note.onset, note.duration),
      reason: candidate.reason,
      secondsSinceLast: since,
      airLeft: left,
      seconds,
    };
  });
  const added = how.inTime ? frac(0) : addedValue(tempo, lung, options, how.secondsPerWhole);
  return good({ tempo, lung, manner: options.manner, added, breaths, forced, cost, airAtEnd: taken.left });
}
