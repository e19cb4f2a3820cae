/** Booklets are proved as editions are, but for their numbers, which are the book's, and the keys that a student has not learnt. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildBooklet } from '../../core/build/booklets.js';
import { readRoster } from '../../core/people/read.js';
import type { Roster } from '../../core/people/roster.js';
import { proveEdition } from '../../core/proof/proof.js';
import type { ProvedEdition } from '../../core/proof/proved-edition.js';
import { demoBook } from '../ensemble/band.js';
import { testFonts } from '../fonts.js';
import { rosterFile, student } from '../people/class.js';
import { value } from '../player/fixture.js';

const fonts = testFonts();
const book = demoBook('small-wheels');
const read = (roster: object | string): Roster => value(readRoster(typeof roster === 'string' ? roster : JSON.stringify(roster), book));
const made = (roster: Roster, index = 0): ProvedEdition => value(buildBooklet(book, roster, index, '2026-03-01', fonts));
const faults = (booklet: ProvedEdition) => proveEdition(booklet, book, fonts).faults.map(({ rule, what }) => `${rule} ${what}`);

const demo = read(readFileSync('assets/books/harrow-lane.roster', 'utf8'));
const some = made(read(rosterFile([student({ keys: ['Bb', 'F'] })])));

describe('a booklet', () => {
  it.each(demo.students.map(({ player }, i) => [i, player.instrument.id] as const))('%i of the demo class, %s, has no fault', (i) => {
    const proof = proveEdition(made(demo, i), book, fonts);
    expect(proof.faults).toEqual([]);
    expect([1, 6, 20, 23, 25].every((rule) => (proof.checked[rule] ?? 0) > 0)).toBe(true);
  });

  it('with some of the keys has no fault', () => {
    expect([...(some.unwanted?.values() ?? [])].every((count) => count > 0)).toBe(true);
    expect(faults(some)).toEqual([]);
  });

  it('that lacks keys which the student knows is wrong', () => {
    expect(faults({ ...some, unwanted: new Map() }).some((words) => /^23 Pass 1 has \d+ keys and should have \d+\.$/.test(words))).toBe(
      true,
    );
  });

  it('with numbers of its own is wrong', () => {
    const { part: _, ...own } = some;
    expect(faults(own).some((words) => words.startsWith('23 The exercise is numbered'))).toBe(true);
  });

  it('for another instrument than it says is wrong', () => {
    expect(faults({ ...some, part: 'Tuba' }).some((words) => words.startsWith('23 The page does not name the instrument'))).toBe(true);
  });

  it('without its marks runs out of air', () => {
    const breathing = some.breathing && {
      ...some.breathing,
      exercises: new Map(
        [...some.breathing.exercises].map(([id, { marks, ladder }]) => {
          const rungs = ladder?.rungs.map((rung) => ({ ...rung, plan: { ...rung.plan, breaths: [] } })) ?? [];
          return [id, { marks, ...(ladder && { ladder: { ...ladder, rungs } as typeof ladder }) }];
        }),
      ),
    };
    expect(faults({ ...some, breathing }).some((words) => words.startsWith('24 '))).toBe(true);
  });
});
