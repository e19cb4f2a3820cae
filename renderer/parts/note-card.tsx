/** What is told about a note of the line: its key, its degree, its pitch, and the breath after it. */
import type { ExerciseView } from '../../electron/services/contract/answers/exercise.js';
import { change } from '../state/state.js';
import { T } from '../texts/texts.js';

const P = T.pages;

export function NoteCard({ exercise, event }: { readonly exercise: ExerciseView; readonly event: number }) {
  const note = exercise.notes.find((it) => it.index === event);
  if (!note || note.key === undefined) return null;
  const statement = exercise.statements[note.statement];
  const breath = exercise.breathing?.breaths.find((it) => it.afterEvent === event);
  return (
    <aside className="note-card" aria-label={P.note}>
      <dl>
        <dt>{P.noteKey}</dt>
        <dd>{statement ? statement.keyWords : '–'}</dd>
        <dt>{P.noteDegree}</dt>
        <dd>{note.degree}</dd>
        <dt>{P.noteWritten}</dt>
        <dd>{note.written}</dd>
        <dt>{P.noteSounding}</dt>
        <dd>{note.sounding}</dd>
        <dt>{P.noteBreath}</dt>
        <dd>{breath ? T.exercise.reasons[breath.reason] : P.noBreath}</dd>
      </dl>
      <button type="button" className="quiet" onClick={() => change({ note: undefined })} aria-label={T.dialog.close}>
        ×
      </button>
    </aside>
  );
}
