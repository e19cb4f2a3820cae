import { describe, expect, it } from 'vitest';
import type { Result } from '../../core/base/issue.js';
import { type ExerciseLayout, layOutExercise } from '../../core/build/ensemble-layout.js';
import { buildParts } from '../../core/build/part.js';
import { buildScore } from '../../core/build/score.js';
import { scorePlan } from '../../core/build/score-staves.js';
import { barsOf } from '../../core/engrave/bars.js';
import { shapeScore } from '../../core/engrave/shape.js';
import type { Ensemble } from '../../core/ensemble/ensemble.js';
import { type EnsembleBook, ensembleBookOf } from '../../core/ensemble/ensemble-book.js';
import { unevenIssues } from '../../core/layout/music/matched-systems.js';
import { breakSystems, type SystemBreak, type Unevenness } from '../../core/layout/music/systems.js';
import type { Document } from '../../core/layout/page/page.js';
import { realise } from '../../core/player/realise.js';
import { testFonts } from '../fonts.js';
import { linesIn } from '../layout/setting.js';
import { opened, pdfOf } from '../output/read-pdf.js';
import { value } from '../player/fixture.js';
import { band, demoBook } from './band.js';
import { builtParts, laidOut } from './laid-out.js';

const book = demoBook('small-wheels');
const fonts = testFonts();

type Built = { readonly ensembleBook: EnsembleBook; readonly layouts: readonly ExerciseLayout[]; readonly parts: readonly Document[] };

function build(ensemble: Ensemble): Built {
  const ensembleBook = ensembleBookOf(book, ensemble);
  const layouts = laidOut(ensembleBook);
  return { ensembleBook, layouts, parts: builtParts(ensembleBook, layouts).map(({ document }) => document) };
}

const scoreOf = ({ ensembleBook, layouts }: Pick<Built, 'ensembleBook' | 'layouts'>): Result<Document> =>
  buildScore(
    ensembleBook,
    layouts.map((layout) => scorePlan(layout, ensembleBook.ensemble)),
    fonts,
  );

/**
 * Where each system begins, read back from the file: exercise numbers and bar numbers from the top of each page down. Both
 * stand at the left edge; a bar number is the only small italic figure there.
 */
async function breaksIn(document: Document): Promise<string[]> {
  const pdf = await opened(await pdfOf(document));
  const pages: string[] = [];
  for (let number = 1; number <= pdf.numPages; number++) {
    const { items } = await (await pdf.getPage(number)).getTextContent();
    const found = items.flatMap((item) => {
      if (!('str' in item) || !/^\d+$/.test(item.str)) return [];
      const [size, , , , x, y] = item.transform as number[] as [number, number, number, number, number, number];
      return [{ text: item.str, size: Math.round(size * 10) / 10, x, y }];
    });
    const left = Math.min(...found.map(({ x }) => x));
    const lines = found.filter(({ x, size }) => x < left + 1 && size > 5).sort((a, b) => b.y - a.y);
    pages.push(lines.map(({ text }) => text).join(' '));
  }
  return pages;
}

/** Systems of each page by the exercise they belong to, as the document has them. */
const systemsIn = ({ pages }: Document): string[] =>
  pages.map(
    ({ label, items }) =>
      `${label}: ${items.flatMap((item) => (item.kind === 'drawing' && item.exercise !== undefined ? [`${item.exercise}.${item.system}`] : [])).join(' ')}`,
  );

const mixed = band(book, 'flute*2 clarinet-in-bb:beginner*2 alto-saxophone horn-in-f:beginner trumpet-in-bb trombone tuba double-bass', {
  misfit: 'hold-root',
  breathing: { plan: 'staggered', tempo: 92 },
});

