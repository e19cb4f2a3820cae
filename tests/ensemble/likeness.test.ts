/** A small ensemble as it was: the plan of each exercise, and the pages of its parts and its score, item by item. */
import { expect, it } from 'vitest';
import { buildPart, layOutExercise, layoutOfCopy, sharedPages } from '../../core/build/parts.js';
import { buildScore, scorePlan } from '../../core/build/score.js';
import type { Ensemble } from '../../core/ensemble/ensemble.js';
import { copiesOf, ensembleExercises } from '../../core/ensemble/ensemble-book.js';
import { testFonts } from '../fonts.js';
import { documentText } from '../likeness.js';
import { value } from '../player/fixture.js';
import { band, demoBook } from './band.js';

const book = demoBook('small-wheels');
const fonts = testFonts();

function described(ensemble: Ensemble): string {
  const layouts = ensembleExercises(book, ensemble).map((one) => value(layOutExercise(book, ensemble, one, fonts)));
  const pages = sharedPages(book, ensemble, layouts, fonts);
  const copies = copiesOf(ensemble);
  const parts = copies.map((copy, i) => value(buildPart(book, ensemble, layoutOfCopy(layouts, i), pages, copy, fonts)));
  const plans = layouts.map((one) =>
    scorePlan(
      one,
      ensemble,
      copies.map(({ chair }) => chair),
    ),
  );
  const score = value(buildScore(book, ensemble, plans, fonts));
  // Of the parts the pages of music; what stands round them is that of an edition.
  const music = parts.map((document) =>
    documentText(
      document,
      document.pages.filter(({ kind }) => kind === 'music'),
    ),
  );
  return [...layouts.map(({ id, plan }) => `${id}: ${JSON.stringify(plan)}`), ...music, documentText(score)].join('\n');
}

it.each([
  [
    'turns',
    band(book, 'flute:beginner*2 clarinet-in-bb:beginner horn-in-f:beginner tuba', {
      misfit: 'hold-root',
      breathing: { plan: 'staggered', tempo: 92 },
      exercises: ['three-steps', 'triad-first'],
    }),
  ],
  [
    'together',
    band(book, 'oboe alto-saxophone trombone', {
      misfit: 'leave-out',
      breathing: { plan: 'together', tempo: 84 },
      score: { order: 'orchestra', pitch: 'transposed', page: 'a4' },
      exercises: ['five-three'],
      start: 'F',
    }),
  ],
])('%s', async (name, ensemble) => {
  await expect(described(ensemble)).toMatchFileSnapshot(`likeness/${name}.txt`);
});
