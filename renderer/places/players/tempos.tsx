/** How fast a student plays each exercise, where it is to go, and what was reached and when. */
import { useState } from 'react';
import type { StudentSource } from '../../../core/people/schema.js';
import { exercisesOf, latestTempo, PROGRESS, STUDENTS, setTempo } from '../../edits/roster.js';
import { Issues } from '../../parts/fields.js';
import { edit } from '../../state/history.js';
import { now, say, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import type { StudentForm } from './student-form.js';

const S = T.students;

type Props = { readonly form: StudentForm };

/** A tempo reached, or taken out again, is a step of its own. */
const record = ({ index, student }: StudentForm, make: (before: StudentSource) => StudentSource) =>
  edit('roster', { name: CHANGE.progress(student.name) }, (it) => STUDENTS.change(it, index, make));

type InputProps = {
  readonly label: string;
  readonly value: number | undefined;
  readonly placeholder: number | undefined;
  readonly onChange: (value: number | undefined) => void;
};

function TempoInput({ label, value, placeholder, onChange }: InputProps) {
  return (
    <input
      type="number"
      aria-label={label}
      min={20}
      max={400}
      value={value ?? ''}
      placeholder={placeholder === undefined ? '' : String(placeholder)}
      onChange={(event) => onChange(event.target.value === '' ? undefined : event.target.valueAsNumber)}
    />
  );
}

function Row({ form, id, title }: Props & { readonly id: string; readonly title: string }) {
  const { index, student } = form;
  const view = useWindow((s) => s.rosterView?.students[index]?.assigned.find((it) => it.id === id));
  const [reached, setReached] = useState<number>();
  const stated = student.tempos?.find((it) => it.exercise === id);
  const last = latestTempo(student, id);
  const sound = reached !== undefined && reached >= 20 && reached <= 400;
  const writeDown = () => {
    if (!sound) return;
    const date = now().about?.today ?? '2026-01-01';
    record(form, (it) => PROGRESS.add(it, { exercise: id, tempo: reached, date }));
    say(S.recorded(title, reached));
    setReached(undefined);
  };
  const set = (part: { now?: number | undefined; goal?: number | undefined }) =>
    edit('roster', { name: CHANGE.reader(student.name), together: `tempo ${id}` }, (it) =>
      STUDENTS.change(it, index, (before) => setTempo(before, id, part)),
    );
  return (
    <tr>
      <th scope="row">
        {title}
        {last && <p className="hint">{S.reachedOn(last.tempo, last.date)}</p>}
      </th>
      <td>
        <TempoInput label={`${S.now}: ${title}`} value={stated?.now} placeholder={view?.now} onChange={(tempo) => set({ now: tempo })} />
      </td>
      <td>
        <TempoInput label={`${S.goal}: ${title}`} value={stated?.goal} placeholder={view?.goal} onChange={(goal) => set({ goal })} />
      </td>
      <td>
        <form
          className="row tight"
          onSubmit={(event) => {
            event.preventDefault();
            writeDown();
          }}
        >
          <TempoInput label={`${S.reached}: ${title}`} value={reached} placeholder={undefined} onChange={setReached} />
          <button type="submit" disabled={!sound} aria-label={`${S.record}: ${title}`}>
            {S.record}
          </button>
        </form>
      </td>
    </tr>
  );
}

/** Everything that was written down, newest first, so that a slip can be taken out. */
function Written({ form, titleOf }: Props & { readonly titleOf: (id: string) => string }) {
  const progress = PROGRESS.of(form.student);
  if (progress.length === 0) return null;
  return (
    <details>
      <summary>{S.written(progress.length)}</summary>
      <ul className="written">
        {progress
          .map((one, i) => ({ ...one, i }))
          .reverse()
          .map(({ exercise, tempo, date, i }) => (
            <li key={i}>
              <span>
                {date} · {titleOf(exercise)} · {tempo}
              </span>
              <button
                type="button"
                className="quiet small"
                onClick={() => record(form, (it) => PROGRESS.remove(it, i))}
                aria-label={`${T.players.remove}: ${date}, ${titleOf(exercise)}, ${tempo}`}
              >
                {T.players.remove}
              </button>
            </li>
          ))}
      </ul>
    </details>
  );
}

export function Tempos({ form }: Props) {
  const exercises = useWindow((s) => s.rosterView?.exercises) ?? [];
  const ids = exercisesOf(
    form.student,
    exercises.map(({ id }) => id),
  );
  const titleOf = (id: string) => exercises.find((it) => it.id === id)?.title ?? id;
  return (
    <fieldset className="wide group">
      <legend>{S.tempos}</legend>
      {ids.length === 0 ? (
        <p className="hint">{S.noTempos}</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table scrolls, and must scroll by keyboard too
        <section className="table-scroll" aria-label={S.tempos} tabIndex={0}>
          <table className="tempos">
            <thead>
              <tr>
                <th scope="col">{T.book.exercise}</th>
                <th scope="col">{S.now}</th>
                <th scope="col">{S.goal}</th>
                <th scope="col">{S.reached}</th>
              </tr>
            </thead>
            <tbody>
              {ids.map((id) => (
                <Row key={id} form={form} id={id} title={titleOf(id)} />
              ))}
            </tbody>
          </table>
        </section>
      )}
      <Issues issues={[...form.at('tempos'), ...form.at('progress')]} />
      <Written form={form} titleOf={titleOf} />
    </fieldset>
  );
}
