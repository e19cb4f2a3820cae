/** The catalogue: every instrument the program knows, read once from the rows of instruments/. */

import { assert, bad, error, good, type Result } from '../base/issue.js';
import { nearest } from '../base/nearest.js';
import type { Level } from '../exercise/exercise.js';
import { classText, intervalBetween, type Pitch, parsePitch, sameClass } from '../theory/pitch.js';
import { BRASS } from './instruments/brass.js';
import { KEYBOARDS } from './instruments/keyboards.js';
import { RECORDERS } from './instruments/recorders.js';
import type { InstrumentRow, NoteName } from './instruments/row.js';
import { SOURCES } from './instruments/sources.js';
import { STRINGS } from './instruments/strings.js';
import { WOODWINDS } from './instruments/woodwinds.js';
import { FAMILY_OF } from './kinds.js';
import type { Instrument } from './player.js';

export const LEVELS: readonly Level[] = ['beginner', 'intermediate', 'advanced', 'professional'];

function note(name: NoteName): Pitch {
  const pitch = parsePitch(name);
  assert(pitch, `${name} is a note with its octave`);
  return pitch;
}

const WRITTEN_C5 = note('C5');

/** The source in words. */
function sourceText(source: string, id: string): string {
  return source.replace(/S\d+/g, (code) => {
    const words = SOURCES.get(code);
    assert(words, `the source ${code} of ${id} stands in core/player/instruments/sources.ts`);
    return words;
  });
}

/** A value for each level, from what the row says of it. */
function byLevel<S, T>(row: Readonly<Record<Level, S>>, of: (said: S) => T): Record<Level, T> {
  return {
    beginner: of(row.beginner),
    intermediate: of(row.intermediate),
    advanced: of(row.advanced),
    professional: of(row.professional),
  };
}

function instrumentOf(row: InstrumentRow): Instrument {
  const { id, name, short, kind, clef, midiProgram, soundId } = row;
  const sound = note(row.soundOfC5);
  return {
    id,
    name,
    short,
    kind,
    family: FAMILY_OF[kind],
    clef,
    transposition: intervalBetween(WRITTEN_C5, sound),
    pitchedIn: sameClass(sound, WRITTEN_C5) ? undefined : classText(sound),
    compass: byLevel(row.compass, ([low, high]) => ({ low: note(low), high: note(high) })),
    breath: row.flow !== 'none',
    flow: row.flow === 'none' ? undefined : row.flow,
    soundId,
    midiProgram,
    sources: byLevel(row.compass, ([, , source]) => sourceText(source, id)),
  };
}

/** All instruments, family by family. */
export const INSTRUMENTS: readonly Instrument[] = [...WOODWINDS, ...BRASS, ...RECORDERS, ...STRINGS, ...KEYBOARDS].map(instrumentOf);

/** `Clarinet in B♭`, `clarinet in bb` and `clarinet-in-bb` are one and the same. */
const plain = (name: string): string =>
  name
    .trim()
    .toLowerCase()
    .replaceAll('♭', 'b')
    .replace(/[()]/g, '')
    .replace(/[\s-]+/g, '-');

const byName = new Map(INSTRUMENTS.flatMap((one) => [one.id, plain(one.name)].map((name) => [name, one] as const)));

/**
 * The instrument with this id, or with this printed name (capitals, and b for ♭, do not matter).
 * Issue `unknown-instrument` at path [], with the nearest id if one is near.
 */
export function instrumentById(id: string): Result<Instrument> {
  const found = byName.get(plain(id));
  if (found) return good(found);
  const near = byName.get(plain(nearest(id, [...byName.keys()]) ?? ''));
  const remedy = near ? `Did you mean "${near.id}" (${near.name})?` : `Write an id such as "${INSTRUMENTS[0]?.id}".`;
  return bad(error('unknown-instrument', [], `There is no instrument "${id}". ${remedy}`));
}
