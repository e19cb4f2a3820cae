/** The head of an exercise: its name, the way to its neighbours, and to its export. */
import type { BookSource, ExerciseSource } from '../../../core/book/schema.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { stepExercise } from '../../commands/go.js';
import { newExercise } from '../../commands/outline.js';
import { figureTextOf, neighbour } from '../../edits/book.js';
import { PlaceHead } from '../../parts/place-head.js';
import { change, type Focus, useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';

const X = T.exercise;

/** The library figure that an exercise takes, by its id; undefined when the figure is its own. */
export const libraryOf = ({ figure }: ExerciseSource): string | undefined => (typeof figure === 'object' ? figure.library : undefined);

export const figureIn = (exercise: ExerciseSource, lists: Lists): string =>
  figureTextOf(exercise, (id) => lists.figures.find((it) => it.id === id)?.text);

const STEPS = [
  { step: -1, label: X.previous, sign: '‹' },
  { step: 1, label: X.next, sign: '›' },
] as const;

type Props = { readonly source: BookSource; readonly focus: Focus; readonly exercise: ExerciseSource; readonly lists: Lists };

export function ExerciseHead({ source, focus, exercise, lists }: Props) {
  const shown = useWindow((s) => s.shown?.exercise !== undefined);
  return (
    <PlaceHead
      over={source.chapters[focus.chapter]?.title}
      title={exercise.title || libraryOf(exercise) || figureIn(exercise, lists) || T.book.exercise}
    >
      <div className="acts">
        <button type="button" onClick={() => newExercise()}>
          {T.book.addExercise}
        </button>
        <button type="button" onClick={() => change({ dialog: { kind: 'export' } })} disabled={!shown}>
          {X.export} …
        </button>
        {STEPS.map(({ step, label, sign }) => (
          <button
            key={step}
            type="button"
            onClick={() => stepExercise(step)}
            aria-label={label}
            title={label}
            aria-disabled={!neighbour(source, focus, step)}
          >
            {sign}
          </button>
        ))}
      </div>
    </PlaceHead>
  );
}
