/** The dialogs: start, recovery, commands, keys, looks; and which dialog is open. */
import { useEffect, useState } from 'react';
import type { BookSource } from '../../core/book/schema.js';
import { ALL_COMMANDS, commandsWith, keysText } from '../commands/command-table.js';
import { prefer, toFigure } from '../commands/work.js';
import { recover, startBook } from '../files/book-files.js';
import { service } from '../host/service.js';
import { Dialog } from '../parts/dialog.js';
import { choices, NumberField, Select, TextField } from '../parts/fields.js';
import { change, type DialogName, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';
import { ExportDialog } from './export-dialog.js';
import { Library } from './figure-library.js';
import { ImportDialog } from './import-dialog.js';
import { Chooser } from './path-chooser.js';
import { Conflict, Guard } from './unsaved-guard.js';

const close = () => change({ dialog: undefined });

function Start() {
  const lists = useWindow((s) => s.lists);
  const today = useWindow((s) => s.about?.today) ?? '2026-01-01';
  const [title, setTitle] = useState('');
  const [author, setAuthor] = useState('');
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const [tried, setTried] = useState(false);
  if (!lists) return null;
  const families = [...new Set(lists.instruments.map((it) => it.family))];
  const make = () => {
    setTried(true);
    if (chosen.length === 0) return;
    const source: BookSource = {
      format: 'twelvefold',
      version: 1,
      title: title.trim() || T.start.titleDefault,
      ...(author.trim() ? { author: author.trim() } : {}),
      date: today,
      editions: chosen.map((instrument) => ({ instrument })),
      defaults: { rhythm: 'eighths', metre: '4/4', tempo: { from: 60, to: 100 }, misfit: 'leave-out' },
      chapters: [
        {
          id: 'chapter-1',
          title: T.start.firstChapter,
          exercises: [{ id: 'exercise-1', title: T.start.firstExercise, figure: '1 2 3 4 5 4 3 2 1' }],
        },
      ],
    };
    startBook(source);
    // The figure is what one writes first.
    toFigure(true);
  };
  return (
    <Dialog title={T.start.title} wide onClose={close}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          make();
        }}
      >
        <p className="hint">{T.start.words}</p>
        <div className="fields">
          <TextField label={T.start.bookTitle} value={title} placeholder={T.start.titleDefault} onChange={setTitle} />
          <TextField label={T.start.author} value={author} onChange={setAuthor} />
        </div>
        <fieldset className="who">
          <legend>{T.start.who}</legend>
          {families.map((family) => (
            <div key={family} className="family">
              {lists.instruments
                .filter((it) => it.family === family)
                .map((it) => (
                  <label key={it.id} className="check">
                    <input
                      type="checkbox"
                      checked={chosen.includes(it.id)}
                      onChange={(event) => setChosen(event.target.checked ? [...chosen, it.id] : chosen.filter((id) => id !== it.id))}
                    />
                    <span>{it.name}</span>
                  </label>
                ))}
            </div>
          ))}
        </fieldset>
        {tried && chosen.length === 0 && (
          <p className="fault" role="alert">
            {T.start.needInstrument}
          </p>
        )}
        <div className="row end">
          <button type="button" onClick={close}>
            {T.dialog.cancel}
          </button>
          <button type="submit" className="main">
            {T.start.make}
          </button>
        </div>
      </form>
    </Dialog>
  );
}

