/** The roster and the ensemble beside the book: new, opened, saved, put away. The same files that the command line reads. */
import type { Result } from '../../core/base/issue.js';
import type { CompanionSources, OpenedCompanion, Saved } from '../../electron/services/contract/answers/files.js';
import type { CompanionKind } from '../../electron/services/contract/file-kinds.js';
import type { Ask } from '../../electron/services/contract/questions.js';
import { editionObject } from '../edits/book.js';
import { newEnsemble } from '../edits/ensemble.js';
import { newRoster } from '../edits/roster.js';
import { service } from '../host/service.js';
import { forgetSteps, isCompanionEdited } from '../state/history.js';
import { focusWork } from '../state/keyboard-focus.js';
import { change, notify, now, OF_EDITION, type State, tellIssues } from '../state/state.js';
import { T } from '../texts/texts.js';
import { choosePath } from './choose-path.js';
import { type SaveHow, saveFile } from './save-file.js';

const C = T.companions;

/** What differs between a roster and an ensemble: who is asked, what a new one holds, and what of the window belongs to it. */
type Kind<K extends CompanionKind> = {
  readonly open: (path: string) => Promise<Result<OpenedCompanion<K>>>;
  readonly demo: () => Promise<Result<OpenedCompanion<K>>>;
  readonly save: (ask: Ask<`${K}-save`>) => Promise<Result<Saved>>;
  readonly fresh: (today: string, instruments: readonly string[]) => CompanionSources[K];
  readonly company: State['company'];
  readonly unfolded: Partial<State>;
};

const KINDS: { readonly [K in CompanionKind]: Kind<K> } = {
  roster: {
    open: (path) => service.call('roster-open', { path }),
    demo: () => service.call('roster-demo', {}),
    save: (ask) => service.call('roster-save', ask),
    fresh: newRoster,
    company: 'students',
    unfolded: { rosterView: undefined, student: 0 },
  },
  ensemble: {
    open: (path) => service.call('ensemble-open', { path }),
    demo: () => service.call('ensemble-demo', {}),
    save: (ask) => service.call('ensemble-save', ask),
    fresh: (_today, instruments) => newEnsemble(C.ensembleName, instruments),
    company: 'ensemble',
    unfolded: { ensembleView: undefined, chair: 0 },
  },
};

/** Shows the player's place with it: the student or the chair that is unfolded; where there is none yet, what adds the first. */
function toPeople(of: CompanionKind): void {
  change({ place: 'players', company: KINDS[of].company });
  focusWork('.edition.current > .edition-head, #add-person');
}

function take<K extends CompanionKind>(of: K, opened: OpenedCompanion<K>, saved: boolean): void {
  forgetSteps(of);
  change({ [of]: { ...opened, saved: saved ? opened.source : undefined }, ...KINDS[of].unfolded });
}

async function takeFrom<K extends CompanionKind>(of: K, asked: Promise<Result<OpenedCompanion<K>>>): Promise<boolean> {
  const opened = await asked;
  tellIssues(opened.issues);
  if (opened.ok) take(of, opened.value, true);
  return opened.ok;
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

export function startCompanion<K extends CompanionKind>(of: K): void {
  guarded(of, () => {
    const { about, book } = now();
    if (!book) return;
    const instruments = book.source.editions.map((it) => editionObject(it).instrument);
    const source = KINDS[of].fresh(about?.today ?? '2026-01-01', instruments);
    // Nothing would be lost yet.
    take(of, { source, path: undefined, name: C.untitled[of], stamp: undefined }, true);
    toPeople(of);
  });
}

export const openCompanionAt = <K extends CompanionKind>(of: K, path: string): Promise<boolean> => takeFrom(of, KINDS[of].open(path));

export function openCompanion(of: CompanionKind): void {
  guarded(of, async () => {
    const path = await choosePath('open', '', of);
    if (path === undefined || !(await openCompanionAt(of, path))) return;
    toPeople(of);
    notify('note', T.file.opened(now()[of]?.name ?? ''));
    remember();
  });
}

/** The roster or the ensemble that belongs to the demo book. */
export async function openDemoCompanion<K extends CompanionKind>(of: K): Promise<void> {
  if (await takeFrom(of, KINDS[of].demo())) toPeople(of);
}

/** Opens what was open beside this book the last time; what is gone meanwhile is told. */
export async function openBeside(book: string): Promise<void> {
  const beside = await service.call('beside-read', { book });
  if (!beside.ok) return;
  const { roster, ensemble } = beside.value;
  if (roster !== undefined) await openCompanionAt('roster', roster);
  if (ensemble !== undefined) await openCompanionAt('ensemble', ensemble);
}

/** Takes an unsaved one from a recovery copy. */
export const recoverCompanion = (of: CompanionKind, opened: OpenedCompanion): void => take(of, opened, false);

export function closeCompanion(of: CompanionKind): void {
  guarded(of, () => {
    forgetSteps(of);
    change(({ breather }) => ({
      [of]: undefined,
      ...(of === 'roster'
        ? { rosterView: undefined, breather: breather.startsWith('student') ? OF_EDITION : breather }
        : { ensembleView: undefined }),
    }));
    focusWork('.empty-panel button.main');
    remember();
  });
}

/** True when it is on the disk afterwards. */
export async function saveCompanion<K extends CompanionKind>(of: K, how: SaveHow = {}): Promise<boolean> {
  const open = now()[of];
  const saved = await saveFile(of, open?.path ? open.name : C.fileName[of], how, KINDS[of].save);
  if (saved) remember();
  return saved;
}
