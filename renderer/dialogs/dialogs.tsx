/** Which dialog is open. */
import { useWindow } from '../state/state.js';
import { CommandSearch } from './command-search.js';
import { ExportDialog } from './export-dialog.js';
import { FigureLibrary } from './figure-library.js';
import { ImportDialog } from './import-dialog.js';
import { KeyTable } from './key-table.js';
import { PathChooser } from './path-chooser.js';
import { RecoveryDialog } from './recovery-dialog.js';
import { SettingsDialog } from './settings-dialog.js';
import { StartDialog } from './start-dialog.js';
import { Conflict, Guard } from './unsaved-guard.js';

export function Dialogs() {
  const dialog = useWindow((s) => s.dialog);
  switch (dialog?.kind) {
    case 'start':
      return <StartDialog />;
    case 'guard':
      return <Guard {...dialog} />;
    case 'conflict':
      return <Conflict {...dialog} />;
    case 'recovery':
      return <RecoveryDialog {...dialog} />;
    case 'chooser':
      return <PathChooser {...dialog} />;
    case 'search':
      return <CommandSearch />;
    case 'keys':
      return <KeyTable />;
    case 'settings':
      return <SettingsDialog />;
    case 'library':
      return <FigureLibrary />;
    case 'export':
      return <ExportDialog />;
    case 'import':
      return <ImportDialog file={dialog.file} />;
    default:
      return null;
  }
}
