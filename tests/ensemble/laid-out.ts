/** An ensemble's exercises laid out and its parts built, all on this thread. */
import { type ExerciseLayout, layOutExercise } from '../../core/build/ensemble-layout.js';
import { type BuiltPart, buildParts } from '../../core/build/part.js';
import type { EnsembleBook } from '../../core/ensemble/ensemble-book.js';
import { testFonts } from '../fonts.js';
import { value } from '../player/fixture.js';

export const laidOut = (ensembleBook: EnsembleBook): ExerciseLayout[] =>
  ensembleBook.exercises.map((one) => value(layOutExercise(ensembleBook, one, testFonts())));

export const builtParts = (ensembleBook: EnsembleBook, layouts = laidOut(ensembleBook)): readonly BuiltPart[] =>
  value(buildParts(ensembleBook, layouts, testFonts()));
