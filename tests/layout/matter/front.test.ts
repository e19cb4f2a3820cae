import { describe, expect, test } from 'vitest';
import { type ContentsEntry, contentsPages } from '../../../core/layout/matter/contents.js';
import { contentsGridPages } from '../../../core/layout/matter/contents-grid.js';
import { footFolio, runningHead } from '../../../core/layout/matter/furniture.js';
import { chapterOpening, textPages } from '../../../core/layout/matter/text-pages.js';
import { copyrightNotice, copyrightPage, monthAndYear, titlePage } from '../../../core/layout/matter/title-page.js';
import { bodyOf, pagesOn, type Setting } from '../../../core/layout/page/geometry.js';
import type { PageItem } from '../../../core/layout/page/page.js';
import { linesIn, outside, outsideAll, runsIn, SIZES, settingOf } from '../setting.js';

const LONG = 'A figure with so long a title that it has to go on to a second line, since it names B♭, F♯ and every other key of the circle';
const BOOK = {
  title: 'Figures in Twelve Keys',
  subtitle: 'Daily exercises',
  instrument: 'B♭ Clarinet',
  edition: 'Edition for B♭ Clarinet',
  author: 'A. N. Author',
  publisher: 'Example Press',
};
const ESSAY = 'The hand learns the shape and the ear learns the sound before the eye has read a single note. '.repeat(9);

/** Seventy exercises in seven chapters; every ninth title is long. */
function entries(page: (n: number) => string = (n) => String(n + 4)): ContentsEntry[] {
  return Array.from({ length: 7 }, (_, c): ContentsEntry[] => [
    { level: 'chapter', number: String(c + 1), title: `Chapter of ${c + 1}`, page: page(10 * c), anchor: `c${c}` },
    ...Array.from({ length: 10 }, (_, e): ContentsEntry => {
      const n = 10 * c + e + 1;
      return { level: 'exercise', number: String(n), title: n % 9 === 0 ? LONG : `Exercise ${n}`, page: page(n), anchor: `e${n}` };
    }),
  ]).flat();
}

const links = (items: readonly PageItem[]) => items.filter((item) => item.kind === 'link');

describe('contents', () => {
  const setting = settingOf('a4', 7.5);
  const pages = contentsPages(entries(), setting);
  const items = pages.flatMap((p) => p.items);

  test('seventy exercises take more than one page, each entry a link over its whole line', () => {
    expect(pages.length).toBeGreaterThan(1);
    expect(links(items).map((l) => l.target)).toEqual(entries().map((e) => e.anchor));
    expect(new Set(links(items).map((l) => l.width.toFixed(3))).size).toBe(1);
  });

  test('page numbers end at one x on each page', () => {
    for (const page of pages) {
      const right = links(page.items).map((l) => l.x + l.width)[0]!;
      const ends = runsIn(page.items).filter((r) => /^\d+$/.test(r.text) && r.x > right - 40);
      expect(ends.length).toBe(links(page.items).length);
      for (const run of ends) expect(run.x + run.width).toBeCloseTo(right, 6);
    }
  });

  test('the dots of all leaders stand on one grid and stop short of the numbers', () => {
    for (const page of pages) {
      const dots = runsIn(page.items).filter((r) => /^\.+$/.test(r.text));
      expect(dots.length).toBeGreaterThan(10);
      const ends = dots.map((r) => r.x + r.width);
      for (const end of ends) expect(end).toBeCloseTo(ends[0]!, 6);
      const period = dots[0]!.width / dots[0]!.text.length;
      // The dots that are drawn are as far apart as reckoned: advance of one more dot, kerned, and the letter-space.
      const { fonts } = setting;
      const one = (fonts.width('roman', '...') - fonts.width('roman', '..')) * dots[0]!.size + dots[0]!.tracking!;
      expect(one).toBeCloseTo(period, 6);
    }
  });

  test('a long title goes on under its beginning, with the number on its last line', () => {
    const runs = runsIn(items);
    const start = runs.find((r) => r.text === 'A ')!;
    const end = runs.filter((r) => r.text.startsWith('circle')).at(0)!;
    const page = runs.find((r) => r.text === '13' && Math.abs(r.y - end.y) < 0.01);
    expect(end.y).toBeGreaterThan(start.y);
    expect(page).toBeDefined();
  });

  test('the number of pages does not depend on the page numbers', () => {
    for (const size of SIZES) {
      const counts = ['0', '000', '9999'].map(
        (text) =>
          contentsPages(
            entries(() => text),
            settingOf(size, 8),
          ).length,
      );
      expect(new Set(counts).size).toBe(1);
    }
  });

  test('a chapter is never the last line of a page', () => {
    for (const chapters of [3, 4, 5, 7, 11]) {
      const list = Array.from(
        { length: 40 },
        (_, i): ContentsEntry => ({
          level: i % chapters === 0 ? 'chapter' : 'exercise',
          number: String(i),
          title: `T${i}`,
          page: String(i),
          anchor: `a${i}`,
        }),
      );
      for (const page of contentsPages(list, settingOf('letter', 9))) {
        const last = Number(links(page.items).at(-1)!.target.slice(1));
        if (last < 38) expect(last % chapters).not.toBe(0);
      }
    }
  });
});

