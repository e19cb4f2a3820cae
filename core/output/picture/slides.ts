/** Slides: an exercise for the screen, filling the frame as large as it can be read; and a set with one slide a key. */
import { at } from '../../base/list.js';
import { barsOf } from '../../engrave/bars.js';
import type { Fonts } from '../../engrave/metrics.js';
import { shapeScore } from '../../engrave/shape.js';
import { degreeText } from '../../engrave/signed-text.js';
import { type ExerciseBlock, exerciseBlock, SYSTEM_AIR, stackHeight } from '../../layout/music/exercise-block.js';
import { breakSystems, type SystemBreak } from '../../layout/music/systems.js';
import type { Page, PageItem, Tag } from '../../layout/page/page.js';
import { lineOf, type Span, spanOf, textItems, widthOf } from '../../layout/text/text.js';
import type { TypeStyle } from '../../layout/text/type-style.js';
import type { Line } from '../../player/line.js';
import { keyText, keyWords } from '../../theory/key.js';
import type { NotatedStaff } from '../notated-exercise.js';
import { oneKeyLines } from './one-key.js';
import { pageSvg } from './svg.js';

export type SlideOptions = {
  readonly shape?: '16:9' | '9:16';
  /** Shorter side of the picture in pixels: 1080 or 2160. */
  readonly size?: 1080 | 2160;
  readonly ground?: 'light' | 'dark';
};

export type Slide = {
  readonly svg: string;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  /** What it shows, in words. */
  readonly words: string;
};

/** Soft black and soft white: contrast above 15 to 1 without glare (WCAG 2 asks for 7 to 1). */
const COLORS = {
  light: { ink: '#17191d', paper: '#fbf9f4' },
  dark: { ink: '#f3efe6', paper: '#14171c' },
} as const;

/** All lengths in hundredths of the shorter side. (House choices.) */
const FRAME = { side: 6, top: 5, bottom: 4, headGap: 4.5, footGap: 4.5 } as const;
/** Staff spaces: the largest that still looks like music, the smallest that can be read from afar, and the one for long lines. */
const SPACE = { largest: 3.4, smallest: 1.5, step: 0.97 } as const;
/** Room between systems beyond the least, in staff spaces, when a slide is not full. */
const OPEN = 5;

/** Height of a staff in spaces. */
const STAFF = 4;

const SHORT = 1080;
const LONG = 1920;
const UNIT = SHORT / 100;

const TAG: Tag = { kind: 'artifact', type: 'layout' };

type Head = { readonly title: string; readonly aside: string; readonly foot: string; readonly name?: string };

const style = (font: TypeStyle['font'], size: number): TypeStyle => ({
  font,
  size: size * UNIT,
  leading: 1.2 * size * UNIT,
  before: 0,
  after: 0,
});

/** A line of text made smaller until it fits. */
function fitted(text: string, wanted: TypeStyle, room: number, fonts: Fonts): { spans: readonly Span[]; size: number; width: number } {
  const natural = widthOf([spanOf(text, wanted)], wanted.size, fonts);
  const size = natural > room ? (wanted.size * room) / natural : wanted.size;
  const spans = [spanOf(text, { ...wanted, size })];
  return { spans, size, width: widthOf(spans, size, fonts) };
}

type Box = { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };

/** Key name if there is one, title, and the figure: in one line where there is room, else under one another. */
function headItems(head: Head, box: Box, fonts: Fonts): { items: PageItem[]; end: number } {
  const items: PageItem[] = [];
  const room = box.right - box.left;
  let y = box.top;
  const put = (text: string, wanted: TypeStyle, align: 'left' | 'right', width = room): void => {
    const { spans, size } = fitted(text, wanted, width, fonts);
    items.push(...textItems(lineOf(spans, box, y, size, align, fonts), TAG));
  };
  if (head.name !== undefined) {
    y += 7.4 * UNIT;
    put(head.name, style('display', 9.5), 'left');
  }
  const title = style('display', head.name === undefined ? 5.6 : 3.8);
  const aside = style('roman', 3.6);
  const together =
    widthOf([spanOf(head.title, title)], title.size, fonts) + widthOf([spanOf(head.aside, aside)], aside.size, fonts) + 4 * UNIT <= room;
  y += head.name === undefined ? 4.4 * UNIT : 5.6 * UNIT;
  put(head.title, title, 'left');
  if (!together) y += 5.4 * UNIT;
  put(head.aside, aside, together ? 'right' : 'left');
  return { items, end: y };
}

