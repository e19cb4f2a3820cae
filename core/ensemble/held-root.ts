/** Whether a part can hold the root of a key through a statement. */

import { error, type Issue } from '../base/issue.js';
import type { Exercise } from '../exercise/exercise.js';
import { inCompass } from '../player/compass.js';
import { type KeyFit, listText } from '../player/fit.js';
import type { Player } from '../player/player.js';
import { rootsNear } from '../player/register-plan.js';
import { timeLine } from '../player/timing.js';
import { type Fraction, sub, ZERO } from '../theory/fraction.js';
import { keyText } from '../theory/key.js';

/** True if a statement of this exercise may end inside a tuplet, where no held note can be written. */
function cutsTuplets(exercise: Exercise): boolean {
  // Padded statements begin and end on beats.
  if (exercise.padding.to !== 'flow') return false;
  const count = exercise.rhythm.values.length;
  const { events } = timeLine(exercise, count + 1, false);
  let left: Fraction = ZERO;
  let statement = 0;
  for (const { statement: own, value } of events) {
    if (own !== statement && left.n !== 0) return true;
    statement = own;
    left = value.tuplet ? sub(left.n === 0 ? value.tuplet.total : left, value.duration) : ZERO;
  }
  return false;
}

/** Undefined if the root of every key can be held; else issue `root-cannot-be-held` at ['figure']. */
export function holdIssue(exercise: Exercise, chair: string, fits: readonly KeyFit[], player: Player): Issue | undefined {
  const title = exercise.title || exercise.id;
  const outside = fits.filter((fit) => !rootsNear(fit.writtenKey.tonic, player.compass).some((root) => inCompass(root, player.compass)));
  if (outside.length > 0) {
    const keys = listText(outside.map((fit) => keyText(fit.writtenKey)));
    const words = `${chair} cannot hold the root of written ${keys} in "${title}": the note lies outside its compass. Widen the compass, or choose another "misfit".`;
    return error('root-cannot-be-held', ['figure'], words);
  }
  if (!cutsTuplets(exercise)) return undefined;
  const words = `${chair} cannot hold a root in "${title}": its statements end inside tuplets. Give the exercise a padding to the beat or bar, or choose another "misfit".`;
  return error('root-cannot-be-held', ['figure'], words);
}