describe('the parts of an ensemble', () => {
  const built = build(mixed);

  it('break in the same places, read back from the files', async () => {
    const [first, ...others] = await Promise.all(built.parts.map(breaksIn));
    expect(first?.join(' ')).toMatch(/\b5\b/);
    for (const other of others) expect(other).toEqual(first);
  });

  it('have the same exercises on the same pages', () => {
    const [first, ...others] = built.parts.map((part) => systemsIn(part).filter((line) => line.includes('.')));
    expect(first?.length).toBeGreaterThan(3);
    for (const other of others) expect(other).toEqual(first);
  });

  it('would break elsewhere on their own', () => {
    const alone = mixed.chairs.map(({ player }) =>
      built.ensembleBook.exercises
        .map(({ exercise }) => {
          const line = realise({ ...exercise, misfit: { kind: 'turn' } }, player);
          return line.ok
            ? breakSystems(shapeScore(line.value, barsOf(line.value), fonts), 62)
                .map(({ to }) => to)
                .join()
            : '';
        })
        .join(' '),
    );
    expect(new Set(alone).size).toBeGreaterThan(1);
  });

  it('keep inside their pages', () => {
    for (const { pages, height, margins, width } of built.parts)
      for (const page of pages)
        for (const item of page.items) {
          if (item.kind !== 'drawing' || item.exercise === undefined) continue;
          const drawing = item.draw();
          expect(item.y + drawing.bottom * item.scale).toBeLessThan(height - margins.bottom + 1);
          expect(item.x + drawing.width * item.scale).toBeLessThan(width - Math.min(margins.inner, margins.outer) + 1);
        }
  });

  it('name the chair on the title page, and the written key where the score has the concert key', () => {
    const titles = built.parts.map((part) => linesIn(part.pages[0]?.items ?? []).join(' '));
    expect(titles[0]).toMatch(/flute, player 1/i);
    expect(titles[3]).toMatch(/clarinet in b♭, player 2/i);
    const heads = built.parts.map((part) =>
      part.pages.flatMap((page) => linesIn(page.items)).find((line) => /^2 Three steps .*,/.test(line)),
    );
    expect(heads[0]).toContain('B♭, E♭ and F');
    expect(heads[2]).toContain('C, F and G');
    expect(heads[4]).toContain('G, C and D');
  });

  it('of other staff and page sizes break alike too', async () => {
    const chairs = [
      { instrument: 'flute', staff: 9, page: 'a4' },
      { instrument: 'clarinet-in-bb', staff: 7 },
      { instrument: 'tuba', page: '9x12' },
    ];
    const { parts } = build(band(book, '', { chairs, misfit: 'leave-out' }));
    const [first, ...others] = parts.map((part) => systemsIn(part).filter((line) => line.includes('.')));
    for (const other of others) expect(other).toEqual(first);
  });
});

describe('what is uneven in the parts', () => {
  const systems = (...uneven: readonly (readonly Unevenness[])[]): SystemBreak[] =>
    uneven.map((own, i) => ({ from: i, to: i + 1, ratio: 0, justified: true, ...(own.length > 0 ? { uneven: own } : {}) }));

  it('is told once for all, by name, copies of one part together', () => {
    const parts = [
      { name: 'Flute', breaks: systems([], ['loose'], []) },
      { name: 'Flute', breaks: systems(['jump'], [], []) },
      { name: 'Oboe', breaks: systems([], [], []) },
      { name: 'Tuba', breaks: systems([], [], ['count', 'loose']) },
    ];
    const issues = unevenIssues('Steps', parts);
    expect(issues.map(({ code, severity }) => [code, severity])).toEqual([['uneven-systems', 'warning']]);
    expect(issues[0]?.message).toContain('Flute (1, 2) and Tuba (3).');
    expect(issues[0]?.message).not.toContain('Oboe');
  });

  it('is nothing where all are even, and a bar that is too wide is told with its part', () => {
    expect(unevenIssues('Steps', [{ name: 'Flute', breaks: systems([], []) }])).toEqual([]);
    expect(unevenIssues('Steps', [{ name: 'Flute', breaks: systems(['overfull'], []) }])).toEqual([]);
  });

  it('is not told again with each part', () => {
    const daybook = demoBook('keywrights-daybook');
    const six = band(daybook, 'flute oboe horn-in-f', { level: 'intermediate', misfit: 'hold-root', exercises: ['seventh-degrees'] });
    const ensembleBook = ensembleBookOf(daybook, six);
    const results = ensembleBook.exercises.map((one) => layOutExercise(ensembleBook, one, fonts));
    expect(results.flatMap(({ issues }) => issues.map(({ code }) => code))).toContain('uneven-systems');
    expect(buildParts(ensembleBook, results.map(value), fonts).issues).toEqual([]);
  });
});

