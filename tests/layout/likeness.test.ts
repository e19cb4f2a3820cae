/** Pages as they were: an edition with all its matter, a booklet, a summary and a score, item by item. */
import { expect, it } from 'vitest';
import { buildBooklet, buildSummary } from '../../core/build/booklets.js';
import { readRoster } from '../../core/people/read.js';
import { bookNamed, build } from '../build/editions.js';
import { testFonts } from '../fonts.js';
import { documentText } from '../likeness.js';
import { rosterFile, student, book as wheels } from '../people/class.js';
import { value } from '../player/fixture.js';

it.each(['viola', 'horn-in-f'])('an edition for %s', async (instrument) => {
  const book = bookNamed('small');
  const more = { ...book, extras: { ...book.extras, contentsGrid: true }, house: { ...book.house, bleed: 3, cropMarks: true } };
  const { document } = build(instrument === 'viola' ? more : book, instrument);
  // Of the second edition what differs from one instrument to the next: the music, and the charts.
  const pages = instrument === 'viola' ? document.pages : document.pages.filter(({ kind }) => kind === 'music' || kind === 'title');
  await expect(documentText(document, pages)).toMatchFileSnapshot(`likeness/${instrument}.txt`);
});

it('booklets and the summary of a roster', async () => {
  const students = [
    student({
      title: 'x',
      progress: [{ exercise: 'three-steps', tempo: 66, date: '2026-03-08' }],
      tempos: [{ exercise: 'last-wheel', now: 60, goal: 80 }],
    }),
    student({
      name: 'B. B.',
      instrument: 'trombone',
      keys: ['Bb', 'F'],
      breath: { longTone: 11 },
      page: 'a4',
      assignments: [
        { exercises: ['long-home', 'five-up'], weeks: [1, 3, 4] },
        { exercises: ['triad-first'], keys: ['Eb'] },
      ],
    }),
  ].map(({ title: _, ...one }) => one);
  const roster = value(
    readRoster(JSON.stringify(rosterFile(students, { title: 'Tuesday class', begins: '2026-03-02', weeks: 6 })), wheels),
  );
  const documents = [
    ...students.map((_, i) => value(buildBooklet(wheels, roster, i, '2026-03-31', testFonts())).document),
    value(buildSummary(wheels, roster, '2026-03-31', testFonts())),
  ];
  await expect(documents.map((document) => documentText(document)).join('\n')).toMatchFileSnapshot('likeness/roster.txt');
});
