/** Random exercises for random players, from all that a book file can ask for. */
import fc from 'fast-check';
import { readBook } from '../../core/book/read.js';
import { buildEdition } from '../../core/build/edition.js';
import { FIGURE_LIBRARY } from '../../core/exercise/figure-library.js';
import { RHYTHM_NAMES } from '../../core/exercise/rhythm.js';
import { INSTRUMENTS } from '../../core/player/catalogue.js';
import { type Proof, proveEdition } from '../../core/proof/proof.js';
import { METRES } from '../../core/theory/metre.js';
import { testFonts } from '../fonts.js';

const from = <T>(...values: readonly T[]): fc.Arbitrary<T> => fc.constantFrom(...values);

const figure = fc.oneof(
  from(...FIGURE_LIBRARY.map(({ id }) => ({ library: id }))),
  fc
    .array(from('1', '2', 'b3', '3', '#4', '4', '5', 'b6', '6', '7', 'b7', '8', '-7', 'r'), { minLength: 3, maxLength: 8 })
    .map((tones) => `1 ${tones.join(' ')}`),
);

const exercise = fc.record({
  figure,
  order: from(
    'fourths',
    'fifths',
    'chromatic-up',
    'chromatic-down',
    'whole-tones',
    'minor-thirds',
    'major-thirds',
    'tritones',
    'signatures',
    'wedge',
  ),
  rhythm: from(...RHYTHM_NAMES.map(({ name }) => name), '1/8. 1/16 1/8', '1/4 1/16 1/16 1/8', '5:4(1/16 1/16 1/16 1/16 1/16)'),
  metre: from(...METRES),
  padding: from('flow', 'beat, rests', 'beat, long note', 'bar, rests', 'bar, long note'),
  directions: from('up', 'down', 'alternate-from-up', 'alternate-from-down'),
  passes: from(1, 2),
  ending: from('none', 'long-root', 'back-to-first-root'),
  contour: from('nearest', 'sweep', 'low', 'high'),
  articulation: from('', 'slur 2, tongue 2', 'all slurred', 'slur 3, tongue 1', 'all tongued, staccato', 'all tongued, accent'),
  signs: from('accidentals', 'signature'),
  misfit: from('leave-out', 'turn'),
  tempo: fc.option(
    fc.integer({ min: 50, max: 140 }).map((bpm) => ({ from: bpm, to: bpm + 20 })),
    { nil: undefined },
  ),
  keyNames: fc.boolean(),
  degreeNumbers: fc.boolean(),
});

export const book = fc.record({
  exercises: fc.array(exercise, { minLength: 1, maxLength: 2 }),
  instrument: from(...INSTRUMENTS.map(({ id }) => id)),
  level: from('beginner', 'intermediate', 'advanced', 'professional'),
  page: from('letter', 'a4', '9x12', 'jis-b4'),
});

export type Wish = { readonly exercises: readonly object[]; readonly instrument: string; readonly level: string; readonly page: string };

/** The book file of a wish; `more` are further fields of the book. */
export const bookText = ({ exercises, instrument, level, page }: Wish, more: object = {}): string =>
  JSON.stringify({
    format: 'twelvefold',
    version: 1,
    title: 'Random',
    date: '2026-03-01',
    house: { page },
    editions: [{ instrument, level }],
    extras: { compassChart: false, keyChart: false, figureIndex: false },
    chapters: [{ title: 'Random', exercises }],
    ...more,
  });

/** The proof; undefined when the book itself has an issue that explains why it cannot be built. */
export function proofOf(wish: Wish): Proof | undefined {
  const read = readBook(bookText(wish));
  if (!read.ok) return expectIssue(read.issues);
  const spec = read.value.editions[0];
  if (!spec) throw new Error('no edition');
  const edition = buildEdition(read.value, spec, testFonts());
  if (!edition.ok) return expectIssue(edition.issues);
  return proveEdition(edition.value, read.value, testFonts());
}

export function expectIssue(issues: readonly { readonly severity: string; readonly message: string }[]): undefined {
  if (!issues.some((i) => i.severity === 'error' && i.message.length > 20)) throw new Error('a book was refused without a reason');
  return undefined;
}
