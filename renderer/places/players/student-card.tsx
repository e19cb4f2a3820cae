/** One student, unfolded. */
import { wordsFrom } from '../../edits/typed-lists.js';
import { bind } from '../../parts/bound.js';
import { DraftField } from '../../parts/draft-field.js';
import { TextField } from '../../parts/fields.js';
import { instrumentOf } from '../../state/instrument-names.js';
import { T } from '../../texts/texts.js';
import { Assignments } from './assignments.js';
import { CompassField, HeadIssues, InstrumentField, LevelField, PageField, SpellingField, StaffField } from './reader-form.js';
import { StudentBreath } from './student-breath.js';
import type { StudentForm } from './student-form.js';
import { Tempos } from './tempos.js';

const S = T.students;

type Props = { readonly form: StudentForm };

function LearntKeys({ form: { student, at, set, reader } }: Props) {
  const keys = student.keys ?? [];
  const toggle = (key: string) => set({ keys: keys.includes(key) ? keys.filter((it) => it !== key) : [...keys, key] });
  return (
    <fieldset className="wide group">
      <legend>{S.keys}</legend>
      <div className="chips">
        {reader.lists.wheel.map((key) => (
          <button
            key={key.written}
            type="button"
            className="toggle"
            aria-pressed={keys.includes(key.written)}
            onClick={() => toggle(key.written)}
          >
            {key.shown}
          </button>
        ))}
      </div>
      <DraftField
        label={S.keysAsText}
        hint={S.keysHint}
        value={keys.join(' ')}
        placeholder={S.allKeys}
        issues={at('keys')}
        onChange={(text) => set({ keys: wordsFrom(text) })}
      />
    </fieldset>
  );
}

/** What differs in the student's own copy of the pages. */
function OwnCopy({ form: { student, at, reader } }: Props) {
  const wrong = ['compass', 'staff', 'page', 'spelling'].some((field) => at(field).length > 0);
  return (
    <details className="wide within" open={student.compass !== undefined || wrong}>
      <summary>{S.copy}</summary>
      <div className="fields">
        <StaffField reader={reader} />
        <PageField reader={reader} />
        <SpellingField reader={reader} />
        <CompassField reader={reader} />
      </div>
    </details>
  );
}

export function StudentCard({ form, onRemove }: Props & { readonly onRemove: () => void }) {
  const { student, at, issues, set, reader } = form;
  return (
    <div className="fields">
      <HeadIssues issues={issues} fields={['name', 'keys', 'assignments', 'tempos', 'progress']} />
      <TextField {...bind(student, at, set)('name', S.name)} name="student-name" />
      <InstrumentField reader={reader} />
      <LevelField reader={reader} />
      {instrumentOf(reader.lists, student.instrument)?.breath !== false && <StudentBreath form={form} />}
      <LearntKeys form={form} />
      <Assignments form={form} />
      <Tempos form={form} />
      <OwnCopy form={form} />
      <div className="row wide">
        <button type="button" onClick={onRemove}>
          {T.players.remove}: {student.name || S.unnamed}
        </button>
      </div>
    </div>
  );
}
