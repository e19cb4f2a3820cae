/** The ladder of metronome marks, to climb one rung at a time. */
import type { Pt } from '../../base/units.js';
import { bodyOf, type MatterPage, measureIn, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { baselineIn, proseHeight, setProse } from '../text/prose.js';
import { lineOf, spanOf, textItems } from '../text/text.js';
import { pageHeading } from './heading.js';

/** Runs of the traditional scale: from, to, step in beats a minute (common practice of mechanical metronomes; from memory). */
const RUNS = [
  [40, 60, 2],
  [60, 72, 3],
  [72, 120, 4],
  [120, 144, 6],
  [144, 208, 8],
] as const;

/** Every mark of each run; a run begins with the mark after the one that ended the run before. */
export const METRONOME_RUNS: readonly (readonly number[])[] = RUNS.map(([from, to, step], i) =>
  Array.from({ length: (to - from) / step + (i === 0 ? 1 : 0) }, (_, k) => from + step * (k + (i === 0 ? 0 : 1))),
);

const ADVICE =
  'Find the fastest tempo at which you can play the exercise without a mistake. Move up one number after each perfect repetition, for five or six numbers; then go back to where you began. Write the exercise and the date beside the number you reached.';

/** The marks in five columns, slowest at the foot, each with a line to write on. */
export function metronomeLadderPage(setting: Setting): MatterPage {
  const { geometry, fonts, styles, language } = setting;
  const body = bodyOf(geometry, styles);
  const heading = pageHeading('Metronome Ladder', 'metronome-ladder', body, setting);
  const column = measureIn(body, styles.body.size);
  const advice = setProse(ADVICE, { width: column.width, fonts, styles, language, id: 'metronome-ladder' });
  const items: PageItem[] = [...heading.items, ...advice.flatMap((block) => block.place(column.left, heading.bottom))];

  const style = styles.chart;
  const top = heading.bottom + proseHeight(advice) + 2 * style.leading;
  const rungs = Math.max(...METRONOME_RUNS.map((run) => run.length));
  const step = Math.min((body.bottom - top) / (rungs + 1), 2.9 * style.leading);
  const gutter = 1.4 * style.size;
  const width = (body.width - gutter * (RUNS.length - 1)) / RUNS.length;
  const number = 2.2 * style.size;
  const foot = top + rungs * step;
  METRONOME_RUNS.forEach((run, c) => {
    const x = body.left + c * (width + gutter);
    run.forEach((mark, r) => {
      const y: Pt = foot - r * step;
      const tag: Tag = { kind: 'element', type: 'LI', id: `metronome-${mark}` };
      items.push(...textItems(lineOf([spanOf(`${mark}`, style)], { left: x, right: x + number }, y, style.size, 'right', fonts), tag));
      items.push({
        kind: 'rect',
        x: x + number + 0.6 * style.size,
        y: y - 0.2,
        width: width - number - 0.6 * style.size,
        height: 0.4,
        tag: { kind: 'artifact', type: 'layout' },
      });
    });
    const caption = styles.caption;
    const [, , by] = RUNS[c]!;
    const tag: Tag = { kind: 'element', type: 'P', id: `metronome-by-${by}` };
    const below = foot + 0.35 * style.size + baselineIn(caption);
    items.push(
      ...textItems(lineOf([spanOf(`by ${by}`, caption)], { left: x, right: x + number }, below, caption.size, 'right', fonts), tag),
    );
  });
  return { kind: 'appendix', items };
}
