/** `twelvefold show`: every note of one exercise for one player. */
import type { Book } from '../book/book.js';
import { airFor, breathsOf } from '../breath/policy.js';
import type { Level } from '../exercise/exercise.js';
import { compassText } from '../player/compass.js';
import type { Line } from '../player/line.js';
import { div, text } from '../theory/fraction.js';
import { keyText } from '../theory/key.js';
import { barLength, metreText } from '../theory/metre.js';
import { midi, pitchName } from '../theory/pitch.js';
import { breathJson } from './breath.js';
import { findEdition, lineOf } from './find.js';
import { openFile } from './open.js';
import { EXIT, type ExitCode, type Terminal, table, tellIssues, tellJson } from './terminal.js';

export type ShowOptions = { readonly exercise: string; readonly player: string; readonly level?: Level; readonly json?: boolean };

type Row = {
  readonly index: number;
  readonly statement: number;
  readonly bar: number;
  readonly key: string;
  readonly direction: string;
  readonly degree: string;
  readonly written: string;
  readonly sounding: string;
  /** MIDI key number of the sounding pitch; null for a rest. */
  readonly midi: number | null;
  readonly onset: string;
  readonly duration: string;
};

/** One row for each note and rest. Onsets and durations are fractions of a whole note; keys are written keys. */
export function rowsOf(line: Line): Row[] {
  const bar = barLength(line.exercise.metre);
  return line.events.map((event) => {
    const statement = line.statements[event.statement];
    const past = div(event.onset, bar);
    const common = {
      index: event.index,
      statement: event.statement + 1,
      bar: Math.floor(past.n / past.d) + 1,
      key: statement ? keyText(statement.writtenKey) : 'end',
      direction: statement?.direction ?? '',
      onset: text(event.onset),
      duration: text(event.duration),
    };
    if (event.kind === 'rest') return { ...common, degree: 'r', written: '', sounding: '', midi: null };
    const { degree, written, sounding } = event;
    return { ...common, degree, written: pitchName(written), sounding: pitchName(sounding), midi: midi(sounding) };
  });
}

function shownTable(line: Line): string {
  const head = ['note', 'bar', 'key', 'direction', 'degree', 'written', 'sounding', 'midi', 'onset', 'duration'];
  const rows = rowsOf(line).map((row, i, all) => {
    const first = row.statement !== all[i - 1]?.statement;
    const cells = [row.degree, row.written, row.sounding, row.midi === null ? '' : String(row.midi), row.onset, row.duration];
    return [String(row.index + 1), String(row.bar), first ? row.key : '', first ? row.direction : '', ...cells];
  });
  return table([head, ...rows]);
}

/** Breaths of the working tempo and the count at each rung, as the edition would print them; undefined where none are printed. */
function shownBreaths(book: Book, options: ShowOptions, line: Line): object | undefined {
  const { breath } = findEdition(book, line.player.instrument.id, options.level);
  const air = airFor(line, breath);
  const found = breathsOf(line, breath);
  return air.ok && air.value && found.ok && found.value ? { lungTime: air.value.words, ...breathJson(found.value.ladder) } : undefined;
}

export async function showCommand(name: string, options: ShowOptions, terminal: Terminal): Promise<ExitCode> {
  const { book, file } = await openFile(name, terminal);
  const line = book.ok ? lineOf(book.value, options) : book;
  // The warnings of the whole book are the business of `check`.
  const issues = line.issues;
  if (options.json) {
    const value = line.ok ? line.value : undefined;
    tellJson(terminal, {
      ok: line.ok,
      issues,
      ...(value && {
        exercise: value.exercise.id,
        player: { instrument: value.player.instrument.id, level: value.player.level, compass: compassText(value.player.compass) },
        metre: metreText(value.exercise.metre),
        duration: text(value.duration),
        leftOut: value.leftOut.map(keyText),
        notes: rowsOf(value),
        breaths: book.ok ? shownBreaths(book.value, options, value) : undefined,
      }),
    });
  } else {
    tellIssues(terminal, issues, file);
    if (line.ok) {
      const { exercise, player } = line.value;
      terminal.out(`${exercise.title} (${exercise.id}), ${metreText(exercise.metre)}\n`);
      terminal.out(`${player.instrument.name}, ${player.level}, written ${compassText(player.compass)}\n\n`);
      terminal.out(shownTable(line.value));
    }
  }
  return line.ok ? EXIT.ok : EXIT.mistakes;
}
