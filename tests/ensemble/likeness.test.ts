/** A small ensemble as it was: the plan of each exercise, and the pages of its parts and its score, item by item. */
import { expect, it } from 'vitest';
import type { ExerciseLayout } from '../../core/build/ensemble-layout.js';
import { buildScore } from '../../core/build/score.js';
import { scorePlan } from '../../core/build/score-staves.js';
import type { Ensemble } from '../../core/ensemble/ensemble.js';
import { ensembleBookOf } from '../../core/ensemble/ensemble-book.js';
import { testFonts } from '../fonts.js';
import { documentText } from '../likeness.js';
import { value } from '../player/fixture.js';
import { band, demoBook } from './band.js';
import { builtParts, laidOut } from './laid-out.js';

const book = demoBook('small-wheels');

const planText = ({ id, parts }: ExerciseLayout): string => {
  const shared = parts[0]?.plan.shared;
  return `${id}: ${JSON.stringify({ ...shared, parts: parts.map(({ plan: { roots, held, level } }) => ({ roots, held, level })) })}`;
};

function described(ensemble: Ensemble): string {
  const ensembleBook = ensembleBookOf(book, ensemble);
  const layouts = laidOut(ensembleBook);
  const parts = builtParts(ensembleBook, layouts);
  const plans = layouts.map((layout) => scorePlan(layout, ensemble));
  const score = value(buildScore(ensembleBook, plans, testFonts()));
  // Of the parts the pages of music; what stands round them is that of an edition.
  const music = parts.map(({ document }) =>
    documentText(
      document,
      document.pages.filter(({ kind }) => kind === 'music'),
    ),
  );
  return [...layouts.map(planText), ...music, documentText(score)].join('\n');
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
