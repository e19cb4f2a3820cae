/** docs/roster-and-ensemble-files.md: every field of the two files that may stand beside a book. */
import { describedSchema } from '../../core/book/json-schema.js';
import { ensembleShape } from '../../core/ensemble/schema.js';
import { rosterShape } from '../../core/people/schema.js';
import { guide, type Section } from './guide.js';

const STUDENT = ['students', '[]'] as const;
const CHAIR = ['chairs', '[]'] as const;
const LUNGS = 'The fields of `breath`. One is enough; the surest one that is given counts.';

export const ROSTER_SECTIONS: readonly Section[] = [
  { title: 'The roster', text: 'A class or a studio in one term.', at: [] },
  { title: 'A student', text: 'Each entry of `students`. Only a name and an instrument are needed.', at: STUDENT },
  { title: 'Tempos', text: 'Each entry of `tempos`.', at: [...STUDENT, 'tempos', '[]'] },
  { title: 'Assignments', text: 'Each entry of `assignments`.', at: [...STUDENT, 'assignments', '[]'] },
  { title: 'Progress', text: 'Each entry of `progress`.', at: [...STUDENT, 'progress', '[]'] },
  { title: 'A student’s compass', text: 'The fields of `compass`.', at: [...STUDENT, 'compass'] },
  { title: 'A student’s spelling', text: 'The fields of `spelling`.', at: [...STUDENT, 'spelling'] },
  { title: 'A student’s lungs', text: LUNGS, at: [...STUDENT, 'breath'] },
];

export const ENSEMBLE_SECTIONS: readonly Section[] = [
  { title: 'The ensemble', text: 'Who plays together, and how.', at: [] },
  { title: 'A chair', text: 'Each entry of `chairs`. Only an instrument is needed.', at: CHAIR },
  { title: 'Chairs that stay together', text: 'Each entry of `keep`.', at: ['keep', '[]'] },
  { title: 'Breathing', text: 'The fields of `breathing`.', at: ['breathing'] },
  { title: 'The score', text: 'The fields of `score`.', at: ['score'] },
  { title: 'A chair’s compass', text: 'The fields of `compass`.', at: [...CHAIR, 'compass'] },
  { title: 'A chair’s spelling', text: 'The fields of `spelling`.', at: [...CHAIR, 'spelling'] },
  { title: 'A chair’s lungs', text: LUNGS, at: [...CHAIR, 'breath'] },
];

const HEAD = `# Roster and ensemble files

<!-- Written by \`npm run docs\` from the schemas in core/people and core/ensemble; change the words there. -->

[students-and-ensembles.md](students-and-ensembles.md) tells what the two files are for, shows one of each, and says what of
students is stored. This page tells every field.

`;

export function companionsGuide(): string {
  const roster = guide(describedSchema(rosterShape), ROSTER_SECTIONS, '###');
  const ensemble = guide(describedSchema(ensembleShape), ENSEMBLE_SECTIONS, '###');
  return `${HEAD}## Roster files\n\n${roster}\n## Ensemble files\n\n${ensemble}`;
}
