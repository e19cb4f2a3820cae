/** A book that states everything, read: every field as it is kept, and what is said of every field that is wrong. */
import { expect, it } from 'vitest';
import { readBook } from '../../core/book/read.js';
import { newBook } from '../../core/book/template.js';
import { writeJson } from '../../core/book/write.js';
import { value } from '../player/fixture.js';

const FULL = {
  format: 'twelvefold',
  version: 1,
  title: 'Everything',
  subtitle: 'And More',
  author: 'A. Writer',
  publisher: 'P',
  copyright: '© 2026',
  date: '2026-03-01',
  language: 'de-DE',
  preface: ['One.', '', 'Two.'],
  howToUse: 'Use it.',
  house: {
    page: 'a4',
    staff: 8,
    margins: { top: 20, bottom: 21, inner: 22, outer: 16 },
    binding: 'perfect',
    bleed: 3,
    cropMarks: true,
    chaptersOnRight: false,
  },
  extras: {
    compassChart: false,
    keyChart: false,
    scaleAppendix: true,
    figureIndex: false,
    keyIndex: true,
    contentsGrid: true,
    metronomeLadder: true,
    practiceRecord: true,
  },
  spelling: { tie: 'sharps', prefer: ['C#'] },
  breath: { print: 'marks', manner: 'added beat', added: '1/2', player: { longTone: 14, experience: 'advanced' } },
  editions: [
    'flute',
    {
      instrument: 'Clarinet in B♭',
      level: 'beginner',
      compass: { low: 'E3', high: 'Bb5' },
      spelling: { tie: 'flats' },
      staff: 9,
      page: 'letter',
      breath: { print: 'none' },
    },
    { instrument: 'tuba', breath: { manner: 'in time', player: { age: 30, height: 170, sex: 'female', lungs: 'adult' } } },
  ],
  defaults: { metre: '3/4', rhythm: 'quarters', tempo: { beat: 'dotted half', from: 40, to: 60 }, dynamic: 'mp' },
  chapters: [
    {
      id: 'one',
      title: 'One',
      text: 'Text with `1 2 3`.',
      defaults: { scale: 'dorian', signs: 'signature' },
      exercises: [
        {
          id: 'all',
          title: 'All',
          instruction: 'Go.',
          figure: '1 b3 5 r',
          scale: 'harmonic minor',
          rhythm: 'eighth triplets',
          metre: '6/8',
          padding: 'beat, rests',
          order: { name: 'minor-thirds', down: true, sets: [0, 2, 1] },
          directions: 'alternate-from-down',
          passes: 2,
          turnaround: 'repeat-last-key',
          start: { written: 'D' },
          ending: 'back-to-first-root',
          contour: 'sweep',
          misfit: { level: 'professional' },
          articulation: 'slur 2, tongue 1',
          variants: ['all slurred', 'all tongued, staccato'],
          dynamic: 'ff',
          tempo: { from: 60 },
          signs: 'accidentals',
          simpleSpelling: true,
          keyNames: false,
          degreeNumbers: false,
        },
        { figure: { library: 'turn' }, order: ['Bb', 'Em'], padding: 'flow', misfit: 'turn' },
        {
          title: 'Two',
          figure: '1',
          order: { name: 'shuffle', seed: 7 },
          start: { concert: 'Eb' },
          padding: 'bar, long note',
          misfit: 'leave-out',
        },
      ],
    },
  ],
};

const BEATS = ['half', 'dotted half', 'quarter', 'dotted quarter', 'eighth', 'dotted eighth', '1/4', '3/8', '1/16', 'breve'];
const ARTICULATIONS = [
  'all slurred',
  'all tongued',
  'slur 2, tongue 2',
  'slur 3',
  'tongue 1, slur 2',
  'staccato',
  'slur 0',
  'slur 65',
  'hop 2',
  'slur 2, staccato',
  'all tongued, accent',
  'tenuto',
  '',
];

type Fields = Record<string, unknown>;

/** The full book with one field of its first exercise, or of the book, another. */
const withField = (field: string, changed: unknown): Fields => {
  const [chapter] = FULL.chapters;
  return { ...FULL, chapters: [{ ...chapter, exercises: [{ ...chapter?.exercises[0], [field]: changed }] }] };
};
const told = (book: Fields): string =>
  readBook(JSON.stringify(book))
    .issues.map(({ code, severity, path, message }) => `${severity} ${code} at ${path.join('.')}: ${message}`)
    .join('\n') || 'nothing';

it('every field', async () => {
  const read = value(readBook(JSON.stringify(FULL)));
  await expect(`${JSON.stringify(read, null, 1)}\n`).toMatchFileSnapshot('likeness/book.json');
});

it('the book to begin from', async () => {
  await expect(writeJson(newBook('2026-03-01'))).toMatchFileSnapshot('likeness/new.json');
});

