/** Each rule beside a case that breaks it and nothing else; the same edition, unbroken, passes. */
import { describe, expect, it } from 'vitest';
import { barsOf } from '../../core/engrave/bars.js';
import { drawSystem } from '../../core/engrave/draw/system.js';
import type { GlyphMark, Mark, PolygonMark, RectMark, Role } from '../../core/engrave/drawing.js';
import { GLYPH } from '../../core/engrave/glyphs.js';
import { shapeScore } from '../../core/engrave/shape.js';
import type { Page, PageItem, TextRun } from '../../core/layout/page/page.js';
import type { Line } from '../../core/player/line.js';
import { fineInk, sharedDepth } from '../../core/proof/ink-shape.js';
import { faultText } from '../../core/proof/report.js';
import { RULES } from '../../core/proof/rules.js';
import { testFonts } from '../fonts.js';
import { type Built, built, type Damage, damaged, each, edged, failing, moved, nth, prove, withDocument, withItems } from './edition.js';

const plain = {
  figure: '1 2 3 5',
  order: ['C', 'F', 'Bb', 'Eb', 'Ab', 'G'],
  rhythm: 'quarters',
  padding: 'bar, rests',
  start: { written: 'C' },
};
const quick = { ...plain, figure: '1 2 3 5 4 3 2 1', rhythm: 'eighths' };

const quarters = built(plain);
const eighths = built(quick);
const signed = built({ ...plain, signs: 'signature' });
const flagged = built({ ...plain, figure: '1 3 2', rhythm: '1/4. 1/8 1/2' });
const high = built({ ...plain, figure: '1 3 5 8', contour: 'high' }, { instrument: 'flute', level: 'professional' });
const sixteenths = built({ ...quick, figure: '1 2 3 4 5 4 3 2', rhythm: 'eighth and two sixteenths' });
const blue = built({ ...plain, figure: '1 b3 5 3' });
const breathing = built({ ...quick, padding: 'bar, long note', tempo: { from: 76, to: 84 } });
const triplets = built({ ...plain, figure: '1 2 3 4 5 3', rhythm: 'eighth triplets', padding: 'bar, rests' });
const slurred = built({ ...quick, articulation: 'slur 4, tongue 4' });
const tied = built({ ...plain, padding: 'flow', rhythm: '1/2.', order: 'fourths' });
const whole: readonly (readonly [string, Built])[] = Object.entries({
  quarters,
  eighths,
  signed,
  flagged,
  high,
  sixteenths,
  blue,
  breathing,
  triplets,
  slurred,
  tied,
});

describe('unbroken editions pass', () => {
  it.each(whole)('%s', (_, edition) => {
    expect(failing(edition)).toEqual([]);
  });
});

const isOf = (event: number) => (mark: Mark) => mark.owner.event === event;
const shift = (dx: number, dy: number) => (mark: Mark) => moved(mark, dx, dy);
const isComma = (mark: Mark) => mark.role === 'breath' && mark.kind === 'glyph';
const gone = () => undefined;
const stretch =
  (edges: (box: RectMark['box']) => Partial<RectMark['box']>) =>
  (mark: Mark): Mark =>
    edged(mark, edges(mark.box));
const sign = (code: number) => (mark: Mark) => ({ ...mark, code }) as GlyphMark;

/** The stem of a note turned to the other side of its head. */
const turned =
  (role: Role, n: number): Damage =>
  (marks, system) => {
    if (system !== 0) return marks;
    const heads = marks.filter((m): m is GlyphMark => m.role === 'notehead').sort((a, b) => a.x - b.x);
    const head = heads[n] as GlyphMark;
    return marks.map((mark) => {
      if (mark.role !== role || mark.owner.event !== head.owner.event) return mark;
      const { box } = mark;
      const up = head.y - box.y0 > box.y1 - head.y;
      const width = box.x1 - box.x0;
      const y = [head.y, up ? head.y + 3.5 : head.y - 3.5] as const;
      const x0 = up ? head.box.x0 : head.box.x1 - width;
      return { ...mark, box: { x0, x1: x0 + width, y0: Math.min(...y), y1: Math.max(...y) } };
    });
  };