describe('title and copyright pages', () => {
  test('hold what the book says, in order', () => {
    expect(linesIn(titlePage(BOOK, settingOf()).items)).toEqual([BOOK.title, BOOK.subtitle, BOOK.instrument, BOOK.author, BOOK.publisher]);
    const bare = { ...BOOK, subtitle: '', author: '', publisher: '' };
    expect(linesIn(titlePage(bare, settingOf()).items)).toEqual([BOOK.title, BOOK.instrument]);
  });
  test('a long title is set smaller, in lines that do not collide', () => {
    const runs = runsIn(titlePage({ ...BOOK, title: `${LONG} ${LONG}` }, settingOf()).items).filter((r) => r.font === 'display');
    expect(Math.max(...runs.map((r) => r.size))).toBeLessThan(settingOf().styles['book-title'].size);
  });
  test.each([
    ['Example Press', '2026-11-25', 'Copyright © 2026 Example Press'],
    ['© 2019–2026 The Owner', '2026-11-25', '© 2019–2026 The Owner'],
    ['', '2026-11-25', ''],
  ])('notice for %j', (owner, date, expected) => expect(copyrightNotice(owner, date)).toBe(expected));
  test.each([
    ['2026-11-25', 'November 2026'],
    ['2026', '2026'],
    ['', ''],
  ])('printing of %j', (date, expected) => expect(monthAndYear(date)).toBe(expected));
  test('the copyright page names edition and typefaces', () => {
    const text = linesIn(copyrightPage({ ...BOOK, copyright: 'Example Press', date: '2026-11-25' }, settingOf()).items).join(' ');
    expect(text).toContain('Edition for B♭ Clarinet, November 2026');
    expect(text).toContain('Copyright © 2026 Example Press');
    expect(text).toContain('SIL Open Font License');
  });
});

describe('chapter openings and text pages', () => {
  const opening = { number: 'Chapter 2', title: 'Triads', text: ESSAY, anchor: 'chapter-2' };
  test('an opening says where music may begin below it', () => {
    const { pages, end } = chapterOpening(opening, settingOf());
    expect(pages.map((p) => p.kind)).toEqual(['chapter']);
    expect(end).toBeGreaterThan(Math.max(...runsIn(pages[0]!.items).map((r) => r.y)));
    const bare = chapterOpening({ ...opening, text: '' }, settingOf());
    expect(linesIn(bare.pages[0]!.items)).toEqual(['Chapter 2', 'Triads']);
  });
  test('a long text goes on over pages of the measure, whichever side they are on', () => {
    const pages = textPages({ title: 'Preface', text: Array(12).fill(ESSAY).join('\n\n'), anchor: 'preface' }, settingOf());
    expect(pages.length).toBeGreaterThan(1);
    const lefts = pages.map((p) => Math.min(...runsIn(p.items).map((r) => r.x)));
    const bodies = pages.map((_, i) => bodyOf(pagesOn(settingOf().geometry, i), settingOf().styles));
    expect(lefts[1]! - lefts[0]!).toBeCloseTo(bodies[1]!.left - bodies[0]!.left, 6);
    expect(pages[0]!.items.some((item) => item.kind === 'anchor' && item.name === 'preface')).toBe(true);
  });
});

