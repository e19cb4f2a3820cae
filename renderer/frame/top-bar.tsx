/** At the top: which book it is and whether it is saved, whose pages are shown, and what can be done from everywhere. */
import { commandById, keysText } from '../commands/command-table.js';
import { showEdition } from '../commands/go.js';
import { editionObject } from '../edits/book.js';
import { open, save } from '../files/book-files.js';
import { isEdited, redo, undo } from '../state/history.js';
import { instrumentName } from '../state/instrument-names.js';
import { change, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

function BookName() {
  const book = useWindow((s) => s.book);
  const edited = useWindow(isEdited);
  return (
    <div className="top-book">
      <span className="top-title">{book ? book.source.title || T.file.untitled : T.app}</span>
      {book && (
        <span className="top-state" data-edited={edited}>
          {edited ? T.file.edited : book.path ? T.file.saved : book.name}
        </span>
      )}
    </div>
  );
}

function EditionChoice() {
  const editions = useWindow((s) => s.book?.source.editions) ?? [];
  const edition = useWindow((s) => s.edition);
  const lists = useWindow((s) => s.lists);
  if (!lists || editions.length === 0) return null;
  return (
    <label className="top-edition">
      <span className="unseen">{T.pages.instrument}</span>
      <select value={edition} onChange={(event) => showEdition(Number(event.target.value))}>
        {editions.map((it, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the same instrument may come twice
          <option key={i} value={i}>
            {instrumentName(lists, editionObject(it).instrument)}
          </option>
        ))}
      </select>
    </label>
  );
}

type StepProps = { readonly sign: string; readonly word: string; readonly named: string | undefined; readonly act: () => void };

/** Back or forward by one change, which is named. */
function StepButton({ sign, word, named, act }: StepProps) {
  return (
    <button type="button" className="quiet" onClick={act} disabled={!named} title={named} aria-label={named ?? word}>
      {sign} <span className="long">{word}</span>
    </button>
  );
}

function StepButtons() {
  const past = useWindow((s) => s.book?.past.at(-1)?.name);
  const future = useWindow((s) => s.book?.future.at(-1)?.name);
  return (
    <>
      <StepButton sign="↶" word={T.edit.undo} named={past && T.edit.undoNamed(past)} act={undo} />
      <StepButton sign="↷" word={T.edit.redo} named={future && T.edit.redoNamed(future)} act={redo} />
    </>
  );
}

function FileButtons() {
  const none = useWindow((s) => s.book === undefined);
  return (
    <>
      <button type="button" className="quiet" onClick={() => commandById('book.new')?.run()}>
        {T.file.new}
      </button>
      <button type="button" className="quiet" onClick={open}>
        {T.file.open}
      </button>
      <button type="button" onClick={() => void save()} disabled={none}>
        {T.file.save}
      </button>
    </>
  );
}

export function TopBar() {
  return (
    <header className="top">
      <BookName />
      <EditionChoice />
      <span className="grow" />
      <StepButtons />
      <span className="divider" />
      <FileButtons />
      <button type="button" className="quiet" onClick={() => change({ dialog: { kind: 'search' } })} title={keysText('Mod+K', false)}>
        {T.search.open}
      </button>
      <button
        type="button"
        className="quiet"
        onClick={() => change({ dialog: { kind: 'settings' } })}
        aria-label={T.settings.title}
        title={T.settings.title}
      >
        Aa
      </button>
    </header>
  );
}
