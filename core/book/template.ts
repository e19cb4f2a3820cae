/** The book that `twelvefold new` writes: small, real, and ready to be changed. */
import type { BookSource } from './schema.js';

const CHAPTERS: BookSource['chapters'] = [
  {
    id: 'five-notes',
    title: 'Five Notes',
    text: 'Play each figure slowly until every key sounds alike.',
    exercises: [
      {
        id: 'walk',
        title: 'A short walk',
        instruction: 'Keep the fingers close and the air moving.',
        figure: '1 2 3 4 5 3 1',
        order: 'fifths',
        articulation: 'slur 2, tongue 2',
      },
      {
        id: 'turn',
        title: 'Turning on the tonic',
        figure: { library: 'turn' },
        order: 'chromatic-up',
        directions: 'up',
        padding: 'bar, long note',
      },
    ],
  },
  {
    id: 'chords',
    title: 'Chords',
    defaults: { rhythm: 'eighth triplets', articulation: 'all slurred' },
    exercises: [
      { id: 'triad', title: 'The triad', figure: '1 3 5 8 5 3', order: ['Bb', 'Eb', 'Ab', 'F', 'C', 'G'], start: { concert: 'Bb' } },
      {
        id: 'minor-triad',
        title: 'The minor triad',
        figure: '1 b3 5 8 5 b3',
        order: 'minor-thirds',
        passes: 2,
        turnaround: 'restart',
        ending: 'long-root',
      },
    ],
  },
];

/** `date` is the ISO date of the first printing. */
export function newBook(date: string, title = 'My Book of Figures'): BookSource {
  return {
    format: 'twelvefold',
    version: 1,
    title,
    subtitle: 'Short figures through the keys',
    author: '',
    publisher: '',
    date,
    language: 'en-US',
    preface: [
      'Write here what the book is for. A blank line begins a new paragraph.',
      '',
      'Degrees such as `1 2 3 5` stand between backquotes.',
    ],
    house: { page: 'letter' },
    editions: [
      'flute',
      { instrument: 'clarinet-in-bb', level: 'intermediate' },
      { instrument: 'alto-saxophone', level: 'beginner', compass: { low: 'C4', high: 'C6' } },
      { instrument: 'trumpet-in-bb', spelling: { tie: 'sharps' } },
    ],
    defaults: { rhythm: 'eighths', metre: '4/4', tempo: { from: 60, to: 100 }, misfit: 'leave-out' },
    chapters: CHAPTERS,
  };
}
