/** Every English word of the window, by place, ready to be translated. Messages about books come from the core. */
import { BOOK } from './book.js';
import { ENSEMBLE } from './ensemble.js';
import { EXPORT, IMPORT } from './exchange.js';
import { EXERCISE } from './exercise.js';
import { PAGES } from './pages.js';
import { PLAYERS } from './players.js';
import { PRINT } from './print.js';
import { SOUND } from './sound.js';
import { STUDENTS } from './students.js';
import { WINDOW } from './window.js';

export const T = {
  ...WINDOW,
  book: BOOK,
  exercise: EXERCISE,
  export: EXPORT,
  import: IMPORT,
  pages: PAGES,
  players: PLAYERS,
  students: STUDENTS,
  ensemble: ENSEMBLE,
  print: PRINT,
  sound: SOUND,
} as const;

export { COMMAND_WORDS, COMMANDS, type CommandId, MENUS } from '../../electron/services/contract/commands.js';
export { CHANGE } from './changes.js';
