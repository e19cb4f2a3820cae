/** The pages of a book as the window shows them. */
import type { Issue } from '../../../../core/base/issue.js';
import type { ExerciseView } from './exercise.js';

export type PageEntry = {
  readonly label: string;
  readonly kind: string;
  readonly side: 'left' | 'right';
  readonly exercises: readonly string[];
};

export type Shown = {
  readonly issues: readonly Issue[];
  /** Points. */
  readonly width: number;
  readonly height: number;
  readonly pages: readonly PageEntry[];
  /** Pages that were drawn, with their index. */
  readonly drawn: readonly { readonly page: number; readonly stamp: string; readonly svg: string | undefined }[];
  /** First page of each exercise, by `chapter.exercise` counted from 0. */
  readonly firstPage: Readonly<Record<string, number>>;
  /** First page of each chapter. */
  readonly chapterPage: readonly number[];
  /** Pages of the exercise in focus. */
  readonly focusPages: readonly number[];
  /** Exercises shown in their last sound form, or left out, because what is written now cannot be read. */
  readonly outdated: readonly string[];
  /** Undefined too when it was not to be told. */
  readonly exercise: ExerciseView | undefined;
  readonly instrument: string;
  /** Only a part of the book was set. */
  readonly partial: boolean;
};
