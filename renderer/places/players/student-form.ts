/** One student as the parts of its card see it. */
import type { Issue } from '../../../core/base/issue.js';
import type { RosterSource, StudentSource } from '../../../core/people/schema.js';
import type { Lists } from '../../../electron/services/contract/answers/lists.js';
import { STUDENTS } from '../../edits/roster.js';
import { type IssuesAt, issuesAt } from '../../parts/issues-at.js';
import { edit } from '../../state/history.js';
import { CHANGE } from '../../texts/texts.js';
import { type Reader, stepOf } from './reader-form.js';

export type StudentForm = {
  readonly index: number;
  readonly student: StudentSource;
  readonly weeks: number;
  readonly issues: readonly Issue[];
  readonly at: IssuesAt;
  readonly reader: Reader;
  readonly set: (part: Partial<StudentSource>) => void;
  /** A change inside one field. */
  readonly change: (field: keyof StudentSource, make: (before: StudentSource) => StudentSource) => void;
};

export function studentForm(
  lists: Lists,
  roster: RosterSource,
  index: number,
  student: StudentSource,
  issues: readonly Issue[],
): StudentForm {
  const named = (part: object) => stepOf(CHANGE.reader(student.name), `student ${index}`, part);
  const at = issuesAt(issues, 'students', index);
  const set = (part: Partial<StudentSource>) => edit('roster', named(part), (it) => STUDENTS.set(it, index, part));
  return {
    index,
    student,
    weeks: roster.weeks ?? 8,
    issues,
    at,
    reader: { lists, source: student, level: 'intermediate', at, set },
    set,
    change: (field, make) => edit('roster', named({ [field]: true }), (it) => STUDENTS.change(it, index, make)),
  };
}
