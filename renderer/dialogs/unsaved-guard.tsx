/** What asks before something could be lost: unsaved changes, files that are being written, files that others changed. */
import { useState } from 'react';
import { cancelWork } from '../commands/long-jobs.js';
import { discard, openPath, saveBook, saveUnsaved } from '../files/book-files.js';
import { openCompanionAt, saveCompanion } from '../files/companion-files.js';
import type { SaveHow } from '../files/save-file.js';
import { Dialog } from '../parts/dialog.js';
import { isBookEdited, isCompanionEdited } from '../state/history.js';
import { closeDialog as close, type DialogName, now, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

const G = T.guard;

/** Closes the dialog, then goes on. */
const after = (go: () => Promise<unknown>) => () => {
  close();
  void go();
};

function Building({ go }: { readonly go: () => void }) {
  const [stopping, setStopping] = useState(false);
  const writing = useWindow((s) => s.work !== undefined);
  const stop = async () => {
    setStopping(true);
    await cancelWork();
    close();
    go();
  };
  return (
    <Dialog title={G.building} onClose={close}>
      <p>{writing || stopping ? G.buildingWords : G.builtWords}</p>
      {stopping && <p role="status">{G.stopping}</p>}
      <div className="row end">
        <button type="button" onClick={close} disabled={stopping}>
          {writing || stopping ? G.keepWriting : T.dialog.cancel}
        </button>
        <button type="button" className="main" onClick={() => void stop()} disabled={stopping}>
          {writing || stopping ? G.stopAndClose : G.close}
        </button>
      </div>
    </Dialog>
  );
}

/** What would be lost, by name. */
function unsavedNames(): string[] {
  const state = now();
  return [
    ...(isBookEdited(state) ? [state.book?.source.title || T.file.untitled] : []),
    ...(['roster', 'ensemble'] as const).flatMap((of) => (isCompanionEdited(state, of) ? [state[of]?.name ?? ''] : [])),
  ];
}

export function Guard({ of, go, building }: Extract<DialogName, { kind: 'guard' }>) {
  if (building) return <Building go={go} />;
  const first = async () => {
    close();
    if (await (of ? saveCompanion(of) : saveUnsaved())) go();
  };
  const names = of ? [] : unsavedNames();
  const state = now();
  const only = of ?? (isBookEdited(state) ? undefined : (['roster', 'ensemble'] as const).find((it) => isCompanionEdited(state, it)));
  return (
    <Dialog title={only ? G.titleOf[only] : G.title} onClose={close}>
      <p>{of ? G.wordsOf : G.words}</p>
      {names.length > 0 && <p className="hint">{G.unsaved(names)}</p>}
      <div className="row end">
        <button type="button" onClick={close}>
          {T.dialog.cancel}
        </button>
        <button type="button" onClick={() => (of ? after(async () => go())() : discard(go))}>
          {G.discard}
        </button>
        <button type="button" className="main" onClick={() => void first()}>
          {G.save}
        </button>
      </div>
    </Dialog>
  );
}

export function Conflict({ of, words }: Extract<DialogName, { kind: 'conflict' }>) {
  const path = useWindow((s) => s[of]?.path);
  const saved = (how: SaveHow) => (of === 'book' ? saveBook(how) : saveCompanion(of, how));
  return (
    <Dialog title={T.conflict.title} onClose={close}>
      <p>{words}</p>
      <p className="hint">{T.conflict.reloadHint}</p>
      <div className="row end">
        <button type="button" onClick={after(() => saved({ force: true }))}>
          {T.conflict.over}
        </button>
        {path !== undefined && (
          <button type="button" onClick={after(() => (of === 'book' ? openPath(path) : openCompanionAt(of, path)))}>
            {T.conflict.reload}
          </button>
        )}
        <button type="button" className="main" onClick={after(() => saved({ as: true }))}>
          {T.conflict.other}
        </button>
      </div>
    </Dialog>
  );
}
