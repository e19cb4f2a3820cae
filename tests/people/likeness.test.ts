/** Rosters and ensembles that state everything, read, and what is said of every field that is wrong. */
import { expect, it } from 'vitest';
import { bookletBreathingPage } from '../../core/breath/page.js';
import { readEnsemble } from '../../core/ensemble/read.js';
import { bookletStems } from '../../core/people/booklet-names.js';
import { readRoster } from '../../core/people/read.js';
import { demoBook } from '../ensemble/band.js';
import { value } from '../player/fixture.js';
import { book, rosterFile, student } from './class.js';

type Fields = Record<string, unknown>;
const daybook = demoBook('keywrights-daybook');

/** A value as JSON, with maps and sets as lists. */
const written = (read: unknown): string =>
  JSON.stringify(read, (_, part) => (part instanceof Map || part instanceof Set ? [...part] : part), 1);

const told = (found: {
  readonly issues: readonly {
    readonly code: string;
    readonly severity: string;
    readonly path: readonly (string | number)[];
    readonly message: string;
  }[];
}): string =>
  found.issues.map(({ code, severity, path, message }) => `${severity} ${code} at ${path.join('.')}: ${message}`).join('\n') || 'nothing';

const FULL = {
  instrument: 'Clarinet in B♭',
  name: 'A. B.',
  level: 'advanced',
  compass: { low: 'E3', high: 'E6' },
  spelling: { tie: 'sharps', prefer: ['C#'] },
  staff: 8,
  page: 'a4',
  breath: { longTone: 14, experience: 'advanced', age: 30, height: 170, sex: 'female' },
  keys: ['C', 'F', 'Am', 'C#'],
  tempos: [
    { exercise: 'three-steps', now: 60, goal: 96 },
    { exercise: 'last-wheel', goal: 80 },
  ],
  assignments: [{ exercises: ['three-steps', 'last-wheel'], keys: ['Bb'], weeks: [3, 1, 3] }, { exercises: ['five-up'] }],
  progress: [{ exercise: 'three-steps', tempo: 66, date: '2026-03-08' }],
};

it('a roster', async () => {
  const roster = value(
    readRoster(JSON.stringify(rosterFile([student(), student(FULL)], { title: 'T', begins: '2026-03-02', weeks: 4 })), book),
  );
  const bare = value(readRoster(JSON.stringify(rosterFile([student({ name: '東京' }), student({ name: 'book' })])), book));
  await expect(
    `${written(roster)}\n${bare.weeks} ${bare.title} ${bookletStems(book, bare).join(' ')}\n${bookletBreathingPage('9 s')}\n`,
  ).toMatchFileSnapshot('likeness/roster.txt');
});

it('what is wrong with a roster', async () => {
  const wrongs: readonly Fields[] = [
    { name: '' },
    { name: ' ' },
    { name: 5 },
    { instrument: 'flut' },
    { level: 'expert' },
    { compass: { low: 'x' } },
    { compass: { low: 'C6', high: 'C4' } },
    { keys: ['H'] },
    { keys: ['G#'] },
    { keys: ['G#m'] },
    { breath: { lungTime: 0 } },
    { breath: { age: 12 } },
    { staff: 3 },
    { tempos: [{ exercise: 'three-step' }] },
    { tempos: [{ exercise: 'three-steps', now: 90, goal: 80 }] },
    { tempos: [{ exercise: 'three-steps', now: 19 }] },
    { tempos: [{ exercise: 'three-steps', now: 20, goal: 400 }] },
    { tempos: [{ exercise: 'three-steps', now: 401 }] },
    { tempos: [{ exercise: 'three-steps' }, { exercise: 'three-steps' }] },
    { assignments: [] },
    { assignments: [{ exercises: [] }] },
    { assignments: [{ exercises: ['none'] }] },
    { assignments: [{ exercises: ['three-steps'], weeks: [8] }] },
    { assignments: [{ exercises: ['three-steps'], weeks: [9] }] },
    { assignments: [{ exercises: ['three-steps'], weeks: [0] }] },
    { assignments: [{ exercises: ['three-steps'], weeks: [1.5] }] },
    { progress: [{ exercise: 'three-steps', tempo: 60, date: '2026-02-29' }] },
    { progress: [{ exercise: 'three-steps', tempo: 60, date: '2028-02-29' }] },
    { colour: 'red' },
  ];
  const rosters: readonly Fields[] = [
    rosterFile([]),
    rosterFile([student(), student({ name: ' QUILLON  marsh ' })]),
    rosterFile([student()], { begins: 'soon' }),
    rosterFile([student()], { weeks: 61 }),
    rosterFile([student()], { weeks: 0 }),
    { ...rosterFile([student()]), format: 'twelvefold' },
    { ...rosterFile([student()]), version: 2 },
  ];
  const lines = [
    ...wrongs.map((wrong) => `— ${JSON.stringify(wrong)}\n${told(readRoster(JSON.stringify(rosterFile([student(wrong)])), book))}`),
    ...rosters.map((roster, i) => `— roster ${i}\n${told(readRoster(JSON.stringify(roster), book))}`),
    `— text\n${told(readRoster('{', book))}`,
  ];
  await expect(`${lines.join('\n')}\n`).toMatchFileSnapshot('likeness/roster-faults.txt');
});

