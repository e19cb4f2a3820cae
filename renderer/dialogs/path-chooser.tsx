/** The window's own chooser of books and folders, for a host without the system's. */
import { useEffect, useState } from 'react';
import type { FolderEntry, FolderList, RecentBook } from '../../electron/services/contract/answers/files.js';
import type { FileKind } from '../../electron/services/contract/file-kinds.js';
import { service } from '../host/service.js';
import { Dialog } from '../parts/dialog.js';
import { TextField } from '../parts/fields.js';
import { closeDialog, type DialogName, tellIssues } from '../state/state.js';
import { T } from '../texts/texts.js';

const C = T.chooser;

type Props = Extract<DialogName, { kind: 'chooser' }>;

type Folder = { readonly list: FolderList | undefined; readonly go: (folder: string | undefined) => Promise<void> };

function useFolder(of: FileKind): Folder {
  const [list, setList] = useState<FolderList>();
  const go = async (folder: string | undefined) => {
    const answer = await service.call('folder-list', { folder, kind: of });
    tellIssues(answer.issues);
    if (answer.ok) setList(answer.value);
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, when the dialog opens
  useEffect(() => {
    void go(undefined);
  }, []);
  return { list, go };
}

function RecentBooks({ done }: { readonly done: (path: string) => void }) {
  const [recent, setRecent] = useState<readonly RecentBook[]>([]);
  useEffect(() => {
    void service.call('book-recent', {}).then((answer) => answer.ok && setRecent(answer.value));
  }, []);
  if (recent.length === 0) return null;
  return (
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
  );
}

function Entries({ list, go, mode, of, choose }: Folder & Pick<Props, 'mode' | 'of'> & { readonly choose: (file: FolderEntry) => void }) {
  const shown = list?.entries.filter((it) => it.kind === 'folder' || mode !== 'folder');
  // What is opened stands in the list: the keyboard goes there, into each folder anew.
  // biome-ignore lint/correctness/useExhaustiveDependencies: when the folder arrives
  useEffect(() => {
    if (mode === 'open') document.querySelector<HTMLElement>('dialog .places button')?.focus();
  }, [list]);
  return (
    <>
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
            <button type="button" onClick={() => (it.kind === 'folder' ? void go(it.path) : choose(it))}>
              <span>{it.name}</span>
              {it.kind === 'folder' && <span className="hint">{C.folder}</span>}
            </button>
          </li>
        ))}
      </ul>
      {shown?.length === 0 && <p className="empty">{mode === 'folder' ? C.emptyFolder : C.empty[of]}</p>}
    </>
  );
}

type NameProps = {
  readonly mode: 'save' | 'folder';
  readonly name: string;
  readonly setName: (name: string) => void;
  readonly finish: () => void;
};

function NameForm({ mode, name, setName, finish }: NameProps) {
  return (
    <form
      className="row end name-place"
      onSubmit={(event) => {
        event.preventDefault();
        finish();
      }}
    >
      <TextField label={mode === 'save' ? C.name : C.newFolder} value={name} onChange={setName} />
      <button type="submit" className="main">
        {mode === 'save' ? C.save : C.choose}
      </button>
    </form>
  );
}

const join = (folder: string, file: string) => (file.startsWith('/') ? file : `${folder.replace(/\/$/, '')}/${file}`);

export function PathChooser({ mode, of, name: given, chosen }: Props) {
  const { list, go } = useFolder(of);
  const [name, setName] = useState(given);
  /** The name was given before the folder was there. */
  const [waiting, setWaiting] = useState(false);
  const done = (path: string | undefined) => {
    closeDialog();
    chosen(path);
  };
  const finish = () => {
    const file = name.trim();
    const ending = C.endings[of];
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
  const title = mode === 'open' ? C.openTitle[of] : mode === 'save' ? C.saveTitle[of] : C.folderTitle;
  const choose = (file: FolderEntry) => (mode === 'open' ? done(file.path) : setName(file.name));
  return (
    <Dialog title={title} wide onClose={() => done(undefined)}>
      {mode === 'open' && of === 'book' && <RecentBooks done={done} />}
      <Entries list={list} go={go} mode={mode} of={of} choose={choose} />
      {mode !== 'open' && <NameForm mode={mode} name={name} setName={setName} finish={finish} />}
    </Dialog>
  );
}
