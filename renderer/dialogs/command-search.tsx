/** Every command, looked for by its words. */
import { type KeyboardEvent, useEffect, useState } from 'react';
import { commandsWith, keysText } from '../commands/command-table.js';
import { Dialog } from '../parts/dialog.js';
import { closeDialog as close, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

export function CommandSearch() {
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
  const pressed = (event: KeyboardEvent) => {
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      event.preventDefault();
      const step = event.key === 'ArrowDown' ? 1 : found.length - 1;
      if (found.length > 0) setAt((at + step) % found.length);
    } else if (event.key === 'Enter') {
      event.preventDefault();
      run(at);
    }
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
        onKeyDown={pressed}
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
