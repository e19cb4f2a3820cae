/** Work that takes long: proofs, and files that are written. One at a time, with progress, and it can be stopped. */
import type { Result } from '../../core/base/issue.js';
import type { Built } from '../../electron/services/contract/answers/written.js';
import type { Ask } from '../../electron/services/contract/questions.js';
import { service } from '../host/service.js';
import { change, notify, now, say, tellIssues, type Work } from '../state/state.js';
import { T } from '../texts/texts.js';
import { prefer } from './preferences.js';

/** Settled when the long work that is going on has ended. */
let running: Promise<unknown> = Promise.resolve();

async function withTicket<T>(kind: Work['kind'], words: string, run: (ticket: string) => Promise<T>): Promise<T> {
  const ticket = crypto.randomUUID();
  change({ work: { ticket, kind, done: 0, total: 100, words, stopping: false } });
  try {
    const work = run(ticket);
    running = work;
    return await work;
  } finally {
    change(({ work }) => (work?.ticket === ticket ? { work: undefined } : {}));
  }
}

export async function prove(): Promise<void> {
  const { book, edition, work } = now();
  if (!book || work) return;
  change({ place: 'print' });
  const answer = await withTicket('prove', T.print.proving, (ticket) => service.call('prove', { source: book.source, edition, ticket }));
  if (!answer.ok) return tellIssues(answer.issues);
  change({ proof: { edition, source: book.source, view: answer.value } });
  say(answer.value.faults.length === 0 ? T.print.noFaults : T.print.found(answer.value.faults.length));
}

export type BuildWish = Omit<Ask<'build'>, 'source' | 'ticket' | 'folder'>;

export async function build(wish: BuildWish, folder: string): Promise<void> {
  const { book, work } = now();
  if (!book || work) return;
  prefer({ folder });
  say(T.print.started);
  change({ built: undefined });
  const answer = await withTicket('build', T.print.building, (ticket) =>
    service.call('build', { ...wish, source: book.source, folder, ticket }),
  );
  told('build', answer, folder);
}

export type ExportWish = Omit<Ask<'export'>, 'source' | 'ticket' | 'folder' | 'edition' | 'focus'>;

export async function exportExercise(wish: ExportWish, folder: string): Promise<void> {
  const { book, edition, focus, work } = now();
  if (!book || !focus || work) return;
  prefer({ folder });
  change({ built: undefined });
  const answer = await withTicket('export', T.export.writing, (ticket) =>
    service.call('export', { ...wish, source: book.source, edition, focus, folder, ticket }),
  );
  told('export', answer, folder);
}

function told(kind: 'build' | 'export', answer: Result<Built>, folder: string): void {
  if (!answer.ok) {
    // As it was wished, so it is no fault.
    if (answer.issues.some(({ code }) => code === 'stopped')) notify('note', T.print.stopped);
    else tellIssues(answer.issues);
    return;
  }
  const issues = answer.issues.filter((issue) => issue.severity !== 'note');
  change({ built: { kind, folder, result: answer.value, issues } });
  const { place, dialog } = now();
  const { files, missing } = answer.value;
  const words = T.print.done(files.length, folder, missing.length);
  // Where the results are on the screen, they need no notice beside them.
  if (kind === 'build' ? place === 'print' : dialog?.kind === 'export') say(words);
  else notify(missing.length > 0 ? 'warning' : 'note', words);
}

/** Asks the work to stop, and waits until nothing half-written is left. */
export async function cancelWork(): Promise<void> {
  const { work } = now();
  if (!work) return;
  change({ work: { ...work, stopping: true } });
  await service.call('cancel', { ticket: work.ticket });
  await running;
}
