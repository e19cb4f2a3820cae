/** How an edition wants its breath marks, and for whose lungs they are computed. */

import { error, type Issue, under } from '../base/issue.js';
import { type Breather, lungTime } from '../breath/lung-time.js';
import type { BreathSettings } from '../breath/policy.js';
import type { Instrument } from '../player/player.js';
import { parseFraction } from '../theory/fraction.js';

import type { BreathSource } from './schema.js';

type Path = readonly (string | number)[];

const PRINT = { none: 'none', marks: 'marks', 'marks and ladders': 'marks-and-ladders' } as const;
const MANNER = { 'in time': 'in-time', 'added beat': 'added-beat' } as const;

/** What the file says over what the book says; facts about the player are replaced as a whole, never mixed. */
export function resolveBreath(source: BreathSource | undefined, from: BreathSettings, path: Path, issues: Issue[]): BreathSettings {
  if (!source) return from;
  const added = source.added === undefined ? from.added : parseFraction(source.added);
  if (source.added !== undefined && (!added || added.n <= 0)) {
    issues.push(
      error('bad-added-value', [...path, 'added'], `"${source.added}" is no note value; write a fraction of a whole note, such as "1/4".`),
    );
  }
  return {
    print: source.print ? PRINT[source.print] : from.print,
    manner: source.manner ? MANNER[source.manner] : from.manner,
    added,
    breather: source.player ? breatherOf(source.player) : from.breather,
  };
}

/** What a file says of a player → what the lung time is computed from. */
export function breatherOf(player: NonNullable<BreathSource['player']>): Breather {
  const { longTone, lungs, ...rest } = player;
  return { ...rest, ...(longTone === undefined ? {} : { longTone: { seconds: longTone } }), ...(lungs ? { lungClass: lungs } : {}) };
}

/** The values themselves: numbers out of range, and questions where a number is unusual. */
export function checkBreath(breath: BreathSettings, instrument: Instrument, path: Path, issues: Issue[]): void {
  issues.push(...under([...path, 'player'], lungTime(breath.breather, instrument).issues));
}
