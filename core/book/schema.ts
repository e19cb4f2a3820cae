/**
 * The shape of a saved book. What a field may hold, what it is for and what holds without it are stated here and in the two
 * files beside it, player-fields.ts and settings-fields.ts; what it means (is there such an instrument, does the figure parse)
 * is found out when the book is resolved.
 */
import { z } from 'zod';
import type { Result } from '../base/issue.js';
import type { House } from './book.js';
import { checkFields } from './check-fields.js';
import { EXTRAS_DEFAULT, houseDefaults, LANGUAGE_DEFAULT } from './defaults.js';
import { choice, fields, flag, line, list, number, optional, optionalLine, prose, required, schemaField, wrong } from './field.js';
import type { JsonObject } from './json.js';
import { breather, name, pages, player, spelling, staff } from './player-fields.js';
import { settings } from './settings-fields.js';

const BINDINGS = ['none', 'stapled', 'punched', 'perfect'] as const satisfies readonly House['binding'][];
const HOUSE = houseDefaults();

const breath = fields('an object such as {"print": "marks and ladders", "manner": "in time"}', {
  print: optional(
    choice(['none', 'marks', 'marks and ladders'], {
      none: 'nothing',
      marks: 'breath marks in the music',
      'marks and ladders': 'breath marks, and under each exercise how many breaths it takes at faster and faster tempos',
    }),
    'What is printed about breathing.',
    { default: 'marks and ladders', examples: ['marks'] },
  ),
  manner: optional(
    choice(['in time', 'added beat'], {
      'in time': 'the note before the breath gives up some of its time',
      'added beat': 'the music stops for a breath',
    }),
    'Where the time for a breath comes from.',
    { default: 'in time', examples: ['added beat'] },
  ),
  added: optional(
    line('the value by which the music stops, such as "1/4"', 16),
    'With "added beat": for how long the music stops, as a fraction of a whole note.',
    { leftOut: 'one beat', examples: ['1/4'] },
  ),
  player: optional(breather, 'Whose lungs the marks are computed for.', {
    leftOut: 'an adult of whom nothing is known',
    examples: [{ longTone: 14 }, { lungs: 'teen' }],
  }),
});

const EDITION = 'the id of an instrument, or an object such as {"instrument": "flute", "level": "advanced"}';
const edition = z.union(
  [
    line('the id of an instrument'),
    fields(EDITION, {
      ...player,
      instrument: required(
        line('the id of an instrument, such as "alto-saxophone"'),
        'An instrument (an id that `twelvefold instruments` lists, or its printed name), or a family in one word.',
        { examples: ['alto-saxophone', 'saxophones'] },
      ),
      breath: optional(breath, 'Breath marks of this edition. What is not said here follows the book.', {
        leftOut: 'as the book says',
        examples: [{ print: 'none' }, { player: { lungs: 'child' } }],
      }),
    }),
  ],
  { error: wrong(EDITION) },
);

const defaults = fields('an object with settings for exercises, such as {"metre": "4/4"}', settings);

const FIGURE = 'the figure as degrees, such as "1 2 3 5", or {"library": "…"} with the id of a figure in the library';

const exercise = fields('an object such as {"title": "…", "figure": "1 2 3 5"}', {
  id: optional(name, 'A short name of the exercise, for the commands, rosters and ensembles; each only once in a book.', {
    leftOut: 'its place, such as `2.3` for the third exercise of the second chapter',
    examples: ['long-tones'],
  }),
  title: optional(line('the title of the exercise'), 'The title over the music.', {
    leftOut: 'the figure itself, or its title in the library',
    examples: ['Up and over'],
  }),
  instruction: optional(prose('one to three lines for the player'), 'One to three lines for the player, under the title.', {
    default: '',
    examples: ['Keep the fingers close and the air moving.'],
  }),
  figure: required(
    z.union(
      [
        line(FIGURE, 2_000),
        fields(FIGURE, {
          library: required(line('the id of a figure in the library'), 'The id of a figure that `twelvefold figures` lists.', {
            examples: ['turn'],
          }),
        }),
      ],
      { error: wrong(FIGURE) },
    ),
    'The figure in scale degrees, with blanks between them: `b3` and `#4` are altered, 9 and above go over the octave, `-7` is the seventh below the tonic, `r` is a rest. Or a figure of the library.',
    { examples: ['1 2 3 5', '1 b3 5 8 r 5', { library: 'turn' }] },
  ),
  ...settings,
});