describe('the score', () => {
  const score = (more: object): Document => {
    const ensemble = band(book, 'tuba flute*2 horn-in-f alto-saxophone clarinet-in-bb clarinet-in-bb trumpet-in-bb', {
      misfit: 'leave-out',
      breathing: { plan: 'together', tempo: 92 },
      ...more,
    });
    return value(scoreOf(build(ensemble)));
  };
  const firstSystem = (document: Document) => {
    const item = document.pages.flatMap((page) => page.items).find((one) => one.kind === 'drawing' && one.exercise !== undefined);
    if (item?.kind !== 'drawing') throw new Error('a score has a system');
    return item.draw();
  };

  it('has names in the published order from the top', () => {
    const { marks } = firstSystem(score({}));
    const lines = new Map<number, string>();
    for (const mark of marks) if (mark.role === 'label' && mark.kind === 'text') lines.set(mark.y, (lines.get(mark.y) ?? '') + mark.text);
    const names = [...lines].sort((a, b) => a[0] - b[0]).map(([, name]) => name.trim());
    expect(names).toEqual(['Flute', 'Clarinet 1 in B', 'Clarinet 2 in B', 'Alto saxophone', 'Trumpet in B', 'Horn in F', 'Tuba']);
  });

  it('has the notes of all staves in columns', () => {
    const { marks } = firstSystem(score({}));
    const columns = new Map<number, Set<number>>();
    for (const mark of marks) {
      if (mark.role !== 'notehead' || mark.kind !== 'glyph') continue;
      const part = mark.owner.part as number;
      columns.set(part, (columns.get(part) ?? new Set()).add(Math.round(mark.x * 1000)));
    }
    const [first, ...others] = [...columns.values()].map((xs) => [...xs].sort((a, b) => a - b).join());
    expect(columns.size).toBe(7);
    for (const other of others) expect(other).toBe(first);
  });

  it('has a bracket for each section and an inner one for each group', () => {
    const brackets = firstSystem(score({})).marks.filter((mark) => mark.role === 'bracket');
    // Woodwinds and brass: a bar and two wings each; the two clarinets: a line and two hooks.
    expect(brackets.filter((mark) => mark.kind === 'glyph').length).toBe(4);
    expect(brackets.filter((mark) => mark.kind === 'rect').length).toBe(2 + 3);
  });

  it('repeats a breath for every part that breathes', () => {
    const all = score({}).pages.flatMap((page) =>
      page.items.flatMap((item) => (item.kind === 'drawing' && item.exercise !== undefined ? [item.draw()] : [])),
    );
    const breaths = all.map(({ marks }) => marks.filter((mark) => mark.role === 'breath').length).filter((count) => count > 0);
    expect(breaths.length).toBeGreaterThan(0);
    for (const count of breaths) expect(count % 7).toBe(0);
  });

  it('is at concert pitch or transposed, and names concert keys either way', () => {
    const names = (document: Document) =>
      firstSystem(document)
        .marks.filter((mark) => mark.role === 'key-name')
        .map((mark) => (mark.kind === 'text' ? mark.text : 'b'))
        .join('');
    const flats = (document: Document, part: number) =>
      firstSystem(document).marks.filter((mark) => mark.role === 'accidental' && mark.owner.part === part).length;
    const [concert, transposed] = [score({ score: { pitch: 'concert' } }), score({ score: { pitch: 'transposed' } })];
    expect(names(concert)).toBe('BbEbF');
    expect(names(transposed)).toBe('BbEbF');
    expect(flats(concert, 1)).toBeGreaterThan(0);
    expect(flats(concert, 1)).not.toBe(flats(transposed, 1));
    expect(linesIn(transposed.pages[0]?.items ?? []).join(' ')).toMatch(/transposed score/i);
  });

  it('tells when the staff that is asked for does not fit, and keeps inside the page', () => {
    const ensemble = band(book, 'flute oboe clarinet-in-bb alto-saxophone trumpet-in-bb tuba', {
      misfit: 'leave-out',
      score: { staff: 9 },
      exercises: ['three-steps'],
    });
    expect(scoreOf(build(ensemble)).issues).toEqual([]);
    const crowded = band(book, Array(24).fill('flute').join(' '), { misfit: 'leave-out', score: { staff: 9 }, exercises: ['three-steps'] });
    const ensembleBook = ensembleBookOf(book, crowded);
    const result = scoreOf({ ensembleBook, layouts: laidOut(ensembleBook) });
    expect(result.issues.map(({ code }) => code)).toEqual(['score-staff-too-large']);
    expect(firstSystem(value(result)).bottom).toBeGreaterThan(100);
  });

  it('has full pages: the last staff of each stands at the foot', () => {
    const many = score({
      chairs:
        'flute oboe clarinet-in-bb clarinet-in-bb bass-clarinet alto-saxophone tenor-saxophone trumpet-in-bb horn-in-f trombone tuba double-bass'
          .split(' ')
          .map((instrument) => ({ instrument })),
    });
    const music = many.pages.filter((page) => page.kind === 'music');
    for (const page of music.slice(0, -1)) {
      const foot = Math.max(...page.items.map((item) => (item.kind === 'drawing' ? item.y + item.draw().bottom * item.scale : 0)));
      expect(many.height - many.margins.bottom - foot).toBeLessThan(0.12 * many.height);
      expect(foot).toBeLessThan(many.height - many.margins.bottom + 1);
    }
  });
});