describe('running heads', () => {
  const head = { folio: '12', instrument: 'B♭ Clarinet', title: BOOK.title };
  const order = (side: 'left' | 'right') => linesIn(runningHead(head, settingOf('letter', 7.5, side))).join('');
  test('the folio is in the outside corner', () => {
    expect(order('left')).toBe(`12 ${BOOK.title} B♭ Clarinet`);
    expect(order('right')).toBe(`B♭ Clarinet ${BOOK.title} 12`);
  });
  test('a long title is shortened instead of running into its neighbours', () => {
    const runs = runsIn(runningHead({ ...head, title: `${LONG} ${LONG}` }, settingOf())).sort((a, b) => a.x - b.x);
    for (let i = 1; i < runs.length; i++) expect(runs[i]!.x).toBeGreaterThanOrEqual(runs[i - 1]!.x + runs[i - 1]!.width - 1e-6);
    expect(runs.some((r) => r.text.endsWith('…'))).toBe(true);
  });
  test('is page furniture, not text', () => {
    const items = [...runningHead(head, settingOf()), ...footFolio('3', settingOf())];
    expect(items.every((item) => item.kind === 'text' && item.tag.kind === 'artifact')).toBe(true);
  });
});

const GRID = {
  keys: ['C', 'F', 'B♭', 'E♭', 'A♭', 'D♭', 'G♭', 'B', 'E', 'A', 'D', 'G'],
  rows: Array.from({ length: 60 }, (_, i) => ({
    number: String(i + 1),
    title: i % 9 === 0 ? LONG : `Exercise ${i + 1}`,
    cells: Array.from({ length: 12 }, (_, k) => (k === i % 12 ? undefined : { page: String(100 + i), anchor: `e${i}` })),
  })),
};

test('the grid has a cell for each key of each exercise that has it', () => {
  const pages = contentsGridPages(GRID, settingOf());
  expect(links(pages.flatMap((p) => p.items)).length).toBe(60 * 11);
  const wide = {
    keys: Array.from({ length: 40 }, (_, i) => `K${i}`),
    rows: [{ number: '1', title: 'T', cells: Array(40).fill({ page: '100', anchor: 'e' }) }],
  };
  expect(links(contentsGridPages(wide, settingOf()).flatMap((p) => p.items)).length).toBe(40);
});

const everything = (setting: Setting) => [
  ...contentsPages(entries(), setting),
  ...contentsGridPages(GRID, setting),
  ...textPages({ title: LONG, text: Array(9).fill(ESSAY).join('\n\n'), anchor: 'x' }, setting),
];

describe.each(SIZES)('on %s', (size) => {
  test.each([
    [7, 'right'],
    [7.5, 'left'],
    [9, 'right'],
  ] as const)('with a staff of %f mm, beginning on the %s, nothing stands outside the margins', (staff, side) => {
    const setting = settingOf(size, staff, side);
    for (const builder of [contentsPages(entries(), setting), contentsGridPages(GRID, setting)])
      expect(outsideAll(builder, setting)).toEqual([]);
    const instrument = 'E♭ Contrabass Clarinet';
    const long = { ...BOOK, title: LONG, subtitle: LONG, instrument, edition: `Edition for ${instrument}`, publisher: LONG };
    const single = [
      titlePage(long, setting).items,
      copyrightPage({ ...long, copyright: LONG, date: '2026-11-25' }, setting).items,
      runningHead({ folio: 'xxviii', instrument: LONG, title: LONG }, setting),
      footFolio('128', setting),
    ];
    for (const items of single) expect(outside(items, setting.geometry)).toEqual([]);
    expect(
      outsideAll(
        chapterOpening({ number: 'Chapter 12', title: LONG, text: `${ESSAY}\n\n`.repeat(9), anchor: 'c' }, setting).pages,
        setting,
      ),
    ).toEqual([]);
  });

  test('every character of every run is in its font', () => {
    const setting = settingOf(size, 8);
    for (const run of everything(setting).flatMap((p) => runsIn(p.items)))
      expect(setting.fonts.covers(run.font, run.text), run.text).toBe(true);
  });
});

test('ink outside the margins is found', () => {
  const setting = settingOf();
  const moved = titlePage(BOOK, setting).items.map((item) =>
    item.kind === 'text' ? { ...item, run: { ...item.run, x: item.run.x + 300 } } : item,
  );
  expect(outside(moved, setting.geometry)).not.toEqual([]);
});
