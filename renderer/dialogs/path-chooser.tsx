/** The window's own chooser of books and folders, for a host without the system's. */
import { useEffect, useState } from 'react';
import type { PlaceList, RecentBook } from '../../electron/services/contract.js';
import { service } from '../host/service.js';
import { Dialog } from '../parts/dialog.js';
import { TextField } from '../parts/fields.js';
import { change, type DialogName, tellIssues } from '../state/state.js';
import { T } from '../texts/texts.js';

const C = T.chooser;

export function Chooser({ mode, of, name: given, chosen }: Extract<DialogName, { kind: 'chooser' }>) {
  const [list, setList] = useState<PlaceList>();
  const [recent, setRecent] = useState<readonly RecentBook[]>([]);
  const [name, setName] = useState(given);
  /** The name was given before the folder was there. */
  const [waiting, setWaiting] = useState(false);
  const go = async (folder: string | undefined) => {
    const answer = await service.call('places', { folder, kind: of });
    tellIssues(answer.issues);
    if (answer.ok) setList(answer.value);
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, when the dialog opens
  useEffect(() => {
    void go(undefined);
    if (mode === 'open' && of === 'book') void service.call('book-recent', {}).then((answer) => answer.ok && setRecent(answer.value));
  }, []);
  const done = (path: string | undefined) => {
    change({ dialog: undefined });
    chosen(path);
  };
  const title = mode === 'open' ? C.openTitle[of] : mode === 'save' ? C.saveTitle[of] : C.folderTitle;
  const ending = C.endings[of];
  const join = (folder: string, file: string) => (file.startsWith('/') ? file : `${folder.replace(/\/$/, '')}/${file}`);
  const shown = list?.entries.filter((it) => it.kind === 'folder' || mode !== 'folder');
  const finish = () => {
    const file = name.trim();
    if (!list) setWaiting(true);
    else if (mode === 'folder') done(file ? join(list.folder, file) : list.folder);
    else if (file.endsWith('/')) {
      // A folder was named: the file is still to be named, in there.
      setName(given);
      void go(join(list.folder, file.replace(/\/+$/, '')));
    } else if (file) done(join(list.folder, file.endsWith(ending) ? file : `${file}${ending}`));
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: when the folder arrives
  useEffect(() => {
    if (!waiting || !list) return;
    setWaiting(false);
    finish();
  }, [list]);
  // What is opened stands in the list: the keyboard goes there, into each folder anew.
  // biome-ignore lint/correctness/useExhaustiveDependencies: when the folder arrives
  useEffect(() => {
    if (mode === 'open') document.querySelector<HTMLElement>('dialog .places button')?.focus();
  }, [list]);
  return (
    <Dialog title={title} wide onClose={() => done(undefined)}>
      {mode === 'open' && recent.length > 0 && (
        <section aria-label={T.file.recent}>
          <h3>{T.file.recent}</h3>
          <ul className="places">
            {recent.map((it) => (
              <li key={it.path}>
                <button type="button" onClick={() => done(it.path)}>
                  <span>{it.name}</span>
                  <span className="hint">{it.folder}</span>
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      <div className="row">
        <code className="path" title={C.where}>
          {list?.folder}
        </code>
        {list?.above !== undefined && (
          <button type="button" onClick={() => void go(list.above)}>
            ↑ {C.up}
          </button>
        )}
      </div>
      <ul className="places" aria-label={C.where}>
        {shown?.map((it) => (
          <li key={it.path}>
            <button
              type="button"
              onClick={() => (it.kind === 'folder' ? void go(it.path) : mode === 'open' ? done(it.path) : setName(it.name))}
            >
              <span>{it.name}</span>
              {it.kind === 'folder' && <span className="hint">{C.folder}</span>}
            </button>
          </li>
        ))}
      </ul>
      {shown?.length === 0 && <p className="empty">{mode === 'folder' ? C.emptyFolder : C.empty[of]}</p>}
      {mode === 'save' && (
        <form
          className="row end name-place"
          onSubmit={(event) => {
            event.preventDefault();
            finish();
          }}
        >
          <TextField label={C.name} value={name} onChange={setName} />
          <button type="submit" className="main">
            {C.save}
          </button>
        </form>
      )}
      {mode === 'folder' && (
        <form
          className="row end name-place"
          onSubmit={(event) => {
            event.preventDefault();
            finish();
          }}
        >
          <TextField label={C.newFolder} value={name} onChange={setName} />
          <button type="submit" className="main">
            {C.choose}
          </button>
        </form>
      )}
    </Dialog>
  );
}
