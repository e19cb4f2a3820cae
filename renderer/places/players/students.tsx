/** The students of a roster: who they are, how long their breath lasts, what they play and how far they have come. */
import type { Issue } from '../../../core/base/issue.js';
import type { RosterSource, StudentSource } from '../../../core/people/schema.js';
import type { Lists } from '../../../electron/services/lists.js';
import { editionObject } from '../../edits/book.js';
import { breatherName, freeName, setStudentField, withField } from '../../edits/people.js';
import { CompanionHead, NoCompanion } from '../../parts/companion-head.js';
import { Issues, NumberField, TextField } from '../../parts/fields.js';
import { editCompanion } from '../../state/history.js';
import { keepInSight } from '../../state/keyboard-focus.js';
import { change, now, useWindow } from '../../state/state.js';
import { CHANGE, T } from '../../texts/texts.js';
import { StudentCard } from './student-card.js';

const S = T.students;

function Term({ source, at }: { readonly source: RosterSource; readonly at: (...path: (string | number)[]) => readonly Issue[] }) {
  const set = <K extends 'title' | 'begins' | 'weeks'>(field: K, label: string, value: RosterSource[K] | undefined) =>
    editCompanion('roster', { name: CHANGE.roster(label), together: field }, (it) => withField(it, field, value));
  return (
    <section className="panel">
      <CompanionHead of="roster" />
      <Issues issues={[...at('format'), ...at('version')]} />
      <div className="fields">
        <TextField
          label={S.title}
          value={source.title ?? ''}
          placeholder={S.titleExample}
          issues={at('title')}
          onChange={(title) => set('title', S.title, title)}
        />
        <TextField
          label={S.begins}
          value={source.begins ?? ''}
          placeholder="2026-03-01"
          issues={at('begins')}
          onChange={(begins) => set('begins', S.begins, begins)}
        />
        <NumberField
          label={S.weeks}
          min={1}
          max={60}
          value={source.weeks}
          placeholder="8"
          issues={at('weeks')}
          onChange={(weeks) => set('weeks', S.weeks, weeks)}
        />
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
  editCompanion('roster', { name: CHANGE.addStudent(name) }, (it) => ({ ...it, students: [...it.students, student] }));
  change({ student: source.students.length });
  setTimeout(() => document.getElementById('student-name')?.focus(), 30);
}

function remove(index: number): void {
  const name = now().roster?.source.students[index]?.name ?? '';
  editCompanion('roster', { name: CHANGE.removeStudent(name) }, (it) => ({ ...it, students: it.students.filter((_, i) => i !== index) }));
  // Whoever stood behind has moved up.
  change(({ breather, student }) => {
    const at = Number(/^student (\d+)$/.exec(breather)?.[1] ?? -1);
    return {
      breather: at === index ? 'adult' : at > index ? breatherName(at - 1) : breather,
      student: student === undefined ? undefined : Math.max(0, student > index || student === index ? student - 1 : student),
    };
  });
}

export function StudentsPanel({ lists }: { readonly lists: Lists }) {
  const source = useWindow((s) => s.roster?.source);
  const view = useWindow((s) => s.rosterView);
  const open = useWindow((s) => s.student);
  if (!source) return <NoCompanion of="roster" title={S.noneTitle} words={S.noneWords} />;
  const issues = view?.issues ?? [];
  const at = (...path: (string | number)[]) => issues.filter((issue) => path.every((part, i) => issue.path[i] === part));
  const loose = issues.filter(
    ({ path }) => path.length === 0 || (path[0] === 'students' && path.length === 1 && source.students.length > 0),
  );
  return (
    <>
      <Term source={source} at={at} />
      <section className="panel">
        <h2>{S.heading}</h2>
        <p className="hint">{S.hint}</p>
        <Issues issues={loose} />
        {source.students.length === 0 && <p className="empty">{S.empty}</p>}
        <ul className="editions">
          {source.students.map((student, i) => {
            // That nothing is assigned stands where assignments are made.
            const own = at('students', i).filter(({ severity, code }) => severity !== 'note' && code !== 'nothing-assigned');
            const current = open === i;
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: a name changes while it is typed
              <li key={i} className={`edition${current ? ' current' : ''}`}>
                <button
                  type="button"
                  className="edition-head"
                  aria-expanded={current}
                  onClick={(event) => {
                    change({ student: current ? undefined : i });
                    keepInSight(event.currentTarget);
                  }}
                >
                  <span className="item-title">{student.name || S.unnamed}</span>
                  <span className="hint">{lists.instruments.find((it) => it.id === student.instrument)?.name ?? student.instrument}</span>
                  {own.length > 0 && <span className="badge">{S.remarks(own.length)}</span>}
                </button>
                {current && (
                  <StudentCard
                    lists={lists}
                    index={i}
                    student={student}
                    weeks={source.weeks ?? 8}
                    issues={own}
                    set={(field, value) =>
                      editCompanion('roster', { name: CHANGE.student(student.name), together: `student ${i} ${String(field)}` }, (it) =>
                        setStudentField(it, i, field, value),
                      )
                    }
                    onRemove={() => remove(i)}
                  />
                )}
              </li>
            );
          })}
        </ul>
        <button type="button" id="add-person" className={source.students.length === 0 ? 'main' : undefined} onClick={add}>
          {S.add}
        </button>
      </section>
    </>
  );
}
