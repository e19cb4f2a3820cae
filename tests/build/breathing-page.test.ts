/** The page "Breathing in This Book" says how a breath is taken, as the book asks for it, and prints the cautions. */
import { describe, expect, it } from 'vitest';
import { readBook } from '../../core/book/read.js';
import { buildEdition } from '../../core/build/edition.js';
import { testFonts } from '../fonts.js';

const SOURCE = {
  format: 'twelvefold',
  version: 1,
  title: 'Breaths',
  date: '2026-03-01',
  editions: ['flute'],
  chapters: [{ title: 'One', exercises: [{ title: 'Up', figure: '1 2 3 5', tempo: { from: 60, to: 96 } }] }],
};

/** All words of the edition's pages, in order. */
function words(breath: object, instrument = 'flute'): string {
  const book = readBook(JSON.stringify({ ...SOURCE, editions: [instrument], breath }));
  if (!book.ok) throw new Error(book.issues.map((issue) => issue.message).join('\n'));
  const edition = buildEdition(book.value, book.value.editions[0]!, testFonts());
  if (!edition.ok) throw new Error(edition.issues.map((issue) => issue.message).join('\n'));
  const { pages } = edition.value.document;
  return pages.flatMap((page) => page.items.flatMap((item) => (item.kind === 'text' ? item.run.text.trim() : []))).join(' ');
}

describe('the breathing page', () => {
  it.each([
    [{ manner: 'in time' }, 'Breathe in time'],
    [{ manner: 'added beat' }, 'stop for one beat'],
    [{ manner: 'added beat', added: '1/8' }, 'stop for an eighth note'],
  ])('%o says "%s"', (breath, sentence) => {
    expect(words(breath)).toContain(sentence);
  });

  it('prints the cautions in every edition with marks, and in no other', () => {
    expect(words({})).toContain('ask a physician');
    expect(words({ print: 'none' })).not.toContain('physician');
    expect(words({}, 'violin')).not.toContain('physician');
  });
});
