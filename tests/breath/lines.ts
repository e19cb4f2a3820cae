/** A small language for the tests of this folder: short lines from a few words, and lungs of so many seconds. */
import type { LungTime } from '../../core/breath/lung-time.js';
import type { Articulation } from '../../core/exercise/exercise.js';
import { parseRhythm, type RhythmValue } from '../../core/exercise/rhythm.js';
import { instrumentById } from '../../core/player/catalogue.js';
import type { Line, LineEvent, PlacedStatement } from '../../core/player/line.js';
import type { Instrument } from '../../core/player/player.js';
import { add, type Fraction, ZERO } from '../../core/theory/fraction.js';
import { type Pitch, parsePitch } from '../../core/theory/pitch.js';
import { exercise, player, value } from '../player/fixture.js';

export const QUARTER = { n: 1, d: 4 };

export const instrument = (id: string): Instrument => value(instrumentById(id));

export const lungs = (seconds: number, leastBreath = 0): LungTime => ({
  seconds,
  origin: 'set',
  low: seconds,
  high: seconds,
  leastBreath,
  words: `${seconds} s, as set`,
});

const pitch = (name: string): Pitch => {
  const found = parsePitch(name);
  if (!found) throw new Error(`not a pitch: ${name}`);
  return found;
};

const values = new Map<string, RhythmValue>();
function rhythmValue(text: string): RhythmValue {
  const known = values.get(text) ?? (value(parseRhythm(text)).values[0] as RhythmValue);
  values.set(text, known);
  return known;
}

/**
 * `C4 D4 E4:1/2 r:1/4 | F4 … || G4 …`: notes and rests, quarters unless a value is given; | between statements, || at the
 * turnaround, /| between sets.
 */
export function lineOf(text: string, words: { metre?: string; articulation?: Articulation } = {}): Line {
  const events: LineEvent[] = [];
  const statements: PlacedStatement[] = [];
  let statement = 0;
  let set = 0;
  let turnaround: number | undefined;
  let onset: Fraction = ZERO;
  for (const word of text.trim().split(/\s+/)) {
    if (['|', '||', '/|'].includes(word)) {
      statement++;
      if (word === '||') turnaround = statement;
      if (word === '/|') set++;
      continue;
    }
    const [name = '', length = '1/4'] = word.split(':');
    const of = rhythmValue(length);
    const common = { index: events.length, statement, onset, duration: of.duration, value: of };
    if (name === 'r') events.push({ kind: 'rest', ...common });
    else events.push({ kind: 'note', tone: 0, degree: '1', written: pitch(name), sounding: pitch(name), ...common });
    if (!statements[statement] && name !== 'r') {
      const root = pitch(name);
      const key = { tonic: root, mode: 'major' } as const;
      statements[statement] = {
        index: statement,
        pass: turnaround === undefined ? 1 : 2,
        key: { chroma: 0, mode: 'major' },
        direction: 'up',
        keyIndex: statement,
        set,
        writtenKey: key,
        soundingKey: key,
        root,
        onset,
        duration: of.duration,
        turned: false,
      };
    }
    onset = add(onset, of.duration);
  }
  return {
    exercise: exercise({ metre: words.metre ?? '4/4', articulation: words.articulation ?? { groups: [] } }),
    player: player('flute'),
    statements,
    events,
    turnaround,
    duration: onset,
    leftOut: [],
  };
}
