/** The catalogue: every instrument the program knows, read once from its tables. */

import { assert, bad, error, good, type Result } from '../base/issue.js';
import { nearest } from '../base/nearest.js';
import type { Level } from '../exercise/exercise.js';
import { parsePitch } from '../theory/pitch.js';
import { INSTRUMENT_TABLE, RANGE_TABLE, SOURCES } from './instruments-data.js';
import type { Clef, Compass, Family, Instrument } from './player.js';

export const LEVELS: readonly Level[] = ['beginner', 'intermediate', 'advanced', 'professional'];

const rowsOf = (table: string): string[][] =>
  table
    .trim()
    .split('\n')
    .map((line) => line.split('|').map((cell) => cell.trim()));

function range(text: string): Compass {
  const [low, high] = text.split('-').map(parsePitch);
  assert(low && high, `${text} is a range`);
  return { low, high };
}

const source = (text: string): string => text.trim().replace(/S\d+/g, (code) => SOURCES[code] as string);

/** One value per level, lowest level first. */
function byLevel<T>(four: readonly T[]): Record<Level, T> {
  const [beginner, intermediate, advanced, professional] = four;
  assert(four.length === 4, 'four levels');
  return { beginner: beginner as T, intermediate: intermediate as T, advanced: advanced as T, professional: professional as T };
}

function read(who: readonly string[], reach: readonly string[]): Instrument {
  const [id, name, short, family, clef, sounds, pitchedIn, breath, midiProgram, soundId] = who as [string, ...string[]];
  assert(id === reach[0] && who.length === 10 && reach.length === 6, `the two rows of ${id} match`);
  const [steps, semitones] = (sounds as string).split('/').map(Number);
  return {
    id,
    name: name as string,
    short: short as string,
    family: family as Family,
    clef: clef as Clef,
    transposition: { steps: steps as number, semitones: semitones as number },
    pitchedIn: pitchedIn === '-' ? undefined : pitchedIn,
    compass: byLevel(reach.slice(1, 5).map(range)),
    breath: breath === 'breath',
    soundId: soundId as string,
    midiProgram: Number(midiProgram),
    sources: byLevel((reach[5] as string).split(';').map(source)),
  };
}

const ranges = rowsOf(RANGE_TABLE);

/** All instruments, in score order. */
export const INSTRUMENTS: readonly Instrument[] = rowsOf(INSTRUMENT_TABLE).map((who, i) => read(who, ranges[i] as string[]));

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