type Placed = { readonly block: ExerciseBlock; readonly from: number; readonly to: number };

const heightOf = ({ block, from, to }: Placed): number => stackHeight(block, from, to);

/** Cuts a block into slides of at most this height, as even as can be. */
function cut(block: ExerciseBlock, height: number): Placed[] {
  const count = block.systems.length;
  const greedy = (most: number): Placed[] => {
    const slides: Placed[] = [];
    let from = 0;
    for (let to = 1; to <= count; to++) {
      const next = to < count ? heightOf({ block, from, to: to + 1 }) : Number.POSITIVE_INFINITY;
      if (next <= height && to + 1 - from <= most) continue;
      slides.push({ block, from, to });
      from = to;
    }
    return slides;
  };
  const least = greedy(count).length;
  for (let most = Math.ceil(count / least); most < count; most++) {
    const even = greedy(most);
    if (even.length === least) return even;
  }
  return greedy(count);
}

/** Sizes of the staff that are tried, largest first: each a little smaller than the one before. */
const SPACES = Array.from(
  { length: Math.floor(Math.log(SPACE.smallest / SPACE.largest) / Math.log(SPACE.step)) + 1 },
  (_, i) => SPACE.largest * SPACE.step ** i,
);

/**
 * The largest staff at which the exercise fits one slide; where none can be read, as few slides as the smallest staff needs,
 * and the largest staff that needs no more. A larger staff takes more room, so halving finds it.
 */
function arrange(own: NotatedStaff, box: Box, fonts: Fonts): Placed[] {
  const shape = shapeScore(own.line, own.score, fonts);
  const width = box.right - box.left;
  const height = box.bottom - box.top;
  const scaleAt = (place: number): number => at(SPACES, place) * UNIT;
  const slidesAt = (place: number, breaks: readonly SystemBreak[]): Placed[] =>
    cut(
      exerciseBlock(own.line, width, scaleAt(place), () => shape, shape.fonts, breaks),
      height,
    );
  const breaksAt = (place: number): SystemBreak[] => breakSystems(shape, width / scaleAt(place));
  const last = SPACES.length - 1;
  let best = slidesAt(last, breaksAt(last));
  const fewest = best.length;
  /** The slides of this size if they are as few, with no bar too wide for the frame. */
  const asFew = (place: number): Placed[] | undefined => {
    const breaks = breaksAt(place);
    // Most sizes that do not fit are seen without a look at the ink: systems need at least this height.
    const least = ((breaks.length - fewest) * SYSTEM_AIR.leastStep + fewest * STAFF) * scaleAt(place);
    if (breaks.some(({ ratio }) => ratio < -1) || least > fewest * height) return undefined;
    const slides = slidesAt(place, breaks);
    return slides.length <= fewest && slides.every((slide) => heightOf(slide) <= height) ? slides : undefined;
  };
  let [tooLarge, fits] = [-1, last];
  while (fits - tooLarge > 1) {
    const middle = (fits + tooLarge) >> 1;
    const slides = asFew(middle);
    if (slides) best = slides;
    if (slides) fits = middle;
    else tooLarge = middle;
  }
  return best;
}

