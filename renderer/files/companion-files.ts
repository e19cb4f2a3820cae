/** The roster and the ensemble beside the book: new, opened, saved, put away. The same files that the command line reads. */
import type { CompanionSources, OpenedCompanion } from '../../electron/services/contract.js';
import type { CompanionKind } from '../../electron/services/file-kinds.js';
import { editionObject } from '../edits/book.js';
import { newEnsemble, newRoster } from '../edits/people.js';
import { service } from '../host/service.js';
import { forgetSteps, isCompanionEdited } from '../state/history.js';
import { focusWork } from '../state/keyboard-focus.js';
import { change, notify, now, tellIssues } from '../state/state.js';
import { T } from '../texts/texts.js';
import { choosePath } from './choose-path.js';

const C = T.companions;

/** The student or the chair that is unfolded; where there is none yet, what adds the first. */
const toPeople = (): void => focusWork('.edition.current > .edition-head, #add-person');

function hold<K extends CompanionKind>(of: K, opened: OpenedCompanion<K>, saved: boolean): void {
  forgetSteps(of);
  change({
    [of]: { ...opened, saved: saved ? opened.source : undefined },
    ...(of === 'roster' ? { rosterView: undefined, student: 0 } : { ensembleView: undefined, chair: 0 }),
  });
}

/** Which files lie beside the book is remembered for the next time that it is opened. */
function remember(): void {
  const { book, roster, ensemble } = now();
  if (book?.path === undefined) return;
  void service.call('beside-write', { book: book.path, roster: roster?.path, ensemble: ensemble?.path });
}

/** Goes on at once when this companion has nothing unsaved, else after the user chose. */
function guarded(of: CompanionKind, go: () => void): void {
  if (isCompanionEdited(now(), of)) change({ dialog: { kind: 'guard', of, go, building: false } });
  else go();
}

export function startCompanion(of: CompanionKind): void {
  guarded(of, () => {
    const { about, book } = now();
    if (!book) return;
    const instruments = book.source.editions.map((it) => editionObject(it).instrument);
    const source = of === 'roster' ? newRoster(about?.today ?? '2026-01-01') : newEnsemble(C.ensembleName, instruments);
    // Nothing would be lost yet.
    hold(of, { source: source as never, path: undefined, name: C.untitled[of], stamp: undefined }, true);
    change({ place: 'players', company: of === 'roster' ? 'students' : 'ensemble' });
    toPeople();
  });
}

export async function openCompanionAt(of: CompanionKind, path: string): Promise<boolean> {
  const opened = of === 'roster' ? await service.call('roster-open', { path }) : await service.call('ensemble-open', { path });
  tellIssues(opened.issues);
  if (opened.ok) hold(of, opened.value, true);
  return opened.ok;
}

export function openCompanion(of: CompanionKind): void {
  guarded(of, async () => {
    const path = await choosePath('open', '', of);
    if (path === undefined || !(await openCompanionAt(of, path))) return;
    change({ place: 'players', company: of === 'roster' ? 'students' : 'ensemble' });
    toPeople();
    notify('note', T.file.opened(now()[of]?.name ?? ''));
    remember();
  });
}

/** The roster or the ensemble that belongs to the demo book. */
export async function openDemoCompanion(of: CompanionKind): Promise<void> {
  const opened = of === 'roster' ? await service.call('roster-demo', {}) : await service.call('ensemble-demo', {});
  tellIssues(opened.issues);
  if (!opened.ok) return;
  hold(of, opened.value as never, true);
  toPeople();
}

/** Opens what was open beside this book the last time; what is gone meanwhile is told. */
export async function openBeside(book: string): Promise<void> {
  const beside = await service.call('beside-read', { book });
  if (!beside.ok) return;
  const { roster, ensemble } = beside.value;
  if (roster !== undefined) await openCompanionAt('roster', roster);
  if (ensemble !== undefined) await openCompanionAt('ensemble', ensemble);
}

/** Holds an unsaved one from a recovery copy. */
export const recoverCompanion = (of: CompanionKind, opened: OpenedCompanion): void => hold(of, opened as never, false);

export function closeCompanion(of: CompanionKind): void {
  guarded(of, () => {
    forgetSteps(of);
    change(({ breather }) => ({
      [of]: undefined,
      ...(of === 'roster'
        ? { rosterView: undefined, breather: breather.startsWith('student') ? 'adult' : breather }
        : { ensembleView: undefined }),
    }));
    focusWork('.empty-panel button.main');
    remember();
  });
}

/** True when it is on the disk afterwards. */
export async function saveCompanion<K extends CompanionKind>(of: K, as = false, force = false): Promise<boolean> {
  const open = now()[of];
  if (!open) return false;
  const name = open.path ? open.name : C.fileName[of];
  const path = as || open.path === undefined ? await choosePath('save', name, of) : open.path;
  if (path === undefined) return false;
  const { source } = open;
  const other = path !== open.path;
  const ask = {
    source: source as CompanionSources[K],
    path,
    stamp: other ? undefined : open.stamp,
    // The system's window has asked already whether a file may be replaced.
    force: force || (other && now().about?.host === 'electron'),
  };
  const saved = of === 'roster' ? await service.call('roster-save', ask as never) : await service.call('ensemble-save', ask as never);
  if (!saved.ok) {
    const conflict = saved.issues.find((issue) => issue.code === 'changed-on-disk');
    if (conflict) change({ dialog: { kind: 'conflict', of, words: conflict.message } });
    else tellIssues(saved.issues);
    return false;
  }
  change((state) => (state[of] ? { [of]: { ...state[of], ...saved.value, saved: source } } : {}));
  notify('note', T.file.savedAs(saved.value.name));
  remember();
  return true;
}
