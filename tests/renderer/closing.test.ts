/** Before the window closes: what is being written is stopped first, then what is unsaved is asked about. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { newBook } from '../../core/book/template.js';
import type { RosterSource } from '../../core/people/schema.js';

const calls: string[] = [];
let finish: (answer: unknown) => void = () => undefined;

vi.mock('../../renderer/host/service.js', () => ({
  service: {
    on: () => () => undefined,
    call: (channel: string) => {
      calls.push(channel);
      if (channel === 'build') {
        return new Promise((resolve) => {
          finish = resolve;
        });
      }
      return Promise.resolve({ ok: true, value: {}, issues: [] });
    },
  },
}));

const { closing } = await import('../../renderer/files/book-files.js');
const { build, cancelWork } = await import('../../renderer/commands/long-jobs.js');
const { change, now } = await import('../../renderer/state/state.js');

const source = newBook('2026-03-01');
const book = { document: 'document-1', source, path: '/x.twelvefold', name: 'x', stamp: 's', saved: source, past: [], future: [] };
const roster: RosterSource = { format: 'twelvefold-roster', version: 1, students: [] };

beforeEach(() => {
  calls.length = 0;
  change({ book, roster: undefined, ensemble: undefined, work: undefined, dialog: undefined, built: undefined, notices: [] });
});

describe('closing', () => {
  it('closes at once when nothing is unsaved', () => {
    closing();
    expect(calls).toEqual(['close-now']);
  });

  it.each([
    ['the book', { book: { ...book, source: { ...source, title: 'Other' } } }],
    ['the roster', { roster: { source: roster, path: '/x.roster', name: 'x', stamp: 's', saved: { ...roster, weeks: 3 } } }],
  ])('asks when %s is not saved', (_what, state) => {
    change(state);
    closing();
    expect(now().dialog).toMatchObject({ kind: 'guard', building: false });
    expect(calls).toEqual([]);
  });

  it('while files are written it asks, stops them, waits until they have stopped, and only then closes', async () => {
    void build({ editions: [0], kinds: ['pdf'] }, '/out');
    closing();
    const { dialog } = now();
    expect(dialog).toMatchObject({ kind: 'guard', building: true });
    calls.length = 0;
    // What the button of the guard does.
    let stopped = false;
    const stop = cancelWork().then(() => {
      stopped = true;
      if (dialog?.kind === 'guard') dialog.go();
    });
    await expect.poll(() => calls).toEqual(['cancel']);
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect([stopped, now().work?.stopping]).toEqual([false, true]);
    finish({ ok: false, issues: [{ code: 'stopped', severity: 'error', path: [], message: 'Stopped.' }] });
    await stop;
    await expect.poll(() => calls).toEqual(['cancel', 'close-now']);
    expect(now().work).toBeUndefined();
  });
});
