/** What cannot be set well is told, with its place and a remedy. */
import { describe, expect, it } from 'vitest';
import type { Issue } from '../../core/base/issue.js';
import { readBook } from '../../core/book/read.js';
import { buildEdition } from '../../core/build/edition.js';
import { testFonts } from '../fonts.js';

function issuesOf(exercise: object, more: object = {}): readonly Issue[] {
  const text = JSON.stringify({
    format: 'twelvefold',
    version: 1,
    title: 'Too Much',
    date: '2026-03-01',
    editions: ['flute'],
    chapters: [{ title: 'One', exercises: [exercise] }],
    ...more,
  });
  const book = readBook(text);
  if (!book.ok) throw new Error(book.issues.map((i) => i.message).join('\n'));
  const spec = book.value.editions[0];
  if (!spec) throw new Error('no edition');
  return buildEdition(book.value, spec, testFonts()).issues.filter(({ severity }) => severity !== 'note');
}

const told = (issues: readonly Issue[]): string[] => issues.map(({ severity, code, path }) => `${severity} ${code} ${path.join('.')}`);

const WIDE = {
  figure: { library: 'intervals-from-tonic' },
  order: 'whole-tones',
  rhythm: 'sixteenth sextuplets',
  metre: '12/8',
  padding: 'flow',
  directions: 'alternate-from-down',
  passes: 2,
  ending: 'long-root',
  misfit: 'turn',
};

describe('pages', () => {
  it('of which nothing is to be said have no issue', () => {
    expect(issuesOf({ figure: '1 2 3 5' })).toEqual([]);
  });

  it('with an instruction taller than a page', () => {
    const found = issuesOf({ figure: '1 2 3 5', instruction: 'Play it slowly. '.repeat(700) });
    expect(told(found)).toEqual(['warning off-the-page chapters.0.exercises.0']);
    expect(found[0]?.message).toMatch(/taller than the page: shorten it/);
  });

  it('with a bar wider than the page', () => {
    const found = issuesOf(WIDE, { house: { page: '9x12' }, editions: [{ instrument: 'clarinet-in-eb', level: 'beginner' }] });
    expect(told(found)).toContain('error bar-too-wide chapters.0.exercises.0');
  });

  it('with bars of which one is too few for a system and two are too many', () => {
    const found = issuesOf(
      {
        figure: '1 3 -7 1 6 5 1 4',
        order: 'signatures',
        rhythm: 'sixteenth sextuplets',
        metre: '2/2',
        padding: 'flow',
        passes: 2,
        directions: 'alternate-from-up',
        signs: 'accidentals',
        misfit: 'leave-out',
      },
      { house: { page: 'letter' }, editions: [{ instrument: 'english-horn', level: 'professional' }] },
    );
    expect(told(found)).toEqual(['warning uneven-systems chapters.0.exercises.0']);
    expect(found[0]?.message).toMatch(/systems .* more open than is good.*smaller staff/);
  });
});