it('what is wrong with an ensemble', async () => {
  const chairs = [{ instrument: 'flute' }, { instrument: 'clarinet-in-bb' }, { instrument: 'clarinet-in-bb' }];
  const file = (more: Fields): string => JSON.stringify({ format: 'twelvefold-ensemble', version: 1, name: 'Band', chairs, ...more });
  const wrongs: readonly Fields[] = [
    {},
    { chairs: [] },
    { chairs: chairs.slice(0, 1) },
    { chairs: Array.from({ length: 100 }, () => chairs[0]) },
    { chairs: Array.from({ length: 101 }, () => chairs[0]) },
    { chairs: [{ instrument: 'flut' }, chairs[0]] },
    {
      chairs: [
        { id: 'a', instrument: 'flute' },
        { id: 'a', instrument: 'oboe' },
      ],
    },
    {
      chairs: [
        { name: 'A', instrument: 'flute' },
        { name: 'A', instrument: 'oboe' },
      ],
    },
    { chairs: [{ instrument: 'flute', players: 0 }, chairs[1]] },
    { chairs: [{ instrument: 'flute', players: 101 }, chairs[1]] },
    { chairs: [{ instrument: 'flute', players: 1.5 }, chairs[1]] },
    { chairs: [{ instrument: 'flute', compass: { low: 'x' } }, chairs[1]] },
    { chairs: [{ instrument: 'flute', breath: { lungTime: 91 } }, chairs[1]] },
    { start: 'H' },
    { start: 'Bb' },
    { misfit: 'ignore' },
    { keep: [{ chairs: ['flute'], together: 'unison' }] },
    { keep: [{ chairs: ['flute', 'flue'], together: 'unison' }] },
    { keep: [{ chairs: ['flute', 'xyz'], together: 'octave' }] },
    {
      keep: [
        { chairs: ['flute', 'clarinet-in-bb-1'], together: 'unison' },
        { chairs: ['flute', 'clarinet-in-bb-2'], together: 'octave' },
      ],
    },
    { breathing: { plan: 'sometimes' } },
    { breathing: { tempo: 19 } },
    { breathing: { tempo: 401 } },
    { score: { order: 'alphabet' } },
    { score: { staff: 1.9 } },
    { score: { staff: 2 } },
    { score: { staff: 9 } },
    { score: { staff: 9.1 } },
    { exercises: ['none'] },
    { exercises: [] },
    { name: '' },
    { version: 2 },
    { level: 'beginner' },
  ];
  const lines = wrongs.map((wrong) => `— ${JSON.stringify(wrong).slice(0, 120)}\n${told(readEnsemble(file(wrong), daybook))}`);
  await expect(`${lines.join('\n')}\n`).toMatchFileSnapshot('likeness/ensemble-faults.txt');
});
