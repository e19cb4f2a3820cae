/** The menus as data: every entry is a command of the window, with the same names. */
import type { MenuItemConstructorOptions } from 'electron';
import { COMMANDS, type CommandId, MENUS } from '../services/contract/commands.js';

const GROUPS: readonly (readonly [keyof typeof MENUS, readonly (CommandId | '-')[]])[] = [
  ['file', ['book.new', 'book.open', 'book.demo', '-', 'book.save', 'book.saveAs', '-', 'print.build']],
  ['edit', ['edit.undo', 'edit.redo']],
  [
    'go',
    [
      'go.book',
      'go.exercise',
      'go.pages',
      'go.players',
      'go.print',
      '-',
      'pages.next',
      'pages.previous',
      '-',
      'edition.next',
      'edition.previous',
    ],
  ],
  [
    'exercise',
    [
      'exercise.add',
      'exercise.duplicate',
      'exercise.remove',
      '-',
      'exercise.up',
      'exercise.down',
      'exercise.next',
      'exercise.previous',
      '-',
      'exercise.figure',
      'exercise.library',
      'exercise.import',
      'exercise.export',
      '-',
      'breath.print',
      'chapter.add',
    ],
  ],
  [
    'players',
    [
      'go.instruments',
      'go.students',
      'go.ensemble',
      '-',
      'roster.new',
      'roster.open',
      'roster.save',
      'roster.saveAs',
      '-',
      'ensemble.new',
      'ensemble.open',
      'ensemble.save',
      'ensemble.saveAs',
    ],
  ],
  ['sound', ['sound.play', 'sound.loop', 'sound.click', '-', 'sound.slower', 'sound.faster']],
  ['look', ['look.system', 'look.light', 'look.dark', '-', 'look.bigger', 'look.smaller']],
  ['help', ['help.commands', 'help.keys', '-', 'print.proof']],
];

/** Commands that the system's own edit fields know too get their keys from the window, not from the menu. */
const ACCELERATORS: Partial<Readonly<Record<CommandId, string>>> = {
  'book.new': 'CommandOrControl+N',
  'book.open': 'CommandOrControl+O',
  'book.save': 'CommandOrControl+S',
  'book.saveAs': 'CommandOrControl+Shift+S',
  'print.build': 'CommandOrControl+P',
};

/** `run` gets the id of the command. On a Mac the first menu is the program's own. */
export function menuTemplate(run: (id: CommandId) => void, mac: boolean): MenuItemConstructorOptions[] {
  const entry = (id: CommandId | '-'): MenuItemConstructorOptions =>
    id === '-'
      ? { type: 'separator' }
      : { id, label: COMMANDS[id], click: () => run(id), ...(ACCELERATORS[id] ? { accelerator: ACCELERATORS[id] } : {}) };
  const menus = GROUPS.map(([name, ids]): MenuItemConstructorOptions => {
    const own = ids.map(entry);
    if (name === 'edit') own.push({ type: 'separator' }, { role: 'cut' }, { role: 'copy' }, { role: 'paste' }, { role: 'selectAll' });
    if (name === 'file') own.push({ type: 'separator' }, { role: mac ? 'close' : 'quit' });
    if (name === 'look') own.push({ type: 'separator' }, { role: 'togglefullscreen' });
    return { label: MENUS[name], submenu: own };
  });
  return mac ? [{ role: 'appMenu' }, ...menus, { role: 'windowMenu' }] : menus;
}