/** One end of a beam moved, the other kept. */
const tilted =
  (dy: number) =>
  (mark: Mark): Mark => {
    const { points, box } = mark as PolygonMark;
    const middle = (box.x0 + box.x1) / 2;
    const tilt = points.map(([x, y]) => [x, x > middle ? y + dy : y] as const);
    const ys = tilt.map((p) => p[1]);
    return { ...(mark as PolygonMark), points: tilt, box: { ...box, y0: Math.min(...ys), y1: Math.max(...ys) } };
  };

const thicker =
  (by: number) =>
  (mark: Mark): Mark => {
    const { points, box } = mark as PolygonMark;
    // The upper edge comes first.
    return {
      ...(mark as PolygonMark),
      points: points.map(([x, y], i) => [x, i < 2 ? y - by : y] as const),
      box: { ...box, y0: box.y0 - by },
    };
  };

/** A sign of the music font put on the first system. */
const added =
  (role: Role, code: number, place: (marks: readonly Mark[]) => readonly [number, number]): Damage =>
  (marks, system) => {
    if (system !== 0) return marks;
    const [x, y] = place(marks);
    const b = testFonts().glyph(code);
    return [
      ...marks,
      { kind: 'glyph', role, owner: {}, code, x, y, size: 1, box: { x0: x + b.x0, y0: y + b.y0, x1: x + b.x1, y1: y + b.y1 } },
    ];
  };

const head = (marks: readonly Mark[], n: number): GlyphMark =>
  marks.filter((m): m is GlyphMark => m.role === 'notehead').sort((a, b) => a.x - b.x)[n] as GlyphMark;

/** A group of stems and its beam, the beam nearer to the heads. */
const lowered =
  (by: number): Damage =>
  (marks, system) => {
    if (system !== 0) return marks;
    const beam = marks.filter((m): m is PolygonMark => m.role === 'beam').sort((a, b) => a.box.x0 - b.box.x0)[0] as PolygonMark;
    const under = (m: Mark) => m.role === 'stem' && m.box.x0 >= beam.box.x0 - 0.01 && m.box.x1 <= beam.box.x1 + 0.01;
    return marks.map((m) => (m === beam ? moved(m, 0, by) : under(m) ? edged(m, { y0: m.box.y0 + by }) : m));
  };

/** The first breath mark, with what belongs to it, moved over the next barline. */
const ontoBarline: Damage = (marks, system) => {
  const comma = marks.find(isComma);
  if (system !== 0 || !comma) return marks;
  const barline = Math.min(...marks.filter((m) => m.role === 'barline' && m.box.x0 >= comma.box.x1).map((m) => m.box.x0));
  const own = (m: Mark) => m.role === 'breath' && m.owner.event === comma.owner.event;
  return marks.map((m) => (own(m) ? moved(m, barline - comma.box.x0 - 0.2, 0) : m));
};

/** The first slur moved toward its heads until it shares so much ink with one of them. */
const grazing =
  (depth: number): Damage =>
  (marks, system) => {
    const slur = marks.filter((m) => m.role === 'slur').sort((a, b) => a.box.x0 - b.box.x0)[0];
    if (system !== 0 || !slur) return marks;
    const fonts = testFonts();
    const heads = marks.filter((m) => m.role === 'notehead').map((m) => fineInk(m, fonts));
    const deepest = (mark: Mark): number => Math.max(...heads.map((ink) => sharedDepth(ink, fineInk(mark, fonts))));
    const shifts = Array.from({ length: 300 }, (_, i) => (i % 2 ? -1 : 1) * 0.01 * Math.ceil(i / 2));
    const dy = shifts.find((by) => deepest(moved(slur, 0, by)) >= depth);
    if (dy === undefined) throw new Error('the slur meets no head');
    return marks.map((m) => (m === slur ? moved(m, 0, dy) : m));
  };

/** A line of text of a page, changed. */
const textThat =
  (pick: (item: Extract<PageItem, { kind: 'text' }>, page: Page) => boolean, change: (run: TextRun) => TextRun) =>
  (b: Built): Built =>
    withItems(b, (item, page) => (item.kind === 'text' && pick(item, page) ? { ...item, run: change(item.run) } : item));