const chapter = fields('an object such as {"title": "…", "exercises": []}', {
  id: optional(name, 'A short name of the chapter; each only once in a book.', {
    leftOut: 'its place, such as `chapter-2`',
    examples: ['four-notes'],
  }),
  title: required(line('the title of the chapter'), 'The title of the chapter.', { examples: ['Four Notes'] }),
  text: optional(prose('the text of the chapter'), 'The text at its beginning, as Markdown: one text, or a list of lines.', {
    default: '',
    examples: ['Play each figure slowly first.', ['One paragraph.', '', 'Another one.']],
  }),
  defaults: optional(defaults, 'Settings for all exercises of the chapter. An exercise that states one itself keeps to its own.', {
    leftOut: 'those of the book',
    examples: [{ rhythm: 'eighth triplets', articulation: 'all slurred' }],
  }),
  exercises: required(list(exercise, 'a list of exercises'), 'The exercises, at least one.', { examples: [[{ figure: '1 2 3 5' }]] }),
});

const margin = (side: string, standard: string, value: number) =>
  optional(number(0, 80, 'a margin in millimetres'), `The ${side} margin in millimetres.`, {
    default: value,
    leftOut: standard,
    examples: [18],
  });

const house = fields('an object such as {"page": "a4"}', {
  page: optional(pages, 'Size of the sheet.', { default: HOUSE.page, examples: ['letter'] }),
  staff: optional(staff, 'Height of the staff in millimetres, from the lowest line to the highest.', {
    leftOut: '9 for beginners, 7 for professionals, 7.5 for the others',
    examples: [8],
  }),
  margins: optional(
    fields('an object such as {"top": 15, "bottom": 15, "inner": 18, "outer": 14}, in millimetres', {
      top: margin('top', '', HOUSE.margins.top),
      bottom: margin('bottom', '', HOUSE.margins.bottom),
      inner: margin('inner', 'by the binding: 15 for none, 17 for stapled, 22 for punched, 24 for perfect', HOUSE.margins.inner),
      outer: margin('outer', '', HOUSE.margins.outer),
    }),
    'The white around text and music.',
    { leftOut: 'each margin as below', examples: [{ top: 15, bottom: 15, inner: 18, outer: 14 }] },
  ),
  binding: optional(
    choice(BINDINGS, {
      none: 'loose sheets',
      stapled: 'folded and stapled through the fold',
      punched: 'holes for a binder or a comb',
      perfect: 'glued to a spine',
    }),
    'How the book is bound: the inner margin leaves room for it.',
    { default: HOUSE.binding, examples: ['punched'] },
  ),
  bleed: optional(
    number(0, 10, 'the bleed in millimetres'),
    'Paper beyond the edge of the page on each side, in millimetres, for a print shop.',
    {
      default: HOUSE.bleed,
      examples: [3],
    },
  ),
  cropMarks: optional(flag('whether crop marks are printed'), 'Crop marks show where the sheet is cut.', {
    default: HOUSE.cropMarks,
    examples: [true],
  }),
  chaptersOnRight: optional(flag('whether chapters open on a right-hand page'), 'Chapters open on a right-hand page.', {
    default: HOUSE.chaptersOnRight,
    examples: [false],
  }),
});

const extra = (name: keyof typeof EXTRAS_DEFAULT, description: string) =>
  optional(flag('whether these pages are printed'), description, { default: EXTRAS_DEFAULT[name], examples: [!EXTRAS_DEFAULT[name]] });

const extras = fields('an object such as {"practiceRecord": true}', {
  compassChart: extra('compassChart', 'The compass that the book asks of this player, on staves.'),
  keyChart: extra('keyChart', 'The circle of keys and the table of signatures, as this player reads them.'),
  scaleAppendix: extra('scaleAppendix', 'The scales that the book uses, in all keys.'),
  figureIndex: extra('figureIndex', 'An index of the figures, with the exercises that use them.'),
  keyIndex: extra('keyIndex', 'An index of the keys, with the pages where they stand.'),
  contentsGrid: extra('contentsGrid', 'A second table of contents: for each exercise and key the page where it stands.'),
  metronomeLadder: extra('metronomeLadder', 'The marks of a metronome as a ladder, to climb one rung at a time.'),
  practiceRecord: extra('practiceRecord', 'A table of exercises and weeks, with room for the tempo reached.'),
});

