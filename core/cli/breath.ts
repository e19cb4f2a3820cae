/** `twelvefold breath`: where to breathe in one exercise, why, and at what tempo fewer breaths are enough. */

import { assert, bad, error, good, type Result } from '../base/issue.js';
import type { Book } from '../book/book.js';
import type { Ladder } from '../breath/ladder.js';
import { type Breather, type LungTime, withoutBreath } from '../breath/lung-time.js';
import type { Breath, BreathPlan } from '../breath/plan.js';
import { airFor, type BreathSettings, ladderOf, ladderTempos, planAt } from '../breath/policy.js';
import { REASON_WORDS } from '../breath/words.js';
import type { Level } from '../exercise/exercise.js';
import { namedTempo, tempoText } from '../exercise/tempo.js';
import type { Line } from '../player/line.js';
import { text } from '../theory/fraction.js';
import { keyText } from '../theory/key.js';
import { pitchName } from '../theory/pitch.js';
import { findEdition, lineOf } from './find.js';
import { openFile } from './open.js';
import { count, EXIT, type ExitCode, type Terminal, table, tellIssues, tellJson } from './terminal.js';

export type BreathCommandOptions = {
  readonly exercise: string;
  readonly player: string;
  readonly level?: Level;
  readonly tempo?: string;
  readonly lungTime?: string;
  readonly longTone?: string;
  readonly age?: string;
  readonly height?: string;
  readonly sex?: 'female' | 'male';
  readonly json?: boolean;
};

const breathRow = (breath: Breath) => ({
  afterNote: breath.afterEvent + 1,
  onset: text(breath.onset),
  reason: breath.reason,
  secondsSinceLast: Number(breath.secondsSinceLast.toFixed(3)),
  airLeft: Number(breath.airLeft.toFixed(3)),
  seconds: Number(breath.seconds.toFixed(3)),
});

/** Marks of the working tempo and breaths at each rung, for JSON. Onsets are fractions of a whole note, times seconds. */
export function breathJson({ beat, rungs, marks }: Ladder): object {
  return {
    marks: marks.map((mark) => ({ ...breathRow(mark), fallsAway: mark.fallsAway })),
    ladder: rungs.map(({ bpm, plan }) => ({ tempo: bpm, beat: text(beat), breaths: plan ? plan.breaths.length : null })),
  };
}

/** Facts given on the command line replace those of the edition as a whole. */
function breatherOf(options: BreathCommandOptions, own: Breather): Breather {
  const number = (value: string | undefined): number | undefined =>
    value === undefined ? undefined : value.trim() === '' ? Number.NaN : Number(value);
  const longTone = number(options.longTone);
  const given: Breather = {
    lungTime: number(options.lungTime),
    longTone: longTone === undefined ? undefined : { seconds: longTone },
    age: number(options.age),
    height: number(options.height),
    sex: options.sex,
  };
  return Object.values(given).some((value) => value !== undefined) ? given : own;
}

type Found = { readonly line: Line; readonly lung: LungTime; readonly plan: BreathPlan; readonly ladder: Ladder };

function planFor(book: Book, options: BreathCommandOptions): Result<Found> {
  const found = lineOf(book, options);
  if (!found.ok) return found;
  const line = found.value;
  const { instrument } = line.player;
  const own = findEdition(book, instrument.id, options.level).breath;
  const settings: BreathSettings = { ...own, print: 'marks-and-ladders', breather: breatherOf(options, own.breather) };
  const air = airFor(line, settings);
  if (!air.ok) return air;
  if (!air.value) return bad(withoutBreath(instrument));
  const tempo = namedTempo(line.exercise, options.tempo === undefined ? undefined : Number(options.tempo));
  if (!tempo) return bad(error('no-tempo', [], 'The exercise has no tempo; name one with --tempo, in beats a minute.'));
  const plan = planAt(line, tempo, settings);
  if (!plan.ok) return plan;
  const tempos = ladderTempos(line, tempo);
  if (!tempos.ok) return tempos;
  const climbed = ladderOf(line, tempo, tempos.value, settings);
  if (!climbed.ok) return climbed;
  assert(plan.value && climbed.value, 'a player with air has a plan and a ladder');
  return good({ line, lung: air.value, plan: plan.value, ladder: climbed.value }, [...air.issues, ...plan.issues, ...climbed.issues]);
}

function planTable({ line, plan }: Found): string {
  const rows = plan.breaths.map((breath) => {
    const event = line.events[breath.afterEvent];
    const key = event && line.statements[event.statement];
    return [
      `${breath.afterEvent + 1}`,
      event?.kind === 'note' ? pitchName(event.written) : '',
      key ? keyText(key.writtenKey) : '',
      breath.secondsSinceLast.toFixed(1),
      breath.airLeft.toFixed(1),
      REASON_WORDS[breath.reason],
    ];
  });
  return table([['after note', 'written', 'key', 'seconds since last', 'air left', 'why here'], ...rows]);
}

export async function breathCommand(name: string, options: BreathCommandOptions, terminal: Terminal): Promise<ExitCode> {
  const { book, file } = await openFile(name, terminal);
  const found = book.ok ? planFor(book.value, options) : book;
  if (options.json) {
    const value = found.ok ? found.value : undefined;
    tellJson(terminal, {
      ok: found.ok,
      issues: found.issues,
      ...(value && {
        exercise: value.line.exercise.id,
        player: value.line.player.instrument.id,
        lungTime: {
          seconds: value.lung.seconds,
          origin: value.lung.origin,
          low: value.lung.low,
          high: value.lung.high,
          words: value.lung.words,
        },
        tempo: { beat: text(value.plan.tempo.beat), bpm: value.plan.tempo.bpm },
        manner: value.plan.manner,
        breaths: value.plan.breaths.map(breathRow),
        ...breathJson(value.ladder),
      }),
    });
    return found.ok ? EXIT.ok : EXIT.mistakes;
  }
  tellIssues(terminal, found.issues, file);
  if (!found.ok) return EXIT.mistakes;
  const { line, lung, plan, ladder: climbed } = found.value;
  terminal.out(`${line.exercise.title} (${line.exercise.id}), ${line.player.instrument.name}\n`);
  terminal.out(`Playing time from one breath: ${lung.words}\n`);
  terminal.out(`At ${tempoText(plan.tempo)}: ${count(plan.breaths.length, 'breath')}\n\n`);
  if (plan.breaths.length > 0) terminal.out(`${planTable(found.value)}\n`);
  for (const rung of climbed.rungs) {
    const many = rung.plan ? count(rung.plan.breaths.length, 'breath') : 'too slow for this air';
    terminal.out(`${tempoText({ beat: climbed.beat, bpm: rung.bpm })}: ${many}\n`);
  }
  terminal.out('\nBreath marks are suggestions. Stop when you feel dizzy; with a medical condition ask a physician first.\n');
  return EXIT.ok;
}