const isTitle = (item: PageItem): boolean => item.kind === 'text' && item.tag.kind === 'element' && /^exercise .*-title$/.test(item.tag.id);
const onMusic = (_: PageItem, page: Page): boolean => page.kind === 'music';

/** A second system moved up or down by points. */
const systemMoved =
  (system: number, dy: number) =>
  (b: Built): Built =>
    withItems(b, (item) => (item.kind === 'drawing' && item.system === system ? { ...item, y: item.y + dy } : item));

/** The first right-hand page of music that faces one, its systems moved down: each by so many points more than the one above. */
const pageMoved =
  (each: number, all: number) =>
  (b: Built): Built => {
    const { pages } = b.edition.document;
    const index = pages.findIndex((page, i) => page.kind === 'music' && page.side === 'right' && pages[i - 1]?.kind === 'music');
    const moves = (page: Page): boolean => page === pages[index];
    let n = 0;
    return withItems(b, (item, page) => {
      if (!moves(page) || (item.kind === 'text' && item.tag.kind === 'artifact')) return item;
      if (item.kind === 'drawing') return { ...item, y: item.y + all + each * n++ };
      return item.kind === 'text' ? { ...item, run: { ...item.run, y: item.run.y + all } } : item;
    });
  };

/** The exercise set anew with its systems broken at these bars. */
const brokenAt =
  (...ends: readonly number[]) =>
  (b: Built): Built => {
    const line = [...b.edition.lines.values()][0] as Line;
    const fonts = testFonts();
    const shape = shapeScore(line, barsOf(line), fonts);
    const all = [...ends, shape.bars.length];
    let width: number | undefined;
    return withItems(b, (item) => {
      if (item.kind !== 'drawing' || item.exercise === undefined) return item;
      const { system = 0 } = item;
      width ??= item.draw().width;
      const to = all[system];
      if (to === undefined) return [];
      const spec = { from: all[system - 1] ?? 0, to, width };
      return { ...item, draw: () => drawSystem(shape, spec) };
    });
  };

/** rule, what is done, to which edition, how. */
const DAMAGES: readonly (readonly [number, string, Built, Damage])[] = [
  [1, 'a degree under its note moved onto the head before', quarters, nth('degree', 1, shift(-3, -3.2))],
  [1, 'a slur that grazes a head by a twelfth of a space', slurred, grazing(0.08)],
  [2, 'a barline moved near to the next note', quarters, nth('barline', 0, shift(0.6, 0))],
  [3, 'an accidental moved away from its head', blue, nth('accidental', 0, shift(-0.4, 0))],
  [4, 'the clef indented too far', quarters, nth('clef', 0, shift(0.6, 0))],
  [4, 'the time signature taken away', quarters, each((m) => m.role === 'time-signature', gone)],
  [5, 'the last sign of a signature moved to the right', signed, nth('key-signature', 3, shift(0.3, 0))],
  [6, 'a sharp for a flat', blue, nth('accidental', 0, (m) => moved(sign(GLYPH.accidentalSharp)(m), -0.12, 0))],
  [
    7,
    'a natural before a note that needs none',
    quarters,
    added('accidental', GLYPH.accidentalNatural, (m) => [head(m, 1).x - 1, head(m, 1).y]),
  ],
  [
    8,
    'a stem drawn too long',
    quarters,
    nth(
      'stem',
      0,
      stretch(({ y0 }) => ({ y0: y0 - 0.8 })),
    ),
  ],
  [
    9,
    'the stem of a high note drawn short',
    high,
    nth(
      'stem',
      3,
      stretch(({ y1 }) => ({ y1: y1 - 0.4 })),
    ),
  ],
  [10, 'a stem turned', quarters, turned('stem', 0)],
  [11, 'a stem beside its head', quarters, nth('stem', 0, shift(0.2, 0))],
  [12, 'a thick beam', eighths, nth('beam', 0, thicker(0.2))],
  [13, 'a beam tilted', eighths, nth('beam', 1, tilted(-0.6))],
  [14, 'a beam near to its heads', eighths, lowered(1.1)],
  [15, 'another time signature', quarters, nth('time-signature', 0, sign(GLYPH.timeSig0 + 3))],
  [16, 'a ledger line taken away', quarters, nth('ledger', 0, gone)],
  [
    16,
    'a ledger line drawn short',
    quarters,
    nth(
      'ledger',
      0,
      stretch(({ x0 }) => ({ x0: x0 + 0.3 })),
    ),
  ],
  [17, 'a note moved to the side', quarters, each(isOf(1), shift(0.3, 0))],
  [
    18,
    'a staff that ends before its last barline',
    quarters,
    each(
      (m) => m.role === 'staff-line',
      stretch(({ x1 }) => ({ x1: x1 - 0.5 })),
    ),
  ],
  [24, 'a breath mark on the barline after its note', breathing, ontoBarline],
  [24, 'breath marks moved over their notes', breathing, each((m) => m.role === 'breath', shift(-1.2, -0.5))],
  [24, 'breath marks taken away', breathing, each(isComma, gone)],
  [
    25,
    'a sign that the font lacks',
    quarters,
    (marks) => marks.map((m) => (m.kind === 'text' && m.role === 'degree' ? { ...m, text: '漢' } : m)),
  ],
];

