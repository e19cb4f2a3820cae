/** One exercise of an edition as a block for its pages: heading, systems, and the line of breaths under them. */

import { type Cached, uncached } from '../../base/cache.js';
import type { Pt } from '../../base/units.js';
import type { ScoreShape } from '../../engrave/shape.js';
import type { Exercise } from '../../exercise/exercise.js';
import type { Line } from '../../player/line.js';
import { type EditionContent, exerciseAnchor } from '../edition.js';
import { bodyOf } from '../page/geometry.js';
import type { MusicBlock } from '../page/music-pages.js';
import type { Sheet } from '../page/sheet.js';
import { exerciseBlock } from './exercise-block.js';
import { exerciseFoot, exerciseHeading, stackedHeadings } from './exercise-heading.js';
import { incipitRows } from './incipits.js';
import { musicWords, orderWords, versionNotes } from './words.js';

/** `number` is that of the exercise in its book. */
export function musicBlock(
  content: EditionContent,
  exercise: Exercise,
  line: Line,
  number: number,
  { setting, space }: Pick<Sheet, 'setting' | 'space'>,
  shapeOf: (line: Line) => ScoreShape,
  cached: Cached = uncached,
): MusicBlock {
  const { breathing, match } = content;
  const identity = content.cache?.identity ?? (() => undefined);
  const width: Pt = bodyOf(setting.geometry, setting.styles).width;
  const anchor = exerciseAnchor(exercise.id);
  const text = {
    anchor,
    number: `${number}`,
    title: exercise.title,
    aside: orderWords(line),
    instruction: exercise.instruction,
    notes: match ? (match.notes.get(exercise.id) ?? []) : versionNotes(line),
  };
  const systems = match?.systems.get(exercise.id);
  const breathed = breathing?.exercises.get(exercise.id);
  const setFrom = ['block', identity(line), breathed && identity(breathed), width, space, systems];
  const foot = breathing?.ladders ? breathed?.words : undefined;
  return {
    id: exercise.id,
    block: cached(setFrom, () => exerciseBlock(line, width, space, shapeOf, setting.fonts, systems)),
    heading: stackedHeadings(
      cached(['heading', text, width], () => exerciseHeading(text, width, setting)),
      cached(['incipits', identity(line), space, width], () => incipitRows(line, space, width, anchor, setting)),
    ),
    words: musicWords(text.number, line),
    ...(foot === undefined ? {} : { foot: cached(['foot', foot, anchor, width], () => exerciseFoot(foot, anchor, width, setting)) }),
  };
}
