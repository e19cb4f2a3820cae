/** Recovery copies of what was not saved the last time. */
import { useState } from 'react';
import { recover } from '../files/book-files.js';
import { service } from '../host/service.js';
import { Dialog } from '../parts/dialog.js';
import { closeDialog as close, type DialogName } from '../state/state.js';
import { T } from '../texts/texts.js';

export function RecoveryDialog({ copies }: Extract<DialogName, { kind: 'recovery' }>) {
  const [left, setLeft] = useState(copies);
  const drop = async (document: string) => {
    await service.call('recovery-drop', { document });
    const rest = left.filter((it) => it.document !== document);
    setLeft(rest);
    if (rest.length === 0) close();
  };
  return (
    <Dialog title={T.recovery.title} onClose={close}>
      <p className="before-list">{T.recovery.words}</p>
      <ul className="faults">
        {left.map((copy) => (
          <li key={copy.document}>
            <div>
              <b>{copy.name}</b>
              <p className="hint">{new Date(copy.time).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' })}</p>
              {copy.path && <p className="hint">{copy.path}</p>}
            </div>
            <button type="button" onClick={() => void drop(copy.document)} aria-label={`${T.recovery.drop}: ${copy.name}`}>
              {T.recovery.drop}
            </button>
            <button
              type="button"
              className="main"
              onClick={() => void recover(copy.document)}
              aria-label={`${T.recovery.open}: ${copy.name}`}
            >
              {T.recovery.open}
            </button>
          </li>
        ))}
      </ul>
      <div className="row end">
        <button type="button" onClick={close}>
          {T.recovery.later}
        </button>
      </div>
    </Dialog>
  );
}