/** What was said of every damaged edition, in the order of the tests. */
const told: string[] = [];

function found(b: Built): number[] {
  const { faults } = prove(b);
  told.push(...faults.map(faultText), '');
  return [...new Set(faults.map(({ rule }) => rule))];
}

describe('a damaged edition fails by its own rule', () => {
  it.each(DAMAGES.map(([rule, what, edition, damage]) => [rule, what, edition, damage] as const))(
    'rule %i: %s',
    (rule, _, edition, damage) => {
      expect(found(damaged(edition, damage))).toEqual([rule]);
    },
  );
});

const long = built({ ...quick, order: 'fourths', passes: 2, turnaround: 'restart' });
const many = built(Array.from({ length: 8 }, (_, i) => ({ ...plain, title: `Number ${i + 1}` })));
const spread = built({ ...plain, order: 'fourths', passes: 2, figure: '1 2 3 4 5 6 7 8 7 6 5 4 3 2 1' });
const crowd = built(Array.from({ length: 26 }, (_, i) => ({ ...plain, title: `Number ${i + 1}` })));
const two = built([plain, { ...plain, title: 'Second' }]);

/** rule, what is done, to which edition, how: what concerns pages and whole exercises. */
const PAGE_DAMAGES: readonly (readonly [number, string, Built, (b: Built) => Built])[] = [
  [19, 'three bars after six', built({ ...plain, order: ['C', 'F', 'Bb', 'Eb', 'Ab', 'G', 'D', 'A', 'E'] }), brokenAt(6)],
  [19, 'five bars after seven that are alike', built({ ...plain, order: 'fourths' }), brokenAt(7)],
  [20, 'a right page begun higher than the left one', crowd, pageMoved(0, -8)],
  [20, 'systems set nearer on the right page than on the left', spread, pageMoved(-4, 0)],
  [20, 'a system pushed up', long, systemMoved(1, -25)],
  [21, 'an exercise title in the margin', quarters, textThat(isTitle, (run) => ({ ...run, x: run.x + 700 }))],
  [21, 'another height of the staff', quarters, (b) => ({ ...b, book: { ...b.book, house: { ...b.book.house, staff: 8 } } })],
  [21, 'a margin of 10 mm', quarters, (b) => withDocument(b, (d) => ({ ...d, margins: { ...d.margins, top: 28 } }))],
  [
    22,
    'a title without its music',
    quarters,
    (b) => withItems(b, (item) => (item.kind === 'drawing' && item.exercise !== undefined ? { ...item, exercise: undefined } : item)),
  ],
  [
    23,
    'an exercise with another number',
    two,
    textThat(
      (item, page) => isTitle(item) && item.run.text === '2' && page.kind !== 'text',
      (run) => ({ ...run, text: '3' }),
    ),
  ],
  [
    23,
    'a page without its number',
    many,
    textThat(
      (item, page) => onMusic(item, page) && item.run.text === page.label,
      (run) => ({ ...run, text: 'x' }),
    ),
  ],
  [
    23,
    'a key name of another key',
    quarters,
    (b) =>
      damaged(
        b,
        nth('key-name', 0, (m) => ({ ...m, text: 'D' }) as Mark),
      ),
  ],
  [
    23,
    'a key that comes twice',
    quarters,
    (b) => withLine(b, (line) => ({ ...line, statements: line.statements.map((s, i) => (i === 2 ? { ...s, keyIndex: 1 } : s)) })),
  ],
  [
    24,
    'a note beyond the compass',
    quarters,
    (b) =>
      withLine(b, (line) => ({ ...line, player: { ...line.player, compass: { ...line.player.compass, high: line.player.compass.low } } })),
  ],
  [24, 'lungs of half a second', breathing, (b) => withLungs(b, 0.5)],
  [
    25,
    'a gray rule on a page of music',
    quarters,
    (b) => withItems(b, (item, page) => (isTitle(item) && page.kind !== 'text' ? [item, GRAY] : item)),
  ],
  [25, 'a link to nowhere', quarters, (b) => withItems(b, (item) => (item.kind === 'link' ? { ...item, target: 'nowhere' } : item))],
  [25, 'another page size', quarters, (b) => ({ ...b, edition: { ...b.edition, spec: { ...b.edition.spec, page: 'a4' } } })],
];

