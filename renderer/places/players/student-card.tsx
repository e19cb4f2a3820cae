/** One student, unfolded. */
import { useState } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import type { StudentSource } from '../../../core/people/schema.js';
import type { Lists } from '../../../electron/services/lists.js';
import { breatherName, setStudent, withField, wordsFrom } from '../../edits/people.js';
import { Compass } from '../../parts/compass.js';
import { DraftField } from '../../parts/draft-field.js';
import { choices, Issues, NumberField, Select, TextField } from '../../parts/fields.js';
import { Stopwatch } from '../../parts/stopwatch.js';
import { editCompanion } from '../../state/history.js';
import { change, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { Assignments } from './assignments.js';
import { Tempos } from './tempos.js';

const S = T.students;
const P = T.players;

export type SetStudent = <K extends keyof StudentSource>(field: K, value: StudentSource[K] | undefined) => void;

type CardProps = {
  readonly lists: Lists;
  readonly index: number;
  readonly student: StudentSource;
  readonly weeks: number;
  readonly issues: readonly Issue[];
  readonly set: SetStudent;
};

/** Fields whose faults stand at the field itself; those of the others stand at the head. */
const OWN_FIELDS = ['name', 'instrument', 'level', 'compass', 'staff', 'page', 'breath', 'keys', 'assignments', 'tempos', 'progress'];

function Breath({ index, student, issues, set }: CardProps) {
  const breather = useWindow((s) => s.breather);
  const lung = useWindow((s) => s.rosterView?.students[index]?.lung);
  const [measuring, setMeasuring] = useState(false);
  const own = student.breath ?? {};
  const at = (field: string) => issues.filter(({ path }) => path[2] === 'breath' && path[3] === field);
  const facts = <K extends keyof typeof own>(field: K, value: (typeof own)[K] | undefined) => set('breath', withField(own, field, value));
  const chosen = breather === breatherName(index);
  return (
    <fieldset className="wide group">
      <legend>{S.breath}</legend>
      <div className="fields">
        <NumberField
          label={P.longToneSeconds}
          min={1}
          max={90}
          step={0.1}
          value={own.longTone}
          issues={at('longTone')}
          onChange={(seconds) => facts('longTone', seconds)}
        />
        <NumberField
          label={S.lungTime}
          hint={S.lungTimeHint}
          min={1}
          max={90}
          step={0.1}
          value={own.lungTime}
          issues={at('lungTime')}
          onChange={(seconds) => facts('lungTime', seconds)}
        />
        <Select
          label={P.lungs}
          value={own.lungs ?? ''}
          options={[{ value: '', label: S.notSaid }, ...choices(P.lungClasses)]}
          issues={at('lungs')}
          onChange={(lungs) => facts('lungs', (lungs || undefined) as typeof own.lungs)}
        />
        <NumberField label={S.age} min={4} max={110} value={own.age} issues={at('age')} onChange={(age) => facts('age', age)} />
        <NumberField
          label={S.height}
          min={80}
          max={230}
          value={own.height}
          issues={at('height')}
          onChange={(height) => facts('height', height)}
        />
        <Select
          label={S.sex}
          value={own.sex ?? ''}
          options={[{ value: '', label: S.notSaid }, ...choices(S.sexes)]}
          issues={at('sex')}
          onChange={(sex) => facts('sex', (sex || undefined) as typeof own.sex)}
        />
      </div>
      <Issues issues={issues.filter(({ path }) => path[2] === 'breath' && path.length === 3)} />
      {lung && <p className="hint">{S.lasts(lung)}</p>}
      <div className="row">
        <button type="button" aria-expanded={measuring} onClick={() => setMeasuring(!measuring)}>
          {P.measure}
        </button>
        <button
          type="button"
          className="toggle"
          aria-pressed={chosen}
          onClick={() => change({ breather: chosen ? 'adult' : breatherName(index) })}
        >
          {S.showBreaths}
        </button>
      </div>
      {measuring && <Stopwatch onKeep={(seconds) => facts('longTone', seconds)} />}
    </fieldset>
  );
}

/** What differs in the student's own copy of the pages. */
function Copy({ lists, student, issues, set }: CardProps) {
  const at = (field: string) => issues.filter(({ path }) => path[2] === field);
  const instrument = lists.instruments.find((it) => it.id === student.instrument);
  const level = student.level ?? 'intermediate';
  const wrong = ['compass', 'staff', 'page', 'spelling'].some((field) => at(field).length > 0);
  return (
    <details className="wide within" open={student.compass !== undefined || wrong}>
      <summary>{S.copy}</summary>
      <div className="fields">
        <NumberField
          label={S.staff}
          min={4}
          max={12}
          step={0.5}
          value={student.staff}
          placeholder={T.book.byLevel}
          issues={at('staff')}
          onChange={(staff) => set('staff', staff)}
        />
        <Select
          label={T.book.houseFields.page}
          value={student.page ?? ''}
          options={[{ value: '', label: T.exercise.inherited }, ...choices(T.book.pages)]}
          issues={at('page')}
          onChange={(page) => set('page', (page || undefined) as StudentSource['page'])}
        />
        <Select
          label={P.spelling}
          value={student.spelling?.tie ?? ''}
          options={[{ value: '', label: T.exercise.inherited }, ...choices(P.ties)]}
          onChange={(tie) => set('spelling', withField(student.spelling ?? {}, 'tie', (tie || undefined) as 'flats'))}
        />
        {instrument && (
          <Compass
            lists={lists}
            instrument={instrument}
            level={level}
            compass={student.compass}
            issues={at('compass')}
            onChange={(compass) => set('compass', compass)}
          />
        )}
      </div>
    </details>
  );
}

export function StudentCard({ onRemove, ...props }: CardProps & { readonly onRemove: () => void }) {
  const { lists, student, issues, set } = props;
  const instrument = lists.instruments.find((it) => it.id === student.instrument);
  const at = (field: string) => issues.filter(({ path }) => path[2] === field);
  const level = student.level ?? 'intermediate';
  const keys = student.keys ?? [];
  const toggle = (key: string) => set('keys', keys.includes(key) ? keys.filter((it) => it !== key) : [...keys, key]);
  const known = lists.instruments.map((it) => ({ value: it.id, label: it.name }));
  return (
    <div className="fields">
      <Issues issues={issues.filter(({ path }) => path.length < 3 || !OWN_FIELDS.includes(String(path[2])))} />
      <TextField label={S.name} name="student-name" value={student.name} issues={at('name')} onChange={(name) => set('name', name)} />
      <Select
        label={T.pages.instrument}
        value={student.instrument}
        options={instrument ? known : [{ value: student.instrument, label: student.instrument }, ...known]}
        issues={at('instrument')}
        onChange={(id) =>
          // Another instrument has another compass.
          editCompanion('roster', { name: CHANGE.student(student.name) }, (it) =>
            setStudent(it, props.index, (before) => withField({ ...before, instrument: id }, 'compass', undefined)),
          )
        }
      />
      <Select
        label={P.level}
        value={level}
        options={choices(P.levels)}
        issues={at('level')}
        onChange={(next) => set('level', next as typeof level)}
      />
      {instrument?.breath !== false && <Breath {...props} />}
      <fieldset className="wide group">
        <legend>{S.keys}</legend>
        <div className="chips">
          {lists.wheel.map((key) => (
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
          onChange={(text) => set('keys', wordsFrom(text))}
        />
      </fieldset>
      <Assignments {...props} />
      <Tempos {...props} />
      <Copy {...props} />
      <div className="row wide">
        <button type="button" onClick={onRemove}>
          {P.remove}: {student.name || S.unnamed}
        </button>
      </div>
    </div>
  );
}
