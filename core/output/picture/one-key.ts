/** A line taken apart: each of its keys as a short line of its own, in the same octave. */

import { assert } from '../../base/issue.js';
import type { Exercise } from '../../exercise/exercise.js';
import { keyId } from '../../exercise/route.js';
import type { Line, PlacedStatement } from '../../player/line.js';
import { realise } from '../../player/realise.js';
import { octaves } from '../../theory/interval.js';
import { type Pitch, stepOf, transpose } from '../../theory/pitch.js';

/** The exercise in this key alone: once through in the direction of its statement, to the end of a bar. */
function inOneKey(exercise: Exercise, statement: PlacedStatement): Exercise {
  const { chroma, mode } = statement.key;
  return {
    ...exercise,
    order: { ...exercise.order, keys: [{ chroma: 0, mode }], setSize: 1 },
    start: { kind: 'concert', key: statement.soundingKey.tonic },
    directions: statement.direction,
    passes: 1,
    ending: 'none',
    padding: exercise.padding.to === 'flow' ? { to: 'bar', by: 'rests' } : { to: 'bar', by: exercise.padding.by },
    id: `${exercise.id}-${chroma}${mode}`,
  };
}

/** Moves a whole line by octaves. */
function inOctave(line: Line, shift: number): Line {
  const moved = (pitch: Pitch): Pitch => transpose(pitch, octaves(shift));
  return {
    ...line,
    statements: line.statements.map((statement) => ({ ...statement, root: moved(statement.root) })),
    events: line.events.map((event) =>
      event.kind === 'note' ? { ...event, written: moved(event.written), sounding: moved(event.sounding) } : event,
    ),
  };
}

/** One line for each key, at its first statement's place, direction and octave. */
export function oneKeyLines(line: Line): Line[] {
  const seen = new Set<string>();
  return line.statements.flatMap((statement) => {
    const id = keyId(statement.key);
    if (seen.has(id)) return [];
    seen.add(id);
    const alone = realise(inOneKey(line.exercise, statement), line.player);
    assert(alone.ok, 'a key that the line holds can be played alone');
    const root = alone.value.statements[0]?.root;
    assert(root, 'a line has a statement');
    return [inOctave(alone.value, Math.round((stepOf(statement.root) - stepOf(root)) / 7))];
  });
}
