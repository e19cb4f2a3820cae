/** A book as an ensemble plays it: its exercises, and one copy of a part for everybody who reads one. */

import { distinct, slug } from '../base/file-name.js';
import type { Book, EditionSpec } from '../book/book.js';
import type { Exercise } from '../exercise/exercise.js';
import type { Chair, Ensemble } from './ensemble.js';

/** A printed part. Where players breathe by turns each has a copy of his own. */
export type Copy = {
  /** Index of the chair. */
  readonly chair: number;
  /** From 1; undefined where one part serves all players of the chair. */
  readonly player: number | undefined;
  /** As printed: `Flute`, `Flute, player 2`. */
  readonly name: string;
};

/** An exercise of the ensemble with its place in the book. */
export type NumberedExercise = {
  readonly exercise: Exercise;
  readonly chapter: number;
  readonly number: number;
  readonly path: readonly (string | number)[];
};

export function copiesOf({ chairs, breathing }: Ensemble): Copy[] {
  const byTurns = breathing.plan === 'staggered';
  return chairs.flatMap(({ name, players, player }, chair): Copy[] => {
    if (!byTurns || players === 1 || !player.instrument.breath) return [{ chair, player: undefined, name }];
    return Array.from({ length: players }, (_, i) => ({ chair, player: i + 1, name: `${name}, player ${i + 1}` }));
  });
}

/** The exercises that are printed, with the book's own numbers. */
export function ensembleExercises(book: Book, { exercises }: Pick<Ensemble, 'exercises'>): NumberedExercise[] {
  let number = 0;
  return book.chapters.flatMap((chapter, c) =>
    chapter.exercises.flatMap((exercise, e): NumberedExercise[] => {
      number++;
      if (exercises && !exercises.includes(exercise.id)) return [];
      return [{ exercise, chapter: c, number, path: ['chapters', c, 'exercises', e] }];
    }),
  );
}

/** The part's sheet and level as an edition states them. */
export const chairSpec = (book: Book, { player, staff, page }: Chair): EditionSpec => ({
  instrument: player.instrument.id,
  level: player.level,
  compass: player.compass,
  spelling: player.spelling,
  staff,
  page,
  breath: book.breath,
});

export type EnsembleStems = { readonly parts: readonly string[]; readonly score: string };

/** Stems of the output files: the copies in order, and the score. */
export function ensembleStems(title: string, ensemble: Ensemble): EnsembleStems {
  const head = `${slug(title)}-${slug(ensemble.name)}`;
  const parts = copiesOf(ensemble).map(({ name }) => `${head}-${slug(name)}`);
  const [score, ...rest] = distinct([`${head}-score`, ...parts]);
  return { parts: rest, score: score as string };
}
