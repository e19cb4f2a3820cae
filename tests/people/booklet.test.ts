import { describe, expect, it } from 'vitest';
import { buildBooklet, buildSummary } from '../../core/build/booklets.js';
import type { Document } from '../../core/layout/page/page.js';
import { assignedTo } from '../../core/people/assignment.js';
import { latest, tempoOf, withProgress } from '../../core/people/progress.js';
import { readRoster } from '../../core/people/read.js';
import type { Roster, Student } from '../../core/people/roster.js';
import { testFonts } from '../fonts.js';
import { linesIn } from '../layout/setting.js';
import { opened, pdfOf } from '../output/read-pdf.js';
import { value } from '../player/fixture.js';
import { book, rosterFile, student } from './class.js';

const roster = (students: readonly object[], more: object = {}): Roster =>
  value(readRoster(JSON.stringify(rosterFile(students, more)), book));

const booklet = (one: object, more: object = {}): Document =>
  value(buildBooklet(book, roster([one], more), 0, '2026-03-31', testFonts())).document;

const textOf = (document: Document): string => document.pages.flatMap((page) => linesIn(page.items)).join('\n');

/** Written keys of the statements that are printed, in order. */
function keysPrinted(document: Document, exercise: string): string {
  const marks = document.pages.flatMap((page) =>
    page.items.flatMap((item) => (item.kind === 'drawing' && item.exercise === exercise ? item.draw().marks : [])),
  );
  const names = new Map<number, string>();
  for (const mark of marks) {
    if (mark.role !== 'key-name') continue;
    const sign = mark.kind === 'text' ? mark.text : mark.kind === 'glyph' ? (mark.code === 0xe260 ? 'b' : '#') : '';
    names.set(mark.owner.event as number, (names.get(mark.owner.event as number) ?? '') + sign);
  }
  return [...names.values()].join(' ');
}

