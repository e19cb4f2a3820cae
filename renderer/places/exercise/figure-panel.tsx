/** The title and the figure of an exercise, how it begins, and its line over the compass. */
import type { ExerciseSource } from '../../../core/book/schema.js';
import type { ExerciseView } from '../../../electron/services/contract/answers/exercise.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { Contour } from '../../parts/contour.js';
import { Drawing } from '../../parts/drawing.js';
import { TextField } from '../../parts/fields.js';
import { FigureField } from '../../parts/figure-field.js';
import { change, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { figureIn, libraryOf } from './exercise-head.js';
import { type FieldsProps, setExerciseFields } from './setting-fields.js';

const X = T.exercise;

type Props = FieldsProps & { readonly exercise: ExerciseSource; readonly lists: Lists };

/** A note of the line that is shown. */
function chooseNote(event: number): void {
  change(({ shown }) => (shown?.exercise ? { note: { exercise: shown.exercise.id, event } } : {}));
}

type SourcesProps = { readonly library: string | undefined; readonly lists: Lists; readonly outdated: boolean };

function FigureSources({ library, lists, outdated }: SourcesProps) {
  return (
    <div className="row wide">
      <button type="button" onClick={() => change({ dialog: { kind: 'library' } })}>
        {X.fromLibrary} …
      </button>
      <button type="button" onClick={() => change({ dialog: { kind: 'import', file: undefined } })}>
        {X.import} …
      </button>
      {library && <span className="tag">{lists.figures.find((it) => it.id === library)?.title}</span>}
      {outdated && (
        <span className="outdated" role="status">
          {X.heldBack}
        </span>
      )}
    </div>
  );
}

function Line({ exercise }: { readonly exercise: ExerciseView }) {
  const instrument = useWindow((s) => s.shown?.instrument) ?? '';
  const playing = useWindow((s) => s.playing);
  const note = useWindow((s) => s.note);
  const { leftOut } = exercise;
  return (
    <>
      <h2 className="small-head">{X.line}</h2>
      <Contour exercise={exercise} instrument={instrument} event={playing ? playing.event : note?.event} onNote={chooseNote} />
      {leftOut.length > 0 && <p className="hint">{X.leftOut(leftOut.join(', '))}</p>}
    </>
  );
}

function FigureFields({ focus, issues, exercise, lists, outdated }: Props & { readonly outdated: boolean }) {
  const own = issues().filter(({ path }) => path.length === 4);
  return (
    <div className="fields">
      <TextField
        label={X.title}
        wide
        value={exercise.title ?? ''}
        issues={issues('title')}
        onChange={(title) => setExerciseFields(focus, CHANGE.field(X.title), { title })}
      />
      <FigureField
        value={figureIn(exercise, lists)}
        issues={[...issues('figure'), ...own]}
        onChange={(figure) => setExerciseFields(focus, CHANGE.figure, { figure })}
      />
      <FigureSources library={libraryOf(exercise)} lists={lists} outdated={outdated} />
    </div>
  );
}

export function FigurePanel(props: Props) {
  const { chapter, exercise } = props.focus;
  const view = useWindow((s) => s.shown?.exercise);
  const outdated = useWindow((s) => s.shown?.outdated.includes(`${chapter}.${exercise}`)) ?? false;
  return (
    <section className="panel">
      <FigureFields {...props} outdated={outdated} />
      <div className={outdated ? 'opening outdated' : 'opening'}>
        {view && (
          <>
            <span className="unseen">{X.opening}</span>
            <Drawing svg={view.opening} natural />
          </>
        )}
      </div>
      {view && <Line exercise={view} />}
    </section>
  );
}
