import { describe, expect, test } from 'vitest';
import type { Drawing } from '../../../core/engrave/drawing.js';
import { type Figure, parseFigure } from '../../../core/exercise/figure.js';
import { figureIndexPages, joinedPages, keyIndexPages } from '../../../core/layout/matter/index-pages.js';
import { circleOfKeys, fifthsAt, keyChartPages, signatureText } from '../../../core/layout/matter/key-chart.js';
import { METRONOME_RUNS, metronomeLadderPage } from '../../../core/layout/matter/metronome-ladder.js';
import { practiceRecordPages } from '../../../core/layout/matter/practice-record.js';
import { snippetPages } from '../../../core/layout/matter/snippet-pages.js';
import { keyAtFifths, type keyText, transposeKey } from '../../../core/theory/key.js';
import { linesIn, outsideAll, runsIn, SIZES, settingOf } from '../setting.js';

const figure = (text: string): Figure => {
  const read = parseFigure(text);
  if (!read.ok) throw new Error(text);
  return read.value;
};
const refs = (...pages: (number | string)[]) => pages.map((page) => ({ page: String(page), anchor: `p${page}` }));
const many = refs(...Array.from({ length: 40 }, (_, i) => 10 + 2 * i));

describe('indexes', () => {
  test.each([
    [refs(4, 12, 13, 14), '4 12–14'],
    [refs(5, 5, 6), '5–6'],
    [refs('iv', 'v', 1), 'iv v 1'],
    [refs(), ''],
  ])('pages %#', (references, expected) =>
    expect(
      joinedPages(references)
        .map((r) => r.page)
        .join(' '),
    ).toBe(expected),
  );

  test('figures stand in order of their degrees', () => {
    const texts = ['5 4 3', '1 2 3 5', '1 b3 5', '1 2 3', '1 3 5', 'b1 2'];
    const [page] = figureIndexPages(
      texts.map((t) => ({ figure: figure(t), references: refs(7) })),
      settingOf(),
    );
    const lines = linesIn(page!.items).slice(1);
    const left = lines.map((line) => line.replace(/\s*7\b.*$/, ''));
    expect(left[0]).toContain('♭1 2');
    expect(page!.items.filter((item) => item.kind === 'link').map((item) => item.words)).toEqual(
      ['♭1 2', '1 2 3', '1 2 3 5', '1 ♭3 5', '1 3 5', '5 4 3'].map((t) => `Figure ${t}, page 7`),
    );
  });

  test('a key with many pages goes on below with an indent', () => {
    const [page] = keyIndexPages([{ key: keyAtFifths(-2, 'major'), references: many }], settingOf());
    const runs = runsIn(page!.items);
    expect(runs.filter((r) => /^\d+/.test(r.text)).length).toBe(40);
    expect(new Set(runs.map((r) => r.y.toFixed(2))).size).toBeGreaterThan(2);
  });
});

test('the metronome ladder has the traditional marks', () => {
  // Common practice, from memory: 40–60 by 2, 60–72 by 3, 72–120 by 4, 120–144 by 6, 144–208 by 8: 39 marks.
  const marks = METRONOME_RUNS.flat();
  const known =
    '40 42 44 46 48 50 52 54 56 58 60 63 66 69 72 76 80 84 88 92 96 100 104 108 112 116 120 126 132 138 144 152 160 168 176 184 192 200 208';
  expect(marks.join(' ')).toBe(known);
  const printed = runsIn(metronomeLadderPage(settingOf()).items).flatMap((r) => (/^\d+$/.test(r.text) ? [Number(r.text)] : []));
  expect(printed.sort((a, b) => a - b)).toEqual(marks);
});

