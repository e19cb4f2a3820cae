/** A small document made by hand: three pages i–iii, four pages 1–4, everything a painter has to paint. */
import type { Drawing, FontName, Mark, Role } from '../../core/engrave/drawing.js';
import type { Document, Page, PageItem, Tag, TextRun } from '../../core/layout/page/page.js';
import { testFonts } from '../fonts.js';

export const FOLIO: Tag = { kind: 'artifact', type: 'pagination' };

export function element(type: Extract<Tag, { kind: 'element' }>['type'], id: string, alt?: string): Tag {
  return { kind: 'element', type, id, ...(alt === undefined ? {} : { alt }) };
}

type More = Partial<Pick<TextRun, 'features' | 'tracking'>>;

export function text(font: FontName, size: number, x: number, y: number, words: string, tag: Tag, more: More = {}): PageItem {
  const width = testFonts().width(font, words, more.features) * size + (more.tracking ?? 0) * words.length;
  return { kind: 'text', run: { font, size, x, y, text: words, width, ...more }, tag };
}

const CLEF = 0xe050;
const NOTEHEAD = 0xe0a4;
const FLAT = 0xe260;

/** One staff with a clef, eight eighths under beams and a slur. With `bars` it grows to a full system. */
export function staff(bars = 1): Drawing {
  const marks: Mark[] = [];
  const fonts = testFonts();
  const width = 6 + bars * 14;
  const rect = (role: Role, x0: number, y0: number, x1: number, y1: number, owner = {}): void => {
    marks.push({ kind: 'rect', role, owner, box: { x0, y0, x1, y1 } });
  };
  const glyph = (role: Role, code: number, x: number, y: number, owner = {}): void => {
    const ink = fonts.glyph(code);
    marks.push({
      kind: 'glyph',
      role,
      owner,
      code,
      x,
      y,
      size: 1,
      box: { x0: x + ink.x0, y0: y + ink.y0, x1: x + ink.x1, y1: y + ink.y1 },
    });
  };
  for (let line = 0; line < 5; line++) rect('staff-line', 0, line - 0.065, width, line + 0.065);
  glyph('clef', CLEF, 0.5, 3);
  for (let bar = 0; bar < bars; bar++) {
    const left = 5 + bar * 14;
    for (let i = 0; i < 8; i++) {
      const x = left + i * 1.7;
      const owner = { event: bar * 8 + i, bar };
      const y = 3.5 - (i % 4) / 2;
      if (i === 4) glyph('accidental', FLAT, x - 0.45, y, owner);
      glyph('notehead', NOTEHEAD, x, y, owner);
      rect('stem', x + 1.06, -0.5, x + 1.18, y - 0.15, owner);
    }
    for (const from of [0, 4]) {
      const x0 = left + from * 1.7 + 1.06;
      const x1 = left + (from + 3) * 1.7 + 1.18;
      const points = [
        [x0, -0.9],
        [x1, -1.1],
        [x1, -0.6],
        [x0, -0.4],
      ] as const;
      marks.push({ kind: 'polygon', role: 'beam', owner: { bar }, points, box: { x0, y0: -1.1, x1, y1: -0.4 } });
    }
    const x1 = left + 7 * 1.7 + 0.6;
    const ends = { from: [left + 0.6, 4.6] as const, to: [x1, 4.4] as const };
    const outer = [[left + 3, 6.2] as const, [x1 - 3, 6.1] as const] as const;
    const inner = [[left + 3, 5.9] as const, [x1 - 3, 5.8] as const] as const;
    marks.push({ kind: 'lens', role: 'slur', owner: { bar }, ...ends, outer, inner, box: { x0: left + 0.6, y0: 4.4, x1, y1: 5.9 } });
    rect('barline', left + 13.6, 0, left + 13.76, 4, { bar });
  }
  marks.push({
    kind: 'text',
    role: 'key-name',
    owner: { bar: 0 },
    font: 'bold',
    size: 2,
    x: 5,
    y: -2,
    text: 'AVATAR',
    box: { x0: 5, y0: -3.4, x1: 12, y1: -2 },
  });
  return { marks, width, top: -3.5, bottom: 6.2 };
}

const WIDTH = 431;
const HEIGHT = 612;
const PROSE = 'The office staff offer five fine waffles; AVATAR, Tokyo, Wm.';

function page(label: string, numbering: 'roman' | 'arabic', kind: Page['kind'], items: readonly PageItem[]): Page {
  return {
    label,
    numbering,
    side: Number(label) % 2 === 0 ? 'left' : 'right',
    kind,
    items: [...items, text('roman', 9, 210, 580, label, FOLIO)],
  };
}