describe('a booklet', () => {
  it('has the name, the date and the book on its cover', () => {
    const [cover] = booklet(student(), { title: 'Tuesday class' }).pages;
    expect(cover?.kind).toBe('cover');
    expect(linesIn(cover?.items ?? []).join('\n')).toMatch(/Quillon Marsh\n.*Small Wheels\n.*Flute\n.*Tuesday class\n.*March 31, 2026/is);
  });

  it('keeps the numbers of the book', () => {
    const text = textOf(booklet(student()));
    expect(text).toMatch(/^2 Three steps/m);
    expect(text).toMatch(/^11 The last wheel/m);
    expect(text).not.toMatch(/^1 Long notes/m);
  });

  it.each([
    ['all keys', {}, 'Bb Eb F'],
    ['the keys learnt', { keys: ['F', 'Bb', 'G'] }, 'Bb F'],
    ['the keys of the assignment, learnt or not', { keys: ['Bb'], assignments: [{ exercises: ['three-steps'], keys: ['Eb'] }] }, 'Eb'],
    [
      'both assignments of one exercise',
      {
        assignments: [
          { exercises: ['three-steps'], keys: ['Eb'] },
          { exercises: ['three-steps'], keys: ['F'] },
        ],
      },
      'Eb F',
    ],
    ['written keys of the instrument', { instrument: 'alto-saxophone', keys: ['C', 'D'] }, 'C D'],
    ['what the compass allows', { compass: { low: 'F4', high: 'B4' } }, 'F'],
  ])('prints %s', (_, more, keys) => {
    expect(keysPrinted(booklet(student(more)), 'three-steps')).toBe(keys);
  });

  it('has marks for the lungs and the tempo of the student', () => {
    const breaths = (more: object) =>
      booklet(student({ assignments: [{ exercises: ['last-wheel'] }], ...more })).pages.flatMap((page) =>
        page.items.flatMap((item) => (item.kind === 'drawing' ? item.draw().marks.filter((mark) => mark.role === 'breath') : [])),
      ).length;
    expect(breaths({ breath: { lungTime: 6 } })).toBeGreaterThan(breaths({ breath: { lungTime: 20 } }));
    const fast = { tempos: [{ exercise: 'last-wheel', now: 120, goal: 120 }] };
    expect(breaths({ breath: { lungTime: 6 } })).toBeGreaterThan(breaths({ breath: { lungTime: 6 }, ...fast }));
    expect(breaths({ instrument: 'glockenspiel' })).toBe(0);
  });

  it('has targets, a ladder and a record for the weeks', () => {
    const one = student({
      tempos: [{ exercise: 'three-steps', now: 60, goal: 72 }],
      assignments: [{ exercises: ['three-steps'], weeks: [2, 3] }],
      progress: [{ exercise: 'three-steps', tempo: 66, date: '2026-03-10' }],
    });
    const text = textOf(booklet(one, { begins: '2026-03-03', weeks: 4 }));
    expect(text).toMatch(/2 Three steps B♭, E♭, F 2–3 .*66 72 66 \(3\/10\)/);
    expect(text).toMatch(/2 Three steps 66\s+69\s+72/);
    expect(text).toMatch(/Week.2 3\/10 Week.3 3\/17/);
  });

  it('is refused, without names, when a key is not in the exercise or nothing is left', () => {
    const wrong = buildBooklet(
      book,
      roster([student({ assignments: [{ exercises: ['three-steps'], keys: ['B'] }] })]),
      0,
      '2026-03-31',
      testFonts(),
    );
    expect(wrong.issues.map(({ code, path }) => [code, path])).toEqual([
      ['key-not-in-exercise', ['students', 0, 'assignments', 0, 'keys']],
    ]);
    const nothing = buildBooklet(book, roster([student({ keys: ['B'] })]), 0, '2026-03-31', testFonts());
    expect([nothing.ok, nothing.issues[0]?.code]).toEqual([false, 'booklet-empty']);
    const narrow = buildBooklet(book, roster([student({ compass: { low: 'F4', high: 'G4' } })]), 0, '2026-03-31', testFonts());
    expect(narrow.ok).toBe(false);
    expect(JSON.stringify([wrong, nothing, narrow])).not.toContain('Quillon');
  });

  it('says nothing of the student outside its pages', async () => {
    const one = student({ breath: { age: 13, height: 157 } });
    const document = booklet(one);
    const { pages, ...rest } = document;
    expect(JSON.stringify(rest)).not.toContain('Quillon');
    expect(JSON.stringify(pages.flatMap((page) => page.items.map((item) => ('tag' in item ? item.tag : ''))))).not.toContain('Quillon');
    const bytes = await pdfOf(document, { compress: false });
    const pdf = await opened(bytes);
    const about = await pdf.getMetadata();
    expect(JSON.stringify([about.info, [...((about.metadata ?? []) as Iterable<unknown>)]])).not.toMatch(/Quillon|Marsh/);
    expect(JSON.stringify(await pdf.getOutline())).not.toMatch(/Quillon|Marsh/);
    expect(bytes.toString('latin1')).not.toContain('Quillon');
    expect((await (await pdf.getPage(1)).getTextContent()).items.map((item) => ('str' in item ? item.str : '')).join('')).toContain(
      'Quillon',
    );
  });

  it('is the same, byte for byte, when it is printed again', async () => {
    expect((await pdfOf(booklet(student()))).equals(await pdfOf(booklet(student())))).toBe(true);
  });

  it('sets a name of 300 characters inside its page', () => {
    const long = booklet(student({ name: 'Wolfeschlegelsteinhausen '.repeat(12).trim().slice(0, 300) }));
    for (const page of long.pages)
      for (const item of page.items) if (item.kind === 'text') expect(item.run.x + item.run.width).toBeLessThan(long.width);
  });
});