/** Systems over the room they have: a little opened, in the middle. */
function musicItems({ block, from, to }: Placed, box: Box, exercise: string): PageItem[] {
  const systems = block.systems.slice(from, to);
  const room = box.bottom - box.top - heightOf({ block, from, to });
  const open = Math.max(0, Math.min(OPEN * block.scale, room / Math.max(1, systems.length)));
  let y = box.top + (room - open * (systems.length - 1)) / 2 + (systems[0]?.above ?? 0);
  return systems.map((_, i): PageItem => {
    if (i > 0) y += at(block.steps, from + i - 1) + open;
    const drawing = block.draw(from + i);
    const slack = box.right - box.left - drawing.width * block.scale;
    // A lone short system stands in the middle, the end of a longer line at its left.
    const x = box.left + (block.systems.length === 1 ? slack / 2 : 0);
    return { kind: 'drawing', x, y, scale: block.scale, draw: () => drawing, exercise, system: from + i, tag: TAG };
  });
}

function slidesOf(own: NotatedStaff, head: Head, fonts: Fonts, options: SlideOptions): Slide[] {
  const { shape = '16:9', size = SHORT, ground = 'light' } = options;
  const [width, height] = shape === '16:9' ? [LONG, SHORT] : [SHORT, LONG];
  const box = { left: FRAME.side * UNIT, right: width - FRAME.side * UNIT, top: FRAME.top * UNIT, bottom: height - FRAME.bottom * UNIT };
  const heading = headItems(head, box, fonts);
  const music = { ...box, top: heading.end + FRAME.headGap * UNIT, bottom: box.bottom - FRAME.footGap * UNIT };
  const foot = style('italic', 2.2);
  const placed = arrange(own, music, fonts);
  const scale = size / SHORT;
  return placed.map((one, i): Slide => {
    const count = placed.length > 1 ? `${i + 1} of ${placed.length}` : '';
    const footLine = (text: string, align: 'left' | 'right'): PageItem[] =>
      textItems(lineOf([spanOf(text, foot)], box, box.bottom, foot.size, align, fonts), TAG);
    const page: Page = {
      label: String(i + 1),
      numbering: 'arabic',
      side: 'right',
      kind: 'music',
      items: [
        ...heading.items,
        ...musicItems(one, music, own.line.exercise.id),
        ...footLine(head.foot, 'left'),
        ...(count ? footLine(count, 'right') : []),
      ],
    };
    const words = [head.name, head.title, head.aside, head.foot, count].filter(Boolean).join(', ');
    const pixels = { width: width * scale, height: height * scale };
    return { svg: pageSvg(page, { width, height }, fonts, { title: words, colors: COLORS[ground], pixels }), ...pixels, words };
  });
}

/** `1 2 ♭3 5`. */
const figureWords = ({ exercise: { figure } }: Line): string =>
  figure.tones.map((tone) => degreeText(figure.text.slice(...tone.span))).join('  ');

/** The whole exercise: one slide if it can be read there, else as few as hold it. */
export function exerciseSlides(own: NotatedStaff, fonts: Fonts, options: SlideOptions = {}): Slide[] {
  const { exercise, player } = own.line;
  return slidesOf(own, { title: exercise.title, aside: figureWords(own.line), foot: player.instrument.name }, fonts, options);
}

/** One slide for each key, in the order of the exercise, in the direction of its first statement. */
export function keySlides(line: Line, fonts: Fonts, options: SlideOptions = {}): Slide[] {
  const { exercise, player } = line;
  // The key stands large over the music and need not stand there twice.
  const alone = oneKeyLines({ ...line, exercise: { ...exercise, keyNames: false } });
  return alone.flatMap((one) => {
    const key = one.statements[0]?.writtenKey;
    const head = { name: key ? keyText(key) : '', title: exercise.title, aside: figureWords(line), foot: player.instrument.name };
    return slidesOf({ line: one, score: barsOf(one) }, head, fonts, options).map((slide) => ({
      ...slide,
      words: key ? slide.words.replace(keyText(key), keyWords(key)) : slide.words,
    }));
  });
}