function contentsLine(y: number, words: string, label: string, target: string): PageItem[] {
  const tag = element('TOCI', `toc-${target}`);
  return [
    text('roman', 11, 60, y, words, tag),
    text('roman', 11, 260, y, '. . . . . . . .', { kind: 'artifact', type: 'layout' }),
    text('roman', 11, 360, y, label, tag, { features: ['tnum', 'lnum'] }),
    { kind: 'link', x: 60, y: y - 9, width: 320, height: 12, target, words: `${words}, page ${label}` },
  ];
}

function music(exercise: string): PageItem {
  const tag = element('Figure', `figure-${exercise}`, `Exercise ${exercise}: eight eighths under a slur`);
  return { kind: 'drawing', x: 60, y: 200, scale: 5, draw: () => staff(), exercise, system: 0, tag };
}

function exercisePage(number: number): Page {
  const label = String(number);
  return page(label, 'arabic', 'music', [
    { kind: 'anchor', name: `exercise ${number}`, y: 80 },
    text('bold', 14, 60, 90, `Exercise ${label}`, element('H2', `h-${label}`)),
    text('roman', 11, 60, 120, PROSE, element('P', 'running-text')),
    music(label),
  ]);
}

const circle = 0.5523;

export const pages: readonly Page[] = [
  page('i', 'roman', 'title', [
    text('display', 30, 60, 150, 'Scales & Arpeggios', element('H1', 'title')),
    text('roman', 12, 60, 190, 'for clarinet in b', element('P', 'subtitle'), { features: ['smcp'], tracking: 0.8 }),
    text('music', 12, 177, 190, '♭', element('P', 'subtitle')),
    text('italic', 12, 60, 220, 'a first edition', element('P', 'edition')),
    text('bold-italic', 12, 60, 250, 'café, naïve: e\u0301x\u0301', element('P', 'accents')),
    { kind: 'rect', x: 60, y: 300, width: 120, height: 40, gray: 0.8, tag: { kind: 'artifact', type: 'layout' } },
    {
      kind: 'path',
      d: [
        ['M', 220, 320],
        ['C', 220, 320 - 20 * circle, 240 - 20 * circle, 300, 240, 300],
        ['C', 240 + 20 * circle, 300, 260, 320 - 20 * circle, 260, 320],
        ['L', 240, 340],
        ['Z'],
      ],
      stroke: 0.7,
      dash: [3, 2],
      tag: element('Figure', 'chart', 'Half a circle on a point'),
    },
    text('roman', 12, 60, 370, 'Old-style 0123456789', element('P', 'figures'), { features: ['onum'] }),
  ]),
  page('ii', 'roman', 'copyright', [
    text('roman', 9, 60, 100, 'First point', element('LI', 'li-1')),
    text('roman', 9, 60, 115, 'Second point', element('LI', 'li-2')),
    text('roman', 9, 60, 140, 'Range', element('TD', 'a1')),
    text('roman', 9, 160, 140, 'Level', element('TD', 'b1')),
    text('roman', 9, 60, 155, 'E3 to C6', element('TD', 'a2')),
    text('roman', 9, 160, 155, 'two', element('TD', 'b2')),
  ]),
  page('iii', 'roman', 'contents', [
    { kind: 'anchor', name: 'contents', y: 60 },
    text('roman', 18, 60, 80, 'Contents', element('H1', 'contents')),
    ...contentsLine(120, 'Chapter one', '1', 'chapter-1'),
    ...contentsLine(140, 'Exercise 2', '2', 'exercise 2'),
    ...contentsLine(160, 'Exercise 4', '4', 'exercise 4'),
  ]),
  page('1', 'arabic', 'chapter', [
    { kind: 'anchor', name: 'chapter-1', y: 60 },
    text('display', 22, 60, 90, 'Chapter one', element('H1', 'chapter-1')),
    text('roman', 11, 60, 120, PROSE, element('P', 'running-text')),
  ]),
  exercisePage(2),
  exercisePage(3),
  exercisePage(4),
];

export const sample: Document = {
  width: WIDTH,
  height: HEIGHT,
  margins: { top: 60, bottom: 60, inner: 60, outer: 50 },
  bleed: 9,
  cropMarks: true,
  pages,
  outline: [
    { title: 'Contents', anchor: 'contents', children: [] },
    {
      title: 'Chapter one — café',
      anchor: 'chapter-1',
      children: [
        { title: 'Exercise 2', anchor: 'exercise 2', children: [] },
        { title: 'Exercise 4', anchor: 'exercise 4', children: [] },
      ],
    },
  ],
  info: {
    title: 'Scales & Arpeggios <1>',
    author: 'A. N. Author',
    subject: 'Cycle exercises “in all keys”',
    keywords: 'scales, arpeggios',
    language: 'en-US',
    date: '2026-03-04',
  },
};

/** The sample with its first page replaced. */
export function withPage(items: readonly PageItem[]): Document {
  return { ...sample, outline: [], pages: [page('i', 'roman', 'text', items)] };
}