describe('progress', () => {
  const file = JSON.stringify(
    rosterFile([student(), student({ name: 'Ida P.', tempos: [{ exercise: 'three-steps', now: 60, goal: 88 }] })]),
  );
  const entry = { student: '2', exercise: 'three-steps', tempo: 69, date: '2026-04-01' };

  it('is written into the roster and shows in the next print', () => {
    const { text, student: number } = value(withProgress(file, book, entry));
    expect(number).toBe(2);
    const now = value(readRoster(text, book));
    const ida = now.students[1] as Student;
    expect(latest(ida, 'three-steps')).toEqual({ exercise: 'three-steps', tempo: 69, date: '2026-04-01' });
    const { assigned } = assignedTo(book, now, 1);
    expect(assigned.map(({ exercise, tempo }) => [exercise.id, tempo])).toEqual([
      ['three-steps', { now: 69, goal: 88 }],
      ['last-wheel', { now: 60, goal: 88 }],
    ]);
    expect(textOf(value(buildBooklet(book, now, 1, '2026-04-02', testFonts())).document)).toContain('69 (4/1)');
  });

  it('leaves everything else as it was', () => {
    const { text } = value(withProgress(file, book, entry));
    const [before, after] = [JSON.parse(file), JSON.parse(text)];
    expect(after.students[1].progress).toEqual([{ exercise: 'three-steps', tempo: 69, date: '2026-04-01' }]);
    delete after.students[1].progress;
    expect(after).toEqual(before);
  });

  it('counts by date, not by place', () => {
    const progress = [
      { exercise: 'three-steps', tempo: 80, date: '2026-03-09' },
      { exercise: 'three-steps', tempo: 72, date: '2026-03-02' },
    ];
    const [one] = roster([student({ progress })]).students;
    expect(tempoOf(one as Student, book.chapters[0]?.exercises[1] as Parameters<typeof tempoOf>[1])).toEqual({ now: 80, goal: 88 });
  });

  it.each([
    ['nobody', { student: 'Nobody' }, 'unknown-student'],
    ['student 0', { student: '0' }, 'unknown-student'],
    ['student 3', { student: '3' }, 'unknown-student'],
    ['no exercise', { exercise: 'none' }, 'unknown-exercise'],
    ['no tempo', { tempo: Number.NaN }, 'tempo-range'],
    ['too fast', { tempo: 1000 }, 'tempo-range'],
    ['no date', { date: 'today' }, 'date'],
  ])('of %s is refused', (_, wrong, code) => {
    const result = withProgress(file, book, { ...entry, ...wrong });
    expect([result.ok, result.issues.map((issue) => issue.code)]).toEqual([false, [code]]);
  });
});

describe('the summary', () => {
  const many = (count: number) =>
    roster(Array.from({ length: count }, (_, i) => student({ name: `S${i + 1}`, assignments: [{ exercises: ['three-steps'] }] })));

  it('has a row for each student and a tempo in each cell that is assigned', () => {
    const one = student({ name: 'Ida P.', progress: [{ exercise: 'three-steps', tempo: 72, date: '2026-03-17' }] });
    const text = textOf(
      value(buildSummary(book, roster([one, student({ assignments: [{ exercises: ['long-home'] }] })]), '2026-03-31', testFonts())),
    );
    expect(text).toMatch(/Student 1 2 11/);
    expect(text).toMatch(/Ida P\., Fl\. 72–88 3\/17 60–88/);
    expect(text).toMatch(/Quillon Marsh, Fl\. 60–72/);
  });

  it('stands on one page where it fits there, and else keeps each table whole', () => {
    const pagesOf = (count: number) =>
      value(buildSummary(book, many(count), '2026-03-31', testFonts())).pages.map(({ items }) => linesIn(items).join(' '));
    const all = book.chapters.flatMap(({ exercises }) => exercises.map(({ id }) => id));
    const seven = roster(Array.from({ length: 7 }, (_, i) => student({ name: `S${i + 1}`, assignments: [{ exercises: all }] })));
    const [page, ...more] = value(buildSummary(book, seven, '2026-03-31', testFonts())).pages.map(({ items }) => linesIn(items).join(' '));
    expect(more).toEqual([]);
    expect(page).toMatch(/Student 1 2 3 4 5 6 .*Student 7 8 9 10 11 .*No\. Exercise/);
    const long = pagesOf(28);
    expect(long.map((text) => text.includes('Exercises'))).toEqual([false, true]);
  });

  it('goes on over pages', () => {
    const document = value(buildSummary(book, many(500), '2026-03-31', testFonts()));
    const text = textOf(document);
    expect(document.pages.length).toBeGreaterThan(5);
    for (const i of [1, 250, 500]) expect(text).toContain(`S${i}, Fl.`);
  });
});
