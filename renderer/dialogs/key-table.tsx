/** The keys of all commands. */
import { ALL_COMMANDS, keysText } from '../commands/command-table.js';
import { Dialog } from '../parts/dialog.js';
import { closeDialog as close, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

export function KeyTable() {
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
