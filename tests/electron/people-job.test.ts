/** What the job does for students, ensembles, exports and imports, through a port as the window meets it. */
import { readFileSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { ExportAsk } from '../../electron/services/job/export-exercise.js';
import { startedJob } from './started-job.js';

const job = startedJob();
const { progress, value } = job;
const asset = (name: string) => JSON.parse(readFileSync(fileURLToPath(new URL(`../../assets/books/${name}`, import.meta.url)), 'utf8'));
const source = asset('small-wheels.twelvefold');
const roster = asset('harrow-lane.roster');
const trio = {
  format: 'twelvefold-ensemble',
  version: 1,
  name: 'Mill Trio',
  chairs: [{ instrument: 'flute', players: 2 }, { instrument: 'clarinet-in-bb' }, { instrument: 'trombone' }],
  exercises: ['three-steps'],
};
const out = () => mkdtemp(join(tmpdir(), 'twelvefold-'));

describe('checks', () => {
  it('a roster: lungs in words, what is assigned and how fast', async () => {
    const view = await value('roster-check', { source, roster });
    expect(view.issues.filter((issue) => issue.severity === 'error')).toEqual([]);
    expect(view.students[0]?.lung).toMatch(/s/);
    // From the file: 66 and then 72 reached, the goal 80.
    expect(view.students[0]?.assigned.find(({ id }) => id === 'three-steps')).toEqual({ id: 'three-steps', now: 72, goal: 80 });
    expect(view.exercises.map(({ id }) => id)).toContain('three-steps');
  });

  it('faults of a roster stand at their place, and the lungs are told all the same', async () => {
    const broken = structuredClone(roster);
    broken.students[0].assignments[0].exercises = ['no-such'];
    broken.students[1].instrument = 'flutte';
    const view = await value('roster-check', { source, roster: broken });
    expect(view.issues.map((issue) => issue.path.join('.'))).toEqual(
      expect.arrayContaining(['students.0.assignments.0.exercises.0', 'students.1.instrument']),
    );
    expect(view.students[2]?.lung).not.toBe('');
  });

  it('an ensemble: names and ids filled in', async () => {
    const view = await value('ensemble-check', { source, ensemble: { ...trio, breathing: { plan: 'staggered' } } });
    expect(view.chairs.map(({ id, copies }) => [id, copies])).toEqual([
      ['flute', 2],
      ['clarinet-in-bb', 1],
      ['trombone', 1],
    ]);
    const bound = { ...trio, keep: [{ chairs: ['flute', 'obo'], together: 'unison' as const }] };
    const wrong = await value('ensemble-check', { source, ensemble: bound });
    expect(wrong.issues[0]?.path).toEqual(['keep', 0, 'chairs', 1]);
  });
});

describe('files for people', () => {
  it("one student's booklet and the summary, beside an edition", async () => {
    const folder = await out();
    const booklets = { roster, students: [2], summary: true, date: '2026-03-01' };
    const built = await value('build', { source, editions: [0], kinds: ['pdf'], folder, booklets, ticket: 't1' });
    expect((await readdir(folder)).sort()).toEqual([
      'small-wheels-anselm-quade-trumpet-in-b-flat.pdf',
      'small-wheels-flute.pdf',
      'small-wheels-summary.pdf',
    ]);
    expect(built.files.every(({ pages }) => pages > 0)).toBe(true);
    const told = progress.filter(({ ticket }) => ticket === 't1');
    expect(told.map(({ done }) => done)).toEqual(told.map(({ done }) => done).sort((a, b) => a - b));
    expect(told.at(-1)?.done).toBe(told.at(-1)?.total);
  });

  it('parts of the chosen chairs and the score', async () => {
    const folder = await out();
    await value('build', { source, editions: [], kinds: [], folder, set: { ensemble: trio, chairs: [0, 2], score: true }, ticket: 't2' });
    expect((await readdir(folder)).sort()).toEqual([
      'small-wheels-mill-trio-flute.pdf',
      'small-wheels-mill-trio-score.pdf',
      'small-wheels-mill-trio-trombone.pdf',
    ]);
  });

  it('stopped: nothing half-written is left', async () => {
    const folder = await out();
    const students = roster.students.map((_: unknown, i: number) => i);
    const work = job.ask('build', {
      source,
      editions: [],
      kinds: [],
      folder,
      booklets: { roster, students, summary: true, date: '2026-03-01' },
      ticket: 't3',
    });
    setImmediate(() => job.cancel('t3'));
    expect((await work).issues[0]?.code).toBe('stopped');
    expect((await readdir(folder)).filter((name) => !name.endsWith('.pdf'))).toEqual([]);
  });

  it('a place that the disk refuses is told by its name, and the rest is written', async () => {
    const folder = await out();
    await mkdir(join(folder, 'small-wheels-summary.pdf'));
    const booklets = { roster, students: [2], summary: true, date: '2026-03-01' };
    const answer = await job.ask('build', { source, editions: [], kinds: [], folder, booklets, ticket: 't5' });
    if (!answer.ok) throw new Error('one of the two is written');
    expect(answer.value.files.map(({ name }) => name)).toEqual(['small-wheels-anselm-quade-trumpet-in-b-flat.pdf']);
    expect(answer.value.missing.map(({ label, issues }) => [label, issues.map(({ code }) => code)])).toEqual([
      ['summary', ['file-eisdir']],
    ]);
    expect(answer.issues.at(-1)?.message).toMatch(/small-wheels-summary\.pdf/);
    expect((await readdir(folder)).sort()).toEqual(['small-wheels-anselm-quade-trumpet-in-b-flat.pdf', 'small-wheels-summary.pdf']);
    // Nothing at all written is a failure.
    const none = await job.ask('build', {
      source,
      editions: [],
      kinds: [],
      folder,
      booklets: { ...booklets, students: [] },
      ticket: 't6',
    });
    expect([none.ok, none.issues.map(({ code }) => code)]).toEqual([false, ['file-eisdir']]);
  });

  it('a roster with faults writes nothing at all', async () => {
    const folder = await out();
    const broken = { ...roster, students: [{ name: 'A. B.', instrument: 'no such' }] };
    const booklets = { roster: broken, students: [0], summary: false, date: '2026-03-01' };
    const answer = await job.ask('build', { source, editions: [0], kinds: ['pdf'], folder, booklets, ticket: 't4' });
    expect([answer.ok, answer.issues[0]?.path]).toEqual([false, ['students', 0, 'instrument']]);
    expect(await readdir(folder)).toEqual([]);
  });
});

const plain: Omit<ExportAsk, 'folder' | 'format'> = {
  source,
  edition: 0,
  focus: { chapter: 0, exercise: 1 },
  click: false,
  drone: false,
  dark: false,
  eachKey: false,
};

describe('export', () => {
  it.each<[ExportAsk['format'], Partial<ExportAsk>, string, RegExp]>([
    ['musicxml', {}, 'musicxml', /^<\?xml[\s\S]*<score-partwise/],
    ['mxl', {}, 'mxl', /^PK/],
    ['midi', { click: true, countIn: 1 }, 'mid', /^MThd/],
    ['wav', { ladder: 2, drone: true, click: true, a4: 442 }, 'wav', /^RIFF....WAVE/s],
    ['svg', { shape: '9:16', dark: true }, 'svg', /^<svg/],
    ['png', {}, 'png', /PNG/],
    ['brf', {}, 'brf', /^[ -~\n\r\f]+$/],
    ['braille', {}, 'braille.txt', /[\u2800-\u28ff]/],
    ['text', {}, 'txt', /Three steps/i],
  ])('%s', async (format, wishes, ending, begins) => {
    const folder = await out();
    const built = await value('export', { ...plain, ...wishes, format, folder, ticket: 'e' });
    expect(await readdir(folder)).toEqual([`small-wheels-flute-three-steps.${ending}`]);
    const bytes = await readFile(built.files[0]?.path ?? '');
    expect(bytes.subarray(0, 400).toString(format === 'braille' || format === 'text' ? 'utf8' : 'latin1')).toMatch(begins);
  });

  it('an exercise with a fault is refused with its reason, and nothing is written', async () => {
    const folder = await out();
    const broken = structuredClone(source);
    broken.chapters[0].exercises[1].figure = '1 2 9x';
    const answer = await job.ask('export', { ...plain, source: broken, format: 'midi', folder, ticket: 'e' });
    expect(answer.issues[0]?.code).toBe('exercise-not-shown');
    expect(await readdir(folder)).toEqual([]);
  });
});

describe('import', () => {
  it('what was exported comes back: its degrees, its rhythm and its key, with how sure that is', async () => {
    const folder = await out();
    const built = await value('export', { ...plain, format: 'musicxml', folder, ticket: 'e' });
    const bytes = (await readFile(built.files[0]?.path ?? '')).toString('base64');
    // Three steps begins in B flat: the whole line, in one key, is degrees of B flat.
    const view = await value('import', { bytes, key: 'Bb' });
    expect(view.figure.startsWith('1 2 3 2')).toBe(true);
    expect(view).toMatchObject({ keyTyped: 'Bb', keyFrom: 'given', confidence: 1 });
    expect(view.svg).toContain('<svg');
    const guessed = await value('import', { bytes });
    expect(guessed.confidence).toBeGreaterThan(0);
  });

  it.each([
    ['', undefined, 'file-empty'],
    [Buffer.from('hello').toString('base64'), undefined, 'not-a-score'],
    [Buffer.from('MThd').toString('base64'), 'H', 'unknown-key'],
  ])('%j in the key %s: %s', async (bytes, key, code) => {
    const answer = await job.ask('import', { bytes, key });
    expect([answer.ok, answer.issues[0]?.code]).toEqual([false, code]);
    expect(answer.issues[0]?.message).toMatch(/\w.*\.$/);
  });
});
