/** The students of a roster: who they are, how long their breath lasts, what they play and how far they have come. */
import type { RosterSource, StudentSource } from '../../../core/people/schema.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { editionObject } from '../../edits/book.js';
import { breatherIndex, breatherName } from '../../edits/breather.js';
import { withFields } from '../../edits/list.js';
import { freeName, STUDENTS } from '../../edits/roster.js';
import { bind } from '../../parts/bound.js';
import { CompanionHead, NoCompanion } from '../../parts/companion-head.js';
import { Issues, NumberField, TextField } from '../../parts/fields.js';
import { type IssuesAt, issuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { instrumentName } from '../../state/instrument-names.js';
import { change, now, OF_EDITION, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { ReaderItem } from './reader-form.js';
import { StudentCard } from './student-card.js';
import { type StudentForm, studentForm } from './student-form.js';

const S = T.students;

const setTerm = (part: Partial<RosterSource>, label: string) =>
  edit('roster', { name: CHANGE.field(label), together: Object.keys(part).join(' ') }, (it) => withFields(it, part));

function Term({ source, at }: { readonly source: RosterSource; readonly at: IssuesAt }) {
  const field = bind(source, at, setTerm);
  return (
    <section className="panel">
      <CompanionHead of="roster" />
      <Issues issues={[...at('format'), ...at('version')]} />
      <div className="fields">
        <TextField {...field('title', S.title)} placeholder={S.titleExample} />
        <TextField {...field('begins', S.begins)} placeholder="2026-03-01" />
        <NumberField {...field('weeks', S.weeks)} min={1} max={60} placeholder="8" />
      </div>
    </section>
  );
}

/** The instrument that a new student most likely plays: that of the pages on the screen. */
function likelyInstrument(): string {
  const { book, edition } = now();
  const given = book?.source.editions[edition];
  return given === undefined ? 'flute' : editionObject(given).instrument;
}

function add(): void {
  const source = now().roster?.source;
  if (!source) return;
  const name = freeName(source, S.student);
  const student: StudentSource = { name, instrument: likelyInstrument() };
  edit('roster', { name: CHANGE.addStudent(name) }, (it) => STUDENTS.add(it, student));
  change({ student: source.students.length });
  setTimeout(() => document.getElementById('student-name')?.focus(), 30);
}

function remove(index: number): void {
  const name = now().roster?.source.students[index]?.name ?? '';
  edit('roster', { name: CHANGE.removeReader(name) }, (it) => STUDENTS.remove(it, index));
  // Whoever stood behind has moved up.
  change(({ breather, student }) => {
    const at = breatherIndex(breather) ?? -1;
    return {
      breather: at === index ? OF_EDITION : at > index ? breatherName(at - 1) : breather,
      student: student === undefined ? undefined : Math.max(0, student >= index ? student - 1 : student),
    };
  });
}

function StudentItem({ form }: { readonly form: StudentForm }) {
  const { index, student, issues, reader } = form;
  const open = useWindow((s) => s.student) === index;
  return (
    <ReaderItem
      title={student.name || S.unnamed}
      hint={instrumentName(reader.lists, student.instrument)}
      badge={issues.length > 0 ? S.remarks(issues.length) : undefined}
      open={open}
      onHead={() => change({ student: open ? undefined : index })}
    >
      <StudentCard form={form} onRemove={() => remove(index)} />
    </ReaderItem>
  );
}

export function StudentsPanel({ lists }: { readonly lists: Lists }) {
  const source = useWindow((s) => s.roster?.source);
  const view = useWindow((s) => s.rosterView);
  if (!source) return <NoCompanion of="roster" title={S.noneTitle} words={S.noneWords} />;
  const issues = view?.issues ?? [];
  const at = issuesAt(issues);
  const nobody = source.students.length === 0;
  const loose = issues.filter(({ path }) => path.length === 0 || (path[0] === 'students' && path.length === 1 && !nobody));
  // That nothing is assigned stands where assignments are made.
  const own = (i: number) => at('students', i).filter(({ severity, code }) => severity !== 'note' && code !== 'nothing-assigned');
  return (
    <>
      <Term source={source} at={at} />
      <section className="panel">
        <h2>{S.heading}</h2>
        <p className="hint">{S.hint}</p>
        <Issues issues={loose} />
        {nobody && <p className="empty">{S.empty}</p>}
        <ul className="editions">
          {source.students.map((student, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a name changes while it is typed
            <StudentItem key={i} form={studentForm(lists, source, i, student, own(i))} />
          ))}
        </ul>
        <button type="button" id="add-person" className={nobody ? 'main' : undefined} onClick={add}>
          {S.add}
        </button>
      </section>
    </>
  );
}