describe('circle of keys', () => {
  const items = circleOfKeys(300, 300, 400, settingOf());
  test('each step clockwise is a fifth', () => {
    for (let place = 0; place < 12; place++) {
      for (const fifths of fifthsAt(place)) expect((((fifths - place) % 12) + 12) % 12).toBe(0);
    }
    expect(
      Array.from({ length: 12 }, (_, p) => fifthsAt(p))
        .flat()
        .sort((a, b) => a - b),
    ).toEqual(Array.from({ length: 15 }, (_, i) => i - 7));
  });
  test('C is at the top, E♭ at the left, its relative minor inside it', () => {
    const bold = runsIn(items).filter((r) => r.font === 'bold');
    const c = bold.find((r) => r.text === 'C')!;
    expect(c.x + c.width / 2).toBeCloseTo(300, 6);
    expect(c.y).toBeLessThan(200);
    const e = bold.filter((r) => r.text === 'E').sort((a, b) => a.x - b.x)[0]!;
    const cm = runsIn(items).find((r) => r.text === 'Cm')!;
    expect(e.x).toBeLessThan(cm.x);
    expect(Math.abs(e.y - cm.y)).toBeLessThan(3);
  });
  test.each([
    [0, '0'],
    [-3, '3♭'],
    [5, '5♯'],
  ])('signature of %i', (fifths, expected) => expect(signatureText(fifths)).toBe(expected));
  test('the chart says what sounds, with no signature beyond six signs', () => {
    const down = (key: Parameters<typeof keyText>[0]) => transposeKey(key, { steps: -1, semitones: -2 });
    const lines = keyChartPages({ concert: down }, settingOf()).flatMap((p) => linesIn(p.items));
    expect(lines.some((line) => /^3♭\s*E♭\s*C\s*B♭\s*E♭\s*A♭\s*D♭, ?B♭m$/.test(line))).toBe(true);
    // B double flat has nine flats: A is what a player calls it.
    expect(lines.find((line) => line.startsWith('7♭'))).toMatch(/A, ?F♯m$/);
  });
});

const EXERCISES = Array.from({ length: 64 }, (_, i) => ({
  number: String(i + 1),
  title: `Exercise with a title of some length ${i + 1}`,
  goal: '60–120',
}));

test('the practice record has every exercise once and repeats its head', () => {
  const pages = practiceRecordPages({ exercises: EXERCISES, weeks: 8 }, settingOf());
  expect(pages.length).toBeGreaterThan(1);
  const numbers = pages
    .flatMap((p) => runsIn(p.items))
    .flatMap((r) => (/^\d+$/.test(r.text) && r.font === 'roman' ? [Number(r.text)] : []));
  expect(numbers).toEqual(EXERCISES.map((e) => Number(e.number)));
  for (const page of pages) expect(linesIn(page.items).some((line) => line.startsWith('No. Exercise'))).toBe(true);
});

const staff: Drawing = { marks: [], width: 60, top: -3, bottom: 7 };
const SCALES = {
  title: 'Scales',
  anchor: 'scales',
  text: 'Play each scale in one breath.',
  snippets: Array.from({ length: 30 }, (_, i) => ({
    label: i % 2 ? '' : 'B♭ major',
    drawing: { ...staff, width: i === 3 ? 400 : 60 },
    alt: `Scale ${i}`,
    caption: i % 3 ? '' : 'lowest and highest',
  })),
};

test('snippets keep their order, clear of one another, and a wide one is drawn smaller', () => {
  const pages = snippetPages(SCALES, 5, settingOf());
  expect(pages.length).toBeGreaterThan(1);
  for (const page of pages) {
    const drawings = page.items.filter((item) => item.kind === 'drawing');
    for (let i = 1; i < drawings.length; i++) {
      const [a, b] = [drawings[i - 1]!, drawings[i]!];
      expect(b.y + staff.top * b.scale).toBeGreaterThan(a.y + staff.bottom * a.scale);
    }
  }
  const all = pages.flatMap((p) => p.items).filter((item) => item.kind === 'drawing');
  expect(all.map((d) => d.tag.kind === 'element' && d.tag.alt)).toEqual(SCALES.snippets.map((s) => s.alt));
  expect(all[3]!.scale).toBeLessThan(5);
});

describe.each(SIZES)('on %s', (size) => {
  test.each([7, 9])('with a staff of %f mm nothing stands outside the margins', (height) => {
    const setting = settingOf(size, height);
    const figures = Array.from({ length: 90 }, (_, i) => ({
      figure: figure(`1 2 b3 ${(i % 14) + 1} ${(i % 7) + 1}${i % 5 ? '' : ' 8 7 6 5 4 3 2 1 2 3 4 5'}`),
      references: i % 4 ? refs(i) : many,
    }));
    const keys = Array.from({ length: 15 }, (_, i) => ({ key: keyAtFifths(i - 7, 'major'), references: many }));
    const all = [
      figureIndexPages(figures, setting),
      keyIndexPages(keys, setting),
      [metronomeLadderPage(setting)],
      practiceRecordPages({ exercises: EXERCISES, weeks: 12 }, setting),
      keyChartPages({ concert: (key) => key }, setting),
      snippetPages(SCALES, 5, setting),
    ];
    for (const pages of all) {
      expect(outsideAll(pages, setting)).toEqual([]);
      for (const run of pages.flatMap((p) => runsIn(p.items))) expect(setting.fonts.covers(run.font, run.text), run.text).toBe(true);
    }
    expect(keyChartPages({}, setting).length).toBe(1);
  });
});
