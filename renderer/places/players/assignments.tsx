/** What a student is to play, and in which weeks. */
import type { Issue } from '../../../core/base/issue.js';
import type { StudentSource } from '../../../core/people/schema.js';
import { weeksFrom, weeksText, withField, wordsFrom } from '../../edits/people.js';
import { DraftField } from '../../parts/draft-field.js';
import { Issues } from '../../parts/fields.js';
import { useWindow } from '../../state/state.js';
import { T } from '../../texts/texts.js';
import type { SetStudent } from './student-card.js';

const S = T.students;

type Assignment = NonNullable<StudentSource['assignments']>[number];

function OneAssignment({
  number,
  assignment,
  weeks,
  issues,
  onChange,
}: {
  readonly number: number;
  readonly assignment: Assignment;
  readonly weeks: number;
  readonly issues: readonly Issue[];
  /** Undefined takes it out. */
  readonly onChange: (next: Assignment | undefined) => void;
}) {
  const exercises = useWindow((s) => s.rosterView?.exercises) ?? [];
  const titleOf = (id: string) => {
    const found = exercises.find((it) => it.id === id);
    return found ? `${found.number}. ${found.title}` : id;
  };
  const at = (field: string) => issues.filter(({ path }) => path[4] === field);
  const free = exercises.filter(({ id }) => !assignment.exercises.includes(id));
  return (
    <li className="assignment">
      <div className="chips">
        {assignment.exercises.map((id) => (
          <button
            key={id}
            type="button"
            className="chip"
            title={S.dropExercise}
            aria-label={`${S.dropExercise}: ${titleOf(id)}`}
            onClick={() => onChange({ ...assignment, exercises: assignment.exercises.filter((it) => it !== id) })}
          >
            {titleOf(id)} ×
          </button>
        ))}
        <select
          aria-label={`${S.addExercise}, ${S.assignment(number)}`}
          value=""
          onChange={(event) => event.target.value && onChange({ ...assignment, exercises: [...assignment.exercises, event.target.value] })}
        >
          <option value="">{S.addExercise} …</option>
          {free.map(({ id }) => (
            <option key={id} value={id}>
              {titleOf(id)}
            </option>
          ))}
        </select>
      </div>
      <Issues issues={at('exercises')} />
      <div className="row low">
        <DraftField
          label={S.weeksOf}
          value={weeksText(assignment.weeks)}
          placeholder={`1–${weeks}`}
          issues={at('weeks')}
          onChange={(text) => onChange(withField(assignment, 'weeks', weeksFrom(text)))}
        />
        <DraftField
          label={S.onlyKeys}
          value={(assignment.keys ?? []).join(' ')}
          placeholder={S.keysLearnt}
          issues={at('keys')}
          onChange={(text) => onChange(withField(assignment, 'keys', wordsFrom(text)))}
        />
        <button
          type="button"
          className="quiet"
          aria-label={`${T.players.remove}: ${S.assignment(number)}`}
          onClick={() => onChange(undefined)}
        >
          {T.players.remove}
        </button>
      </div>
    </li>
  );
}

export function Assignments({
  student,
  weeks,
  issues,
  set,
}: {
  readonly student: StudentSource;
  readonly weeks: number;
  readonly issues: readonly Issue[];
  readonly set: SetStudent;
}) {
  const exercises = useWindow((s) => s.rosterView?.exercises) ?? [];
  const all = student.assignments ?? [];
  const taken = new Set(all.flatMap((it) => it.exercises));
  const add = () => {
    const next = exercises.find(({ id }) => !taken.has(id)) ?? exercises[0];
    set('assignments', [...all, { exercises: next ? [next.id] : [] }]);
  };
  return (
    <fieldset className="wide group">
      <legend>{S.assignments}</legend>
      {all.length === 0 && <p className="hint">{S.noAssignments}</p>}
      <ul className="assignments">
        {all.map((assignment, a) => (
          <OneAssignment
            // biome-ignore lint/suspicious/noArrayIndexKey: assignments have no identity but their place
            key={a}
            number={a + 1}
            assignment={assignment}
            weeks={weeks}
            issues={issues.filter(({ path }) => path[2] === 'assignments' && path[3] === a)}
            onChange={(next) =>
              set(
                'assignments',
                all.flatMap((it, i) => (i !== a ? [it] : next ? [next] : [])),
              )
            }
          />
        ))}
      </ul>
      <button type="button" onClick={add} disabled={exercises.length === 0}>
        {S.addAssignment}
      </button>
    </fieldset>
  );
}
