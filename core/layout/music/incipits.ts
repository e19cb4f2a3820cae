/** Articulation variants of an exercise: its first bar once for each way of playing it, small, in a row above the music. */

import type { Pt } from '../../base/units.js';
import { barsOf } from '../../engrave/bars.js';
import { drawSystem } from '../../engrave/draw/system.js';
import type { Drawing } from '../../engrave/drawing.js';
import type { Fonts } from '../../engrave/metrics.js';
import { shapeScore } from '../../engrave/shape.js';
import type { Line } from '../../player/line.js';
import type { Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { lineOf, spanOf, textItems } from '../text/text.js';
import type { ExerciseHeading } from './exercise-heading.js';

/** Size of an incipit beside the music, and the air around it in its own staff spaces (house). */
const SHARE = 0.5;
const AIR = { between: 3, below: 2.5, label: 2.2 } as const;

/** The first bar with this articulation and without words. */
function incipit(line: Line, variant: Line['exercise']['articulation'], fonts: Fonts): Drawing {
  const exercise = { ...line.exercise, articulation: variant, keyNames: false, degreeNumbers: false, tempo: undefined, dynamic: undefined };
  const own: Line = { ...line, exercise };
  return drawSystem(shapeScore(own, barsOf(own), fonts), { from: 0, to: 1, width: undefined });
}

/** Undefined for an exercise without variants. Rows are filled from the left; each incipit has its letter before it. */
export function incipitRows(line: Line, space: Pt, width: Pt, anchor: string, setting: Setting): ExerciseHeading | undefined {
  const { variants } = line.exercise;
  if (variants.length === 0) return undefined;
  const scale = SHARE * space;
  const label = setting.styles.caption;
  const drawings = variants.map((variant) => incipit(line, variant, setting.fonts));
  const placed: { drawing: Drawing; x: Pt; row: number }[] = [];
  let x: Pt = 0;
  let row = 0;
  for (const drawing of drawings) {
    const own = (AIR.label + drawing.width) * scale;
    if (x > 0 && x + own > width) {
      x = 0;
      row++;
    }
    placed.push({ drawing, x, row });
    x += own + AIR.between * scale;
  }
  const above = Math.max(...drawings.map((d) => -d.top)) * scale;
  const below = Math.max(...drawings.map((d) => d.bottom)) * scale;
  const step = above + below + AIR.below * scale;
  return {
    height: (row + 1) * step,
    place(frame, y) {
      return placed.flatMap(({ drawing, x, row }, i): PageItem[] => {
        const letter = String.fromCharCode(97 + i);
        const tag: Tag = {
          kind: 'element',
          type: 'Figure',
          id: `${anchor}-variant-${letter}`,
          alt: `Way ${letter} of playing the figure: ${waysWords(variants[i])}.`,
        };
        const top = y + row * step + above;
        const edges = { left: frame.left + x, right: frame.left + x + AIR.label * scale };
        const labelTag: Tag = { kind: 'element', type: 'P', id: `${anchor}-variant-label-${letter}` };
        return [
          ...textItems(lineOf([spanOf(`${letter}`, label)], edges, top + 2.6 * scale, label.size, 'left', setting.fonts), labelTag),
          { kind: 'drawing', x: edges.right, y: top, scale, draw: () => drawing, tag },
        ];
      });
    },
  };
}

function waysWords(articulation: Line['exercise']['articulation'] | undefined): string {
  if (!articulation) return 'as written';
  const mark = articulation.mark ? `, ${articulation.mark}` : '';
  if (articulation.groups === 'all') return `all slurred${mark}`;
  if (articulation.groups.length === 0) return `all tongued${mark}`;
  return `${articulation.groups.map((size) => (size === 1 ? 'tongue 1' : `slur ${size}`)).join(', ')}${mark}`;
}
