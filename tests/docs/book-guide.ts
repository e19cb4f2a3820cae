/** docs/book-file.md: the words between the fields, and the order in which an author meets them. */
import { describedSchema } from '../../core/book/json-schema.js';
import { book } from '../../core/book/schema.js';
import { guide, type Section } from './guide.js';

const EXERCISE = ['chapters', '[]', 'exercises', '[]'] as const;
const EDITION = ['editions', '[]'] as const;

export const BOOK_SECTIONS: readonly Section[] = [
  {
    title: 'The book',
    text: 'What the file is, and what stands on the title page and before the first chapter.',
    at: [],
    fields: [
      'format',
      'version',
      '$schema',
      'title',
      'subtitle',
      'author',
      'publisher',
      'copyright',
      'date',
      'language',
      'preface',
      'howToUse',
    ],
  },
  {
    title: 'Chapters',
    text: 'A book is parted into chapters. Settings that many exercises share are stated once, for the book or for a chapter.',
    at: [],
    fields: ['chapters', 'defaults'],
  },
  { title: 'A chapter', text: 'Each entry of `chapters` is an object with these fields.', at: ['chapters', '[]'] },
  {
    title: 'An exercise: the figure',
    text: 'Each entry of `exercises` is an object. Only the figure is needed. Every setting from `scale` to `simpleSpelling` may stand in an exercise, in the `defaults` of its chapter or in those of the book: the nearest one holds.',
    at: EXERCISE,
    fields: ['figure', 'title', 'id', 'instruction', 'scale'],
  },
  { title: 'A figure of the library', text: 'Where `figure` is an object.', at: [...EXERCISE, 'figure'] },
  {
    title: 'An exercise: rhythm and metre',
    text: 'The figure is carried by a rhythm. Names of rhythms: halves, quarters, eighths, sixteenths, quarter triplets, eighth triplets, sixteenth sextuplets, long-short triplets, dotted quarter and eighth, dotted eighth and sixteenth, quarter and two eighths, eighth and two sixteenths, two sixteenths and eighth.',
    at: EXERCISE,
    fields: ['rhythm', 'metre', 'padding'],
  },
  {
    title: 'An exercise: through the keys',
    text: 'In which order, from where, and which way.',
    at: EXERCISE,
    fields: ['order', 'start', 'directions', 'passes', 'turnaround', 'ending'],
  },
  { title: 'A key order with more to say', text: 'Where `order` is an object.', at: [...EXERCISE, 'order'] },
  { title: 'A first key', text: 'Where `start` is an object: one of the two.', at: [...EXERCISE, 'start'] },
  {
    title: 'An exercise: the compass',
    text: 'Each figure is played in the octave that suits the player.',
    at: EXERCISE,
    fields: ['contour', 'misfit'],
  },
  { title: 'A wider compass', text: 'Where `misfit` is an object.', at: [...EXERCISE, 'misfit'] },
  {
    title: 'An exercise: how it is played',
    text: 'Tempo, articulation and dynamic.',
    at: EXERCISE,
    fields: ['tempo', 'articulation', 'variants', 'dynamic'],
  },
  { title: 'A tempo', text: 'The fields of `tempo`.', at: [...EXERCISE, 'tempo'] },
  {
    title: 'What is printed with the music',
    text: 'The last settings of an exercise.',
    at: EXERCISE,
    fields: ['signs', 'keyNames', 'degreeNumbers', 'simpleSpelling'],
  },
  {
    title: 'Editions',
    text: 'A book is printed once for each instrument. Words for families: `flutes`, `double-reeds`, `clarinets`, `saxophones`, `woodwinds`, `brass`, `recorders`, `winds`, `strings`, `mallets`, `all`.',
    at: [],
    fields: ['editions', 'spelling'],
  },
  { title: 'An edition', text: 'An entry of `editions` that is an object has these fields.', at: EDITION },
  { title: 'A compass', text: 'The fields of `compass`.', at: [...EDITION, 'compass'] },
  { title: 'Spelling', text: 'The fields of `spelling`, in the book and in an edition.', at: ['spelling'] },
  {
    title: 'Breath',
    text: 'Where to breathe depends on the tempo and on the player. Marks are suggestions, and the numbers are no medical measurement.',
    at: [],
    fields: ['breath'],
  },
  { title: 'Breath marks', text: 'The fields of `breath`, in the book and in an edition.', at: ['breath'] },
  {
    title: 'The lungs',
    text: 'The fields of `player` in `breath`. One is enough; the surest one that is given counts.',
    at: ['breath', 'player'],
  },
  { title: 'The house', text: 'How the book looks on paper.', at: [], fields: ['house', 'extras'] },
  { title: 'Sheet, staff and binding', text: 'The fields of `house`.', at: ['house'] },
  { title: 'Margins', text: 'The fields of `margins`.', at: ['house', 'margins'] },
  { title: 'Extra pages', text: 'The fields of `extras`.', at: ['extras'] },
];

/** Objects that are told at another place of the schema, where they have the same fields. */
export const TOLD_ELSEWHERE: Readonly<Record<string, string>> = {
  defaults: EXERCISE.join('.'),
  'chapters.[].defaults': EXERCISE.join('.'),
  'editions.[].spelling': 'spelling',
  'editions.[].breath': 'breath',
};

const HEAD = `# The book file

<!-- Written by \`npm run docs\` from the schema in core/book; change the words there. -->

A book is one JSON file, whose name ends in \`.twelvefold\`. This page tells every field in the order in which an author meets
them: what it is for, what may stand in it, what holds when it is left out, and an example. [README.md](../README.md) shows a
whole book; \`twelvefold new\` writes one to begin from, and \`twelvefold schema book\` prints all of this for a text editor.

`;

export const bookGuide = (): string => `${HEAD}${guide(describedSchema(book), BOOK_SECTIONS)}`;
