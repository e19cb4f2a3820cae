/** One exercise: its figure, its keys, its course, its time, its register and its breath, with the line before one's eyes. */
import { type ReactNode, useMemo } from 'react';
import type { Issue } from '../../../core/base/issue.js';
import { newExercise } from '../../commands/outline.js';
import { exerciseAt, proseSource, proseText } from '../../edits/book.js';
import { TextArea } from '../../parts/fields.js';
import { issuesAt } from '../../parts/issues-at.js';
import { useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { BreathPanel } from './breath-panel.js';
import { DropPlace } from './drop-place.js';
import { ExerciseHead } from './exercise-head.js';
import { FigurePanel } from './figure-panel.js';
import { KeyFields } from './key-fields.js';
import { CourseFields, type FieldsProps, PrintFields, RegisterFields, setExerciseFields, TimeFields } from './setting-fields.js';

const X = T.exercise;
const NO_ISSUES: readonly Issue[] = [];

function Section({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <section className="panel">
      <h2>{title}</h2>
      <div className="fields">{children}</div>
    </section>
  );
}

function None() {
  return (
    <div className="empty-place">
      <h1>{X.noneTitle}</h1>
      <p>{X.none}</p>
      <button type="button" className="main" onClick={() => newExercise()}>
        {T.book.addExercise}
      </button>
    </div>
  );
}

function Instruction({ focus, issues }: FieldsProps) {
  const text = useWindow((s) => s.book && exerciseAt(s.book.source, focus)?.instruction);
  return (
    <TextArea
      label={X.instruction}
      rows={2}
      wide
      value={proseText(text)}
      issues={issues('instruction')}
      onChange={(next) => setExerciseFields(focus, CHANGE.field(X.instruction), { instruction: proseSource(next) })}
    />
  );
}

export function ExercisePlace() {
  const source = useWindow((s) => s.book?.source);
  const focus = useWindow((s) => s.focus);
  const lists = useWindow((s) => s.lists);
  const view = useWindow((s) => s.shown?.exercise);
  const issues = useWindow((s) => s.shown?.issues) ?? NO_ISSUES;
  const at = useMemo(() => issuesAt(issues, 'chapters', focus?.chapter ?? -1, 'exercises', focus?.exercise ?? -1), [issues, focus]);
  const exercise = source && focus && exerciseAt(source, focus);
  if (!source || !focus || !exercise || !lists) return <None />;
  const fields = { focus, issues: at };
  return (
    <DropPlace>
      <ExerciseHead source={source} focus={focus} exercise={exercise} lists={lists} />
      <FigurePanel {...fields} exercise={exercise} lists={lists} />
      {view && <BreathPanel exercise={view} />}
      <section className="panel">
        <h2>{X.keys}</h2>
        <KeyFields {...fields} lists={lists} exercise={view} />
      </section>
      <Section title={X.turns}>
        <CourseFields {...fields} />
      </Section>
      <Section title={X.time}>
        <TimeFields {...fields} lists={lists} />
      </Section>
      <Section title={X.register}>
        <RegisterFields {...fields} />
      </Section>
      <Section title={X.print}>
        <Instruction {...fields} />
        <PrintFields {...fields} lists={lists} />
      </Section>
    </DropPlace>
  );
}