it('beats and articulations', async () => {
  const beats = BEATS.map((beat) => {
    const book = readBook(JSON.stringify(withField('tempo', { beat, from: 60, to: 80 })));
    return `${beat}: ${book.ok ? JSON.stringify(book.value.chapters[0]?.exercises[0]?.tempo) : told(withField('tempo', { beat, from: 60, to: 80 }))}`;
  });
  const words = ARTICULATIONS.map((text) => {
    const book = readBook(JSON.stringify(withField('articulation', text)));
    return `${text}: ${book.ok ? JSON.stringify(book.value.chapters[0]?.exercises[0]?.articulation) : told(withField('articulation', text))}`;
  });
  await expect(`${[...beats, ...words].join('\n')}\n`).toMatchFileSnapshot('likeness/words.txt');
});

it('what is wrong', async () => {
  const wrongs: readonly (readonly [field: string, changed: unknown])[] = [
    ...[5, '', 'x'.repeat(401), 'two\nlines'].map((title) => ['title', title] as const),
    ...[{ from: 19 }, { from: 20, to: 400 }, { from: 401 }, { from: 90, to: 60 }, { from: 'fast' }, {}].map(
      (tempo) => ['tempo', tempo] as const,
    ),
    ...['high', { concert: 'H' }, { concert: 'C', written: 'D' }, {}].map((start) => ['start', start] as const),
    ...['circle', ['H'], ['C', 'C'], { name: 'shuffle' }, { name: 'custom' }, { name: 'fourths', down: true }, []].map(
      (order) => ['order', order] as const,
    ),
    ...['4/3', '13/8', 4].map((metre) => ['metre', metre] as const),
    ['scale', 'klingon'],
    ['scale', 'harmonic-minor'],
    ['rhythm', 'eights'],
    ['figure', '1 x'],
    ['figure', { library: 'trun' }],
    ['figure', 7],
    ['padding', 'bar'],
    ['passes', 3],
    ['misfit', { level: 'expert' }],
    ['misfit', 'ignore'],
    ['dynamic', 'fff'],
    ['variants', ['hop']],
    ['keyNames', 'yes'],
    ['degreeNumber', true],
    ['id', 'ä'],
  ];
  const houses: readonly Fields[] = [
    { page: 'a5' },
    { staff: 3.9 },
    { staff: 4 },
    { staff: 12 },
    { staff: 12.1 },
    { bleed: 10.1 },
    { binding: 'glue' },
    { margins: { inner: 81 } },
    { margins: { inner: 80, outer: 80 } },
    { margins: { top: 80, bottom: 80 } },
  ];
  const editions: readonly unknown[] = [
    'flut',
    5,
    { instrument: 'flute', level: 'expert' },
    { instrument: 'flute', compass: { low: 'C6', high: 'C4' } },
    { instrument: 'flute', compass: { low: 'C1' } },
    { instrument: 'flute', compass: { low: 'x' } },
    { instrument: 'flute', breath: { player: { experience: 'expert', lungs: 'large', sex: 'x', age: 'ten', longTone: 'long' } } },
    { instrument: 'flute', breath: { print: 'all', manner: 'loudly' }, spelling: { tie: 'naturals' }, staff: 13, page: 'a3' },
    { instrument: 'flute', breath: { player: { lungTime: 91 } } },
    { instrument: 'flute', breath: { manner: 'added beat', added: '1/5' } },
    { instrument: 'flute', spelling: { prefer: ['H'] } },
  ];
  const books: readonly Fields[] = [
    { ...FULL, date: '2026-02-30' },
    { ...FULL, date: 'today' },
    { ...FULL, language: 'x' },
    { ...FULL, editions: [] },
    { ...FULL, chapters: [] },
    { ...FULL, editions: ['all'] },
    { ...FULL, editions: ['woodwinds', 'flute'] },
    { ...FULL, chapters: [...FULL.chapters, ...FULL.chapters] },
    { ...FULL, titel: 'x' },
  ];
  const lines = [
    ...wrongs.map(([field, changed]) => `— ${field} ${JSON.stringify(changed).slice(0, 60)}\n${told(withField(field, changed))}`),
    ...houses.map((house) => `— house ${JSON.stringify(house)}\n${told({ ...FULL, house })}`),
    ...editions.map((edition) => `— edition ${JSON.stringify(edition)}\n${told({ ...FULL, editions: [edition] })}`),
    ...books.map((book, i) => `— book ${i}\n${told(book)}`),
    ...['', '{', '[1]', '{"format":"x"}', '{"a":1,"a":2}', '\ufeff{}'].map(
      (text) =>
        `— text ${JSON.stringify(text)}\n${readBook(text)
          .issues.map(({ code, message }) => `${code}: ${message}`)
          .join('\n')}`,
    ),
  ];
  await expect(`${lines.join('\n')}\n`).toMatchFileSnapshot('likeness/faults.txt');
});
