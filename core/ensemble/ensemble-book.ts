/** A book as an ensemble plays it: its exercises, and one copy of a part for everybody who reads one. */

import { distinct, slug } from '../base/file-name.js';
import { assert } from '../base/issue.js';
import type { Book, EditionSpec } from '../book/book.js';
import { readerSpec } from '../book/reader-spec.js';
import type { Exercise } from '../exercise/exercise.js';
import type { Chair, Ensemble } from './ensemble.js';

/** A printed copy of a part: one for all players of its chair, or one for each where they breathe by turns. */
export type Copy = {
  /** Different from copy to copy: `flute`, `flute/2`. */
  readonly id: string;
  readonly chair: Chair;
  /** From 1; undefined where one copy serves all players of the chair. */
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

/** A book and who plays it, with what follows from the two. */
export type EnsembleBook = {
  readonly book: Book;
  readonly ensemble: Ensemble;
  /** Those that are printed, with the book's own numbers. */
  readonly exercises: readonly NumberedExercise[];
  /** Chair by chair. */
  readonly copies: readonly Copy[];
};

/** The copies of one chair's part. */
export function copiesOfChair(chair: Chair, { breathing }: Pick<Ensemble, 'breathing'>): Copy[] {
  const { id, name, players } = chair;
  if (breathing.plan !== 'staggered' || players === 1 || !chair.player.instrument.breath) return [{ id, chair, player: undefined, name }];
  return Array.from({ length: players }, (_, i) => ({ id: `${id}/${i + 1}`, chair, player: i + 1, name: `${name}, player ${i + 1}` }));
}

export const copiesOf = (ensemble: Pick<Ensemble, 'chairs' | 'breathing'>): Copy[] =>
  ensemble.chairs.flatMap((chair) => copiesOfChair(chair, ensemble));

function exercisesOf(book: Book, { exercises }: Ensemble): NumberedExercise[] {
  let number = 0;
  return book.chapters.flatMap((chapter, c) =>
    chapter.exercises.flatMap((exercise, e): NumberedExercise[] => {
      number++;
      if (exercises && !exercises.includes(exercise.id)) return [];
      return [{ exercise, chapter: c, number, path: ['chapters', c, 'exercises', e] }];
    }),
  );
}

export const ensembleBookOf = (book: Book, ensemble: Ensemble): EnsembleBook => ({
  book,
  ensemble,
  exercises: exercisesOf(book, ensemble),
  copies: copiesOf(ensemble),
});

/** What an exercise of the ensemble has, by the exercise's id. */
export function ofExercise<T extends { readonly id: string }>(items: readonly T[], { exercise }: NumberedExercise): T {
  const item = items.find(({ id }) => id === exercise.id);
  assert(item, 'nothing is missing of an exercise of the ensemble');
  return item;
}

/** The part's sheet and level as an edition states them. */
export const chairSpec = (book: Book, chair: Chair): EditionSpec => readerSpec(chair, book.breath);

export type EnsembleStems = {
  readonly score: string;
  /** By the copy's id. */
  readonly copies: ReadonlyMap<string, string>;
};

/** Stems of the output files: safe, and no two alike. */
export function ensembleStems({ book, ensemble, copies }: EnsembleBook): EnsembleStems {
  const head = `${slug(book.title)}-${slug(ensemble.name)}`;
  const [score = '', ...parts] = distinct([`${head}-score`, ...copies.map(({ name }) => `${head}-${slug(name)}`)]);
  return { score, copies: new Map(copies.map(({ id }, i) => [id, parts[i] ?? ''])) };
}
