/** Editions built in memory, end to end: book text in, PDF bytes out. */
import { readFileSync } from 'node:fs';
import type { Book } from '../../core/book/book.js';
import { readBook } from '../../core/book/read.js';
import { type BuiltEdition, buildEdition } from '../../core/build/edition.js';
import { installedFonts } from '../../core/disk/fonts.js';
import { type Fonts, openFonts } from '../../core/engrave/metrics.js';
import { writePdf } from '../../core/output/pdf/pdf.js';
import { testFonts } from '../fonts.js';

const SMALL = {
  format: 'twelvefold',
  version: 1,
  title: 'Stairs and Landings',
  subtitle: 'A small book for tests',
  author: 'The Back Room',
  date: '2026-03-01',
  preface: 'A *short* preface with one ♭ and one ♯.',
  howToUse: 'Play `1 2 3` first.',
  house: { page: 'a4', staff: 7 },
  extras: {
    compassChart: true,
    keyChart: true,
    scaleAppendix: true,
    figureIndex: true,
    keyIndex: true,
    metronomeLadder: true,
    practiceRecord: true,
  },
  editions: [{ instrument: 'viola', level: 'advanced' }, { instrument: 'bassoon', level: 'advanced' }, 'horn-in-f'],
  defaults: { tempo: { from: 60, to: 100 }, misfit: 'leave-out' },
  chapters: [
    {
      title: 'First Stairs',
      text: 'One step, then the next.',
      exercises: [
        { title: 'Up four', figure: '1 2 3 4', articulation: 'slur 2, tongue 2' },
        { title: 'Down four & back', figure: '4 3 2 1', signs: 'signature', padding: 'bar, long note', instruction: 'Slowly.' },
      ],
    },
    {
      title: 'Wider Landings',
      exercises: [
        {
          title: 'Long way round',
          figure: '1 3 5 8 5 3',
          rhythm: 'eighth triplets',
          passes: 2,
          directions: 'alternate-from-up',
          order: 'chromatic-up',
        },
        { title: 'Skips “in threes”', figure: '1 3 2 4', metre: '3/4', order: 'fifths', articulation: 'all slurred' },
        { title: 'Home', figure: '5 4 3 2 1', rhythm: 'quarters', order: ['C', 'F'], dynamic: 'mf' },
      ],
    },
  ],
};

const read = (text: string): Book => {
  const book = readBook(text);
  if (!book.ok) throw new Error(book.issues.map((issue) => issue.message).join('\n'));
  return book.value;
};

/** `small`, or the name of a book that comes with the program. */
export function bookNamed(name: string): Book {
  if (name === 'small') return read(JSON.stringify(SMALL));
  return read(readFileSync(new URL(`../../assets/books/${name}.twelvefold`, import.meta.url), 'utf8'));
}

export function build(book: Book, instrument: string, fonts: Fonts = testFonts()): BuiltEdition {
  const spec = book.editions.find((edition) => edition.instrument === instrument);
  if (!spec) throw new Error(`the book has no edition for ${instrument}`);
  const built = buildEdition(book, spec, fonts);
  if (!built.ok) throw new Error(built.issues.map((issue) => issue.message).join('\n'));
  return built.value;
}

export async function bytesOf({ document }: BuiltEdition, fonts: Fonts = testFonts()): Promise<Buffer> {
  const chunks: Uint8Array[] = [];
  await writePdf(document, fonts, (chunk) => void chunks.push(chunk));
  return Buffer.concat(chunks);
}

/** Font files read and opened anew: nothing is remembered from before. */
export const freshFonts = (): Fonts => openFonts(installedFonts());
