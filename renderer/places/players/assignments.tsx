/** What a student is to play, and in which weeks. */
import { ASSIGNMENTS, type Assignment } from '../../edits/roster.js';
import { weeksFrom, weeksText, wordsFrom } from '../../edits/typed-lists.js';
import { ChipList } from '../../parts/chip-list.js';
import { DraftField } from '../../parts/draft-field.js';
import { Issues } from '../../parts/fields.js';
import { useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import type { StudentForm } from './student-form.js';

const S = T.students;

type Props = { readonly form: StudentForm; readonly place: number; readonly assignment: Assignment };

function AssignedExercises({ form, place, assignment }: Props) {
  const exercises = useWindow((s) => s.rosterView?.exercises) ?? [];
  const all = exercises.map(({ id, number, title }) => ({ value: id, label: `${number}. ${title}` }));
  return (
    <ChipList
      chosen={assignment.exercises}
      free={all.filter(({ value }) => !assignment.exercises.includes(value))}
      nameOf={(id) => all.find(({ value }) => value === id)?.label ?? id}
      drop={S.dropExercise}
      add={S.addExercise}
      of={S.assignment(place + 1)}
      onChange={(next) => form.change('assignments', (it) => ASSIGNMENTS.set(it, place, { exercises: next }))}
    />
  );
}

function OneAssignment(props: Props) {
  const { form, place, assignment } = props;
  const set = (part: Partial<Assignment>) => form.change('assignments', (it) => ASSIGNMENTS.set(it, place, part));
  return (
    <li className="assignment">
      <AssignedExercises {...props} />
      <Issues issues={form.at('assignments', place, 'exercises')} />
      <div className="row low">
        <DraftField
          label={S.weeksOf}
          value={weeksText(assignment.weeks)}
          placeholder={`1–${form.weeks}`}
          issues={form.at('assignments', place, 'weeks')}
          onChange={(text) => set({ weeks: weeksFrom(text) })}
        />
        <DraftField
          label={S.onlyKeys}
          value={(assignment.keys ?? []).join(' ')}
          placeholder={S.keysLearnt}
          issues={form.at('assignments', place, 'keys')}
          onChange={(text) => set({ keys: wordsFrom(text) })}
        />
        <button
          type="button"
          className="quiet"
          aria-label={`${T.players.remove}: ${S.assignment(place + 1)}`}
          onClick={() => form.change('assignments', (it) => ASSIGNMENTS.remove(it, place))}
        >
          {T.players.remove}
        </button>
      </div>
    </li>
  );
}

export function Assignments({ form }: { readonly form: StudentForm }) {
  const exercises = useWindow((s) => s.rosterView?.exercises) ?? [];
  const all = ASSIGNMENTS.of(form.student);
  const taken = new Set(all.flatMap((it) => it.exercises));
  const add = () => {
    const next = exercises.find(({ id }) => !taken.has(id)) ?? exercises[0];
    form.change('assignments', (it) => ASSIGNMENTS.add(it, { exercises: next ? [next.id] : [] }));
  };
  return (
    <fieldset className="wide group">
      <legend>{S.assignments}</legend>
      {all.length === 0 && <p className="hint">{S.noAssignments}</p>}
      <ul className="assignments">
        {all.map((assignment, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: assignments have no identity but their place
          <OneAssignment key={i} form={form} place={i} assignment={assignment} />
        ))}
      </ul>
      <button type="button" onClick={add} disabled={exercises.length === 0}>
        {S.addAssignment}
      </button>
    </fieldset>
  );
}
