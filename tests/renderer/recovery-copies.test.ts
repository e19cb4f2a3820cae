/** Recovery copies: written while something is unsaved, with the roster beside the book, and put away when all is saved. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { newBook } from '../../core/book/template.js';
import type { RosterSource } from '../../core/people/schema.js';

const calls: [string, Record<string, unknown>][] = [];
vi.mock('../../renderer/host/service.js', () => ({
  service: {
    on: () => () => undefined,
    call: (channel: string, ask: Record<string, unknown>) => {
      calls.push([channel, ask]);
      return Promise.resolve({ ok: true, value: {}, issues: [] });
    },
  },
}));
vi.stubGlobal('document', { title: '' });

const { startRecoveryCopies } = await import('../../renderer/watchers/recovery-copies.js');
const { edit, undo } = await import('../../renderer/state/history.js');
const { setBook } = await import('../../renderer/edits/book.js');
const { change } = await import('../../renderer/state/state.js');

const source = newBook('2026-03-01');
const book = {
  document: 'document-1',
  source,
  path: '/x.twelvefold',
  name: 'x.twelvefold',
  stamp: 's',
  saved: source,
  past: [],
  future: [],
};
const rosterSource: RosterSource = { format: 'twelvefold-roster', version: 1, students: [] };
const roster = { source: rosterSource, path: '/x.roster', name: 'x.roster', stamp: 's', saved: rosterSource };
let stop: () => void = () => undefined;

const copies = () =>
  calls.filter(([channel]) => channel.startsWith('recovery')).map(([channel, ask]) => [channel, ask.companions !== undefined]);
const rest = () => vi.advanceTimersByTimeAsync(1000);

beforeEach(() => {
  vi.useFakeTimers();
  change({ book, roster, ensemble: undefined });
  stop = startRecoveryCopies();
  calls.length = 0;
});
afterEach(() => {
  stop();
  vi.useRealTimers();
});

it('a change of the roster alone is kept with the book, once, and put away when it is undone', async () => {
  edit('roster', { name: 'one' }, (it) => ({ ...it, weeks: 6 }));
  await rest();
  change({ said: 'something else' });
  await rest();
  expect(copies()).toEqual([['recovery-keep', true]]);
  undo();
  expect(copies().at(-1)).toEqual(['recovery-drop', false]);
});

it('the book saved, the roster not: the copy, which went with the saving, is written anew', async () => {
  edit('book', { name: 'one' }, (it) => setBook(it, { title: 'Other' }));
  edit('roster', { name: 'two' }, (it) => ({ ...it, weeks: 6 }));
  await rest();
  change((state) => (state.book ? { book: { ...state.book, saved: state.book.source } } : {}));
  await rest();
  expect(copies()).toEqual([
    ['recovery-keep', true],
    ['recovery-keep', true],
  ]);
  change((state) => (state.roster ? { roster: { ...state.roster, saved: state.roster.source } } : {}));
  expect(copies().at(-1)).toEqual(['recovery-drop', false]);
});

it('nothing is written for a book that is as it was opened', async () => {
  change({ said: 'a word' });
  await rest();
  expect(copies()).toEqual([]);
});