export const book = fields('an object with the fields of a book', {
  format: required(z.literal('twelvefold', { error: wrong('"twelvefold"') }), 'Says that this is a book file.', {
    examples: ['twelvefold'],
  }),
  version: required(z.literal(1, { error: wrong('1') }), 'The version of the file, so that old books can be read for ever.', {
    examples: [1],
  }),
  $schema: schemaField,
  title: required(line('the title of the book'), 'The title of the book.', { examples: ['First Wheels'] }),
  subtitle: optional(optionalLine('the subtitle'), 'The line under the title.', {
    default: '',
    examples: ['Short figures through the keys'],
  }),
  author: optional(optionalLine('the author'), 'The author, as on the title page.', { default: '', examples: ['A. Author'] }),
  publisher: optional(optionalLine('the publisher'), 'The publisher, at the foot of the title page.', {
    default: '',
    examples: ['A Small Press'],
  }),
  copyright: optional(optionalLine('the copyright line'), 'The copyright line, on the back of the title page.', {
    default: '',
    examples: ['© 2026 A. Author'],
  }),
  date: required(
    line('the date of this printing as year-month-day, such as "2026-03-01"', 10),
    'The date of this printing, as year-month-day. Every output takes its date from here, so the same book gives the same files.',
    { examples: ['2026-03-01'] },
  ),
  language: optional(line('a language tag such as "en-US"', 35), 'The language of the texts, for dividing words and for screen readers.', {
    default: LANGUAGE_DEFAULT,
    examples: ['en-GB'],
  }),
  preface: optional(prose('the preface'), 'The preface, as Markdown: one text, or a list of lines.', {
    default: '',
    examples: [['What the book is for.', '', 'How it came about.']],
  }),
  howToUse: optional(prose('how to use the book'), 'A page that says how to use the book, as Markdown. Degrees stand between backquotes.', {
    default: '',
    examples: ['Sing the numbers, then play: `1 2 3 5`.'],
  }),
  house: optional(house, 'Sheet, margins and binding.', { leftOut: 'each field as below', examples: [{ page: 'a4', binding: 'punched' }] }),
  extras: optional(extras, 'Pages beside the chapters, each on or off.', {
    leftOut: 'each field as below',
    examples: [{ practiceRecord: true }],
  }),
  spelling: optional(spelling, 'How written keys are spelled in all editions.', {
    leftOut: 'each field as below',
    examples: [{ tie: 'sharps', prefer: ['C#'] }],
  }),
  breath: optional(breath, 'Breath marks in all editions.', {
    leftOut: 'each field as below',
    examples: [{ print: 'marks and ladders', manner: 'in time', player: { longTone: 14 } }],
  }),
  editions: required(
    list(edition, 'a list of instruments, such as ["flute", "oboe"]'),
    'The editions, one PDF for each: an instrument, a family in one word (`flutes`, `saxophones`, `brass`, `all` …), or an object with more to say.',
    { examples: [['flute', 'saxophones', { instrument: 'tuba', level: 'beginner' }]] },
  ),
  defaults: optional(
    defaults,
    'Settings for all exercises of the book. A chapter or an exercise that states one itself keeps to its own.',
    {
      leftOut: 'what this page names as the default of each setting',
      examples: [{ metre: '4/4', tempo: { from: 60, to: 100 } }],
    },
  ),
  chapters: required(list(chapter, 'a list of chapters'), 'The chapters, at least one.', {
    examples: [[{ title: 'Four Notes', exercises: [{ figure: '1 2 3 5' }] }]],
  }),
});

/** The book as saved, short forms and left-out fields and all. */
export type BookSource = z.infer<typeof book>;
export type ChapterSource = z.infer<typeof chapter>;
export type ExerciseSource = z.infer<typeof exercise>;
export type BreathSource = z.infer<typeof breath>;
export type EditionSource = z.infer<typeof edition>;
export type SettingsSource = z.infer<typeof defaults>;

/** A book file of the present version → its fields, or everything that is wrong with their shape. */
export const checkShape = (file: JsonObject): Result<BookSource> => checkFields(book, file);