function Recovery({ copies }: Extract<DialogName, { kind: 'recovery' }>) {
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

function Search() {
  const mac = useWindow((s) => s.about?.mac) ?? false;
  const [words, setWords] = useState('');
  const [at, setAt] = useState(0);
  const found = commandsWith(words).filter(({ id }) => id !== 'help.commands');
  const chosen = found[at]?.id;
  useEffect(() => {
    document.getElementById(`command-${chosen}`)?.scrollIntoView({ block: 'nearest' });
  }, [chosen]);
  const run = (index: number) => {
    const command = found[index];
    if (!command) return;
    close();
    command.run();
  };
  return (
    <Dialog title={T.search.title} onClose={close}>
      <input
        type="text"
        role="combobox"
        aria-expanded="true"
        aria-controls="commands"
        aria-activedescendant={found[at] ? `command-${found[at].id}` : undefined}
        aria-label={T.search.placeholder}
        placeholder={T.search.placeholder}
        value={words}
        onChange={(event) => {
          setWords(event.target.value);
          setAt(0);
        }}
        onKeyDown={(event) => {
          if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
            event.preventDefault();
            const step = event.key === 'ArrowDown' ? 1 : found.length - 1;
            if (found.length > 0) setAt((at + step) % found.length);
          } else if (event.key === 'Enter') {
            event.preventDefault();
            run(at);
          }
        }}
      />
      {found.length === 0 && <p className="empty">{T.search.nothing}</p>}
      <div id="commands" className="commands" role="listbox" aria-label={T.search.open}>
        {found.map((command, i) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the field above runs the chosen command with Enter
          // biome-ignore lint/a11y/useFocusableInteractive: the focus stays in the field, as for every list of this kind
          <div key={command.id} id={`command-${command.id}`} role="option" aria-selected={i === at} onClick={() => run(i)}>
            <span>{command.title}</span>
            {command.keys && <kbd>{keysText(command.keys, mac)}</kbd>}
          </div>
        ))}
      </div>
    </Dialog>
  );
}

function Keys() {
  const mac = useWindow((s) => s.about?.mac) ?? false;
  return (
    <Dialog title={T.keyboard.title} onClose={close}>
      <p className="hint before-list">{T.keyboard.words}</p>
      <dl className="key-table">
        {ALL_COMMANDS.map((command) =>
          command.keys ? (
            <div key={command.id}>
              <dt>{command.title}</dt>
              <dd>
                <kbd>{keysText(command.keys, mac)}</kbd>
              </dd>
            </div>
          ) : null,
        )}
      </dl>
    </Dialog>
  );
}

function Settings() {
  const preferences = useWindow((s) => s.preferences);
  return (
    <Dialog title={T.settings.title} onClose={close}>
      <div className="fields">
        <Select
          label={T.settings.theme}
          value={preferences.theme}
          options={choices(T.settings.themes)}
          onChange={(theme) => prefer({ theme: theme as typeof preferences.theme })}
        />
        <NumberField
          label={`${T.settings.text} (%)`}
          min={80}
          max={200}
          step={10}
          value={preferences.text}
          onChange={(text) => text !== undefined && text >= 80 && text <= 200 && prefer({ text: Math.round(text) })}
        />
        <NumberField
          label={`${T.sound.notes} (%)`}
          min={0}
          max={100}
          step={10}
          value={Math.round(preferences.notes * 100)}
          onChange={(notes) => notes !== undefined && prefer({ notes: Math.min(1, Math.max(0, notes / 100)) })}
        />
        <NumberField
          label={`${T.sound.clicks} (%)`}
          min={0}
          max={100}
          step={10}
          value={Math.round(preferences.click * 100)}
          onChange={(click) => click !== undefined && prefer({ click: Math.min(1, Math.max(0, click / 100)) })}
        />
      </div>
    </Dialog>
  );
}

export function Dialogs() {
  const dialog = useWindow((s) => s.dialog);
  switch (dialog?.kind) {
    case 'start':
      return <Start />;
    case 'guard':
      return <Guard {...dialog} />;
    case 'conflict':
      return <Conflict {...dialog} />;
    case 'recovery':
      return <Recovery {...dialog} />;
    case 'chooser':
      return <Chooser {...dialog} />;
    case 'search':
      return <Search />;
    case 'keys':
      return <Keys />;
    case 'settings':
      return <Settings />;
    case 'library':
      return <Library />;
    case 'export':
      return <ExportDialog />;
    case 'import':
      return <ImportDialog file={dialog.file} />;
    default:
      return null;
  }
}