const GRAY: PageItem = { kind: 'rect', x: 100, y: 300, width: 10, height: 1, gray: 0.5, tag: { kind: 'artifact', type: 'layout' } };

function withLine(b: Built, change: (line: Line) => Line): Built {
  return { ...b, edition: { ...b.edition, lines: new Map([...b.edition.lines].map(([id, line]) => [id, change(line)])) } };
}

/** The same plans, for smaller lungs. */
function withLungs(b: Built, seconds: number): Built {
  const { breathing: known } = b.edition;
  if (!known) throw new Error('no breathing');
  const exercises = [...known.exercises].map(([id, one]) => {
    if (!one.ladder) throw new Error('no ladder');
    const rungs = one.ladder.rungs.map((r) => ({ ...r, plan: r.plan && { ...r.plan, lung: { ...r.plan.lung, seconds } } }));
    return [id, { ...one, ladder: { ...one.ladder, rungs } }] as const;
  });
  return { ...b, edition: { ...b.edition, breathing: { ...known, exercises: new Map(exercises) } } };
}

describe('damaged pages and exercises fail by their own rule', () => {
  it('unbroken they pass', () => {
    expect(failing(long)).toEqual([]);
    expect(failing(two)).toEqual([]);
    expect(failing(many)).toEqual([]);
    expect(failing(crowd)).toEqual([]);
    expect(failing(spread)).toEqual([]);
  });
  it.each(PAGE_DAMAGES.map((row) => row))('rule %i: %s', (rule, _, edition, damage) => {
    expect(found(damage(edition))).toEqual([rule]);
  });
});

describe('the list of rules', () => {
  it('has each number and each name once, in the order of the numbers', () => {
    const numbers = RULES.map(({ number }) => number);
    expect(numbers).toEqual([...new Set(numbers)].sort((a, b) => a - b));
    expect(new Set(RULES.map(({ id }) => id)).size).toBe(RULES.length);
  });

  it('has rules that look at something', () => {
    expect(RULES.filter(({ check }) => Object.keys(check).length === 0)).toEqual([]);
  });
});

describe('every rule has a case that breaks it', () => {
  it('of the list', () => {
    const broken = new Set([...DAMAGES, ...PAGE_DAMAGES].map(([rule]) => rule));
    expect(RULES.filter(({ number }) => !broken.has(number)).map(({ number, title }) => `${number} ${title}`)).toEqual([]);
  });
});

it('what was told of them is what was told before: place, words, amount and limit', async () => {
  await expect(told.join('\n')).toMatchFileSnapshot('likeness/faults.txt');
});
