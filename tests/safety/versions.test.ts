/** A literal file of every version there ever was loads without a word, and means what it meant. These files are never changed. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { VERSION } from '../../core/book/migrations.js';
import { openBook, readBook } from '../../core/book/read.js';
import { realiseBook } from '../../core/build/edition.js';
import { ENSEMBLE_FILE, readEnsemble } from '../../core/ensemble/read.js';
import { ROSTER_FILE, readRoster } from '../../core/people/read.js';
import { playerOf } from '../../core/player/compass.js';
import { keyText } from '../../core/theory/key.js';
import { pitchName } from '../../core/theory/pitch.js';

const FOLDER = 'tests/safety/versions';
const read = (name: string) => readFileSync(`${FOLDER}/${name}`, 'utf8');
const book = (version: number) => {
  const result = readBook(read(`book-${version}.twelvefold`));
  if (!result.ok) throw new Error(result.issues.map((issue) => issue.message).join('\n'));
  expect(result.issues).toEqual([]);
  return result.value;
};
const versions = (count: number, first: number) => Array.from({ length: count }, (_, i) => first + i);

it('there is a file of every version', () => {
  expect(readdirSync(FOLDER).sort()).toEqual([
    ...versions(VERSION + 1, 0).map((version) => `book-${version}.twelvefold`),
    ...versions(ENSEMBLE_FILE.version, 1).map((version) => `ensemble-${version}.ensemble`),
    ...versions(ROSTER_FILE.version, 1).map((version) => `roster-${version}.roster`),
  ]);
});

describe.each(versions(VERSION + 1, 0))('a book of version %i', (version) => {
  it('says which version it is', () => {
    expect(JSON.parse(read(`book-${version}.twelvefold`))).toMatchObject({ format: 'twelvefold', version });
  });

  it('means the same as the present one', () => {
    expect(book(version)).toEqual(book(VERSION));
    expect(openBook(read(`book-${version}.twelvefold`))).toEqual(openBook(read(`book-${VERSION}.twelvefold`)));
  });

  it('means what it says', () => {
    const { title, date, preface, editions, chapters } = book(version);
    expect([title, date, preface]).toEqual(['Every Version', '2024-05-01', 'One text of an old file.']);
    expect(editions.map(({ instrument, level }) => `${instrument} ${level}`)).toEqual(['oboe intermediate', 'tuba beginner']);
    expect(chapters.map((chapter) => [chapter.title, chapter.text, ...chapter.exercises.map(({ id }) => id)])).toEqual([
      ['First', '', 'walk', 'turn'],
      ['Second', 'Slowly.', 'triad'],
    ]);
    const exercises = chapters.flatMap((chapter) => chapter.exercises);
    expect(exercises.map(({ order, tempo, metre, passes }) => [order.name, tempo, metre, passes])).toEqual([
      ['minor-thirds', { beat: { n: 1, d: 4 }, from: 60, to: 90 }, { beats: 3, unit: 4 }, 1],
      ['fifths', undefined, { beats: 4, unit: 4 }, 1],
      ['fourths', { beat: { n: 1, d: 4 }, from: 72, to: 72 }, { beats: 4, unit: 4 }, 2],
    ]);
  });

  it('plays what it played', () => {
    const one = book(version);
    const player = playerOf(one.editions[0] as (typeof one.editions)[number]);
    const lines = player.ok ? realiseBook(one, player.value) : player;
    const line = lines.ok ? lines.value.get('triad') : undefined;
    expect(line?.statements.map((statement) => keyText(statement.writtenKey)).join(' ')).toBe(
      'C F B♭ E♭ A♭ D♭ G♭ B E A D G C F B♭ E♭ A♭ D♭ G♭ B E A D G',
    );
    expect(
      line?.events
        .slice(0, 8)
        .map((event) => (event.kind === 'note' ? pitchName(event.written) : 'r'))
        .join(' '),
    ).toBe('C4 E4 G4 C5 F4 A4 C5 F5');
  });
});

it('an ensemble of version 1 means what it meant', () => {
  const ensemble = readEnsemble(read('ensemble-1.ensemble'), book(VERSION));
  expect(ensemble.issues).toEqual([]);
  expect(ensemble.ok && ensemble.value.chairs.map(({ id, players, player }) => `${id} ${players} ${player.level}`)).toEqual([
    'oboe 1 intermediate',
    'tuba 2 intermediate',
  ]);
  expect(ensemble.ok && [ensemble.value.name, ensemble.value.bonds, ensemble.value.exercises]).toEqual([
    'Every Version',
    [{ chairs: ['oboe', 'tuba'], distance: 'octave' }],
    ['walk'],
  ]);
});

it('a roster of version 1 means what it meant', () => {
  const roster = readRoster(read('roster-1.roster'), book(VERSION));
  expect(roster.issues).toEqual([]);
  expect(roster.ok && [roster.value.title, roster.value.begins, roster.value.weeks]).toEqual(['Every Version', '2024-09-02', 4]);
  const [student] = roster.ok ? roster.value.students : [];
  expect(student?.keys?.map(keyText)).toEqual(['C', 'F', 'Am']);
  expect([...(student?.tempos ?? [])]).toEqual([['walk', { now: 60, goal: 80 }]]);
  expect(student?.assignments).toEqual([{ exercises: ['walk', 'turn'], keys: undefined, weeks: [1, 2] }]);
  expect(student?.progress).toEqual([{ exercise: 'walk', tempo: 66, date: '2024-09-09' }]);
});
